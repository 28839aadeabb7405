"""The whole booklet's instructions: base, marking, layers, finish; row tables; cautions.

In: a build, its pin plan and the marking thread's route.  Out: ``Instructions``.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from polestitch.laying.built import Stitched
from polestitch.marking.pins import Pin
from polestitch.marking.route import Route
from polestitch.steps.ball import CAUTIONS, base_lines, finish_lines, marking_lines
from polestitch.steps.layer import layer_lines
from polestitch.steps.step import Section, Step, numbered
from polestitch.steps.table import RowTable, row_tables


@dataclass(frozen=True)
class Instructions:
    """Steps in the order of work, the tables that go with the layers, and what to take care of."""

    steps: tuple[Step, ...]
    tables: tuple[RowTable, ...]
    cautions: tuple[str, ...]

    def of(self, section: Section, layer: int | None = None) -> tuple[Step, ...]:
        """The steps of one section, or of one layer."""
        return tuple(step for step in self.steps if step.section == section and step.layer == layer)

    def tables_of(self, layer: int) -> tuple[RowTable, ...]:
        """The row tables of one layer."""
        return tuple(table for table in self.tables if table.layer == layer)


def instructions(made: Stitched, pins: Sequence[Pin], route: Route) -> Instructions:
    """Every step from the core to the finished ball, for this maker's hand and units."""
    layers = [numbered("layer", layer_lines(made, k), k) for k in range(len(made.design.layers))]
    steps = (
        *numbered("base", base_lines(made)),
        *numbered("marking", marking_lines(made, pins, route)),
        *(step for layer in layers for step in layer),
        *numbered("finish", finish_lines(made)),
    )
    return Instructions(steps, row_tables(made), CAUTIONS)
