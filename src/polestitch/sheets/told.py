"""All a booklet tells: the build and what the products make of it.

In: a ``Build``.  Out: ``Told``.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from polestitch.checks import Finding
from polestitch.doubt import Doubt
from polestitch.estimate import Estimate
from polestitch.marking.pins import Pin
from polestitch.marking.route import Route
from polestitch.pipeline import Build
from polestitch.steps import Instructions, instructions
from polestitch.workup import workup


@dataclass(frozen=True, eq=False)
class Told:
    """What goes into one booklet.

    ``picture`` is the cover's PNG or JPEG, if there is one; ``sizes`` what changes with the size of the ball, as
    ``polestitch sizes --json`` tells it, ``doubt`` how sure counts and amounts are, if they were worked out.
    """

    build: Build
    estimate: Estimate
    findings: tuple[Finding, ...]
    instructions: Instructions
    pins: tuple[Pin, ...]
    route: Route
    picture: bytes | None = None
    sizes: Mapping[str, Any] | None = None
    doubt: Doubt | None = None


def told(build: Build, picture: bytes | None = None, sizes: Mapping[str, Any] | None = None) -> Told:
    """Everything worked out for ``build``."""
    worked = workup(build)
    text = instructions(build, worked.pins, worked.way)
    return Told(build, worked.estimate, worked.findings, text, worked.pins, worked.way, picture, sizes, worked.doubt)
