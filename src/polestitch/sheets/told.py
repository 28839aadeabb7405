"""All a booklet tells: the build and what the products made of it.

In: a ``Build``.  Out: ``Told``.
"""

from dataclasses import dataclass

from polestitch.checks.finding import Finding
from polestitch.estimate import Estimate
from polestitch.marking.pins import Pin
from polestitch.marking.route import Route
from polestitch.pipeline import Build
from polestitch.steps.step import Step
from polestitch.steps.table import RowTable


@dataclass(frozen=True, eq=False)
class Told:
    """What goes into one booklet; ``picture`` is the cover's PNG or JPEG, if there is one."""

    build: Build
    estimate: Estimate
    findings: tuple[Finding, ...]
    steps: tuple[Step, ...]
    tables: tuple[RowTable, ...]
    cautions: tuple[str, ...]
    pins: tuple[Pin, ...]
    route: Route
    picture: bytes | None = None

    def steps_of(self, section: str, layer: int | None = None) -> tuple[Step, ...]:
        """The steps of one section, of one layer where one is given."""
        return tuple(s for s in self.steps if s.section == section and (layer is None or s.layer == layer))
