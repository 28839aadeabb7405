"""A built ball with everything the products make of it but its words and pictures.

In: a ``Build``.  Out: ``WorkUp``: pins, the marking thread's way, amounts and findings.
"""

from dataclasses import dataclass

from polestitch.checks import Finding, findings
from polestitch.estimate import Estimate, MarkingThread, estimate
from polestitch.estimate.handling import handling
from polestitch.marking.pins import Pin, pin_plan
from polestitch.marking.route import Route, thread_route
from polestitch.pipeline import Build


@dataclass(frozen=True, eq=False)
class WorkUp:
    """What a maker wants to know before the first stitch."""

    build: Build
    pins: tuple[Pin, ...]
    route: Route
    estimate: Estimate
    findings: tuple[Finding, ...]


def workup(build: Build) -> WorkUp:
    """Everything worked out once, the marking's ends as long as the maker's own."""
    pins = pin_plan(build.marking, build.ball, build.roundness)
    route = thread_route(build.marking, build.ball, handling(build.design.maker).ends)
    marking = MarkingThread(route.mm, len(route.pieces) + len(route.support), len(pins), len(route.tacks))
    amounts = estimate(build.design, build.ball, build.motifs, build.laid, marking)
    return WorkUp(build, pins, route, amounts, findings(build, amounts.needed_mm))
