"""All a booklet tells: the build and what the products make of it.

In: a ``Build``.  Out: ``Told``.
"""

from dataclasses import dataclass

from polestitch.checks import Finding, findings
from polestitch.estimate import Estimate, MarkingThread, estimate
from polestitch.marking.pins import Pin, pin_plan
from polestitch.marking.route import Route, thread_route
from polestitch.pipeline import Build
from polestitch.steps import Instructions, instructions


@dataclass(frozen=True, eq=False)
class Told:
    """What goes into one booklet; ``picture`` is the cover's PNG or JPEG, if there is one."""

    build: Build
    estimate: Estimate
    findings: tuple[Finding, ...]
    instructions: Instructions
    pins: tuple[Pin, ...]
    route: Route
    picture: bytes | None = None


def told(build: Build, picture: bytes | None = None) -> Told:
    """Everything worked out for ``build``."""
    pins, route = pin_plan(build.marking, build.ball, build.roundness), thread_route(build.marking, build.ball)
    marking = MarkingThread(route.mm, len(route.pieces) + len(route.support), len(pins), len(route.tacks))
    amounts = estimate(build.design, build.ball, build.motifs, build.laid, marking)
    found = findings(build, amounts.needed_mm)
    return Told(build, amounts, found, instructions(build, pins, route), pins, route, picture)
