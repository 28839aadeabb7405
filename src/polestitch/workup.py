"""A built ball with everything the products make of it but its words and pictures.

In: a ``Build``.  Out: ``WorkUp``: pins, the marking thread's way, amounts and findings.
"""

from dataclasses import dataclass, replace
from functools import cached_property

from polestitch.checks import Finding, by_gravity, findings
from polestitch.doubt import Doubt, doubt, tight_threads
from polestitch.estimate import Estimate, MarkingThread, estimate
from polestitch.estimate.handling import handling
from polestitch.marking.pins import Pin, pin_plan
from polestitch.marking.route import Route, thread_route, traditional_route
from polestitch.pipeline import Build, Worked


@dataclass(frozen=True, eq=False)
class WorkUp:
    """What a maker wants to know before the first stitch."""

    build: Build
    pins: tuple[Pin, ...]
    route: Route  # in as few pieces as can be
    way: Route  # as the steps tell it and the thread is counted: circle by circle on a combination division
    estimate: Estimate
    findings: tuple[Finding, ...]
    sure: Doubt | None = None  # where a finding needed it already

    @cached_property
    def doubt(self) -> Doubt:
        """How sure its rows and its thread are; worked out when first asked for."""
        if self.sure is not None:
            return self.sure
        made = Worked(self.build.ball, self.build.marking, self.build.motifs)
        return doubt(self.build.design, made, self.estimate)


def workup(build: Build) -> WorkUp:
    """Everything worked out once, the marking's ends as long as the maker's own."""
    pins = pin_plan(build.marking, build.ball, build.roundness)
    ends = handling(build.design.maker).ends
    route = thread_route(build.marking, build.ball, ends)
    way = route if build.marking.division.startswith("S") else traditional_route(build.marking, build.ball, ends)
    marking = MarkingThread(way.mm, len(way.pieces) + len(way.support), len(pins), len(way.tacks))
    amounts = estimate(build.design, build.ball, build.motifs, build.laid, marking)
    found = WorkUp(build, pins, route, way, amounts, findings(build, amounts.needed_mm))
    return _with_tight_threads(found) if any(thread.have is not None for thread in build.design.threads) else found


def _with_tight_threads(found: WorkUp) -> WorkUp:
    """With findings on threads she owns enough of for what is drawn, and not for every hand."""
    tight = tight_threads(found.build.design, found.doubt, found.estimate)
    return replace(found, findings=by_gravity([*found.findings, *tight]), sure=found.doubt)
