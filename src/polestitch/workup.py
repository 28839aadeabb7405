"""A built ball with everything the products make of it but its words and pictures.

In: a ``Build``.  Out: ``WorkUp``: pins, the marking thread's way, amounts and findings.
Winding and estimate meet here: what the plan of winding winds is work for the estimate.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from polestitch.checks import Finding, by_gravity, findings
from polestitch.doubt import Doubt, doubt, tight_threads
from polestitch.errors import DesignError
from polestitch.estimate import Base, Besides, Estimate, MarkingThread, estimate, rows_worked
from polestitch.estimate.handling import handling
from polestitch.estimate.runs import Floats
from polestitch.laying.weave import passes
from polestitch.marking.pins import Pin, pin_plan
from polestitch.marking.route import Route, thread_route, traditional_route
from polestitch.pipeline import Build, Worked
from polestitch.winding import WRAPS, Plan, winding
from polestitch.winding.plan import ball_cm3


@dataclass(frozen=True, eq=False)
class WorkUp:
    """What a maker wants to know before the first stitch."""

    build: Build
    pins: tuple[Pin, ...]
    route: Route  # in as few pieces as can be
    way: Route  # as the steps tell it and the thread is counted: circle by circle on a combination division
    estimate: Estimate
    findings: tuple[Finding, ...]
    rows: Mapping[str, Floats]  # amounts of work in each laid row, by kind
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
    rows = rows_worked(build.ball, build.motifs, build.laid, passes(build.laid, build.crossings, build.over))
    besides = Besides(base_for(build.ball.around_mm, handling(build.design.maker).dip), marking, rows)
    amounts = estimate(build.design, build.ball, build.motifs, build.laid, besides)
    found = WorkUp(build, pins, route, way, amounts, findings(build, amounts.needed_mm), rows)
    return _with_tight_threads(found) if any(thread.have is not None for thread in build.design.threads) else found


def _with_tight_threads(found: WorkUp) -> WorkUp:
    """With findings on threads she owns enough of for what is drawn, and not for every hand."""
    tight = tight_threads(found.build.design, found.doubt, found.estimate)
    return replace(found, findings=by_gravity([*found.findings, *tight]), sure=found.doubt)


def base_for(around_mm: float, dip_mm: float) -> Base:
    """What the usual base winds; a ball too small for a core and wraps is thread all through."""
    try:
        return base_of(winding(around_mm, dip_mm=dip_mm))
    except DesignError:
        thread = WRAPS["sewing thread"]
        return Base(0.0, ball_cm3(around_mm) * thread.density.likely * 1000 / (thread.tex or math.inf))


def base_of(plan: Plan) -> Base:
    """Metres a plan of winding winds: of sewing thread, and of everything thicker."""
    metres = {stop.material.name: stop.metres.likely for stop in plan.stops if stop.metres is not None}
    thread = metres.pop("sewing thread", 0.0)
    return Base(sum(metres.values()), thread)
