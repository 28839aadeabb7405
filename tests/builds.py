"""Small balls built from documents, for tests of what is said about a ball.

In: layers as a maker writes them.  Out: designs, builds and their estimates.
"""

from typing import Any

from polestitch.document.design import Design
from polestitch.estimate import Base, Besides, Estimate, MarkingThread, estimate, rows_worked
from polestitch.laying.weave import passes
from polestitch.marking.pins import pin_plan
from polestitch.marking.route import thread_route
from polestitch.pipeline import Build, build
from polestitch.winding.plan import DIP_MM
from polestitch.workup import base_for

THREADS = [
    {"name": "navy", "colour": "#1d2b5a", "rows_per_cm": 14},
    {"name": "white", "colour": "#f4f1ea", "rows_per_cm": 14},
]
KIKU = {"technique": "uwagake", "where": "N", "rows": "3 navy", "params": {"outer": "1/2 from obi", "inner": "8 mm"}}
SQUARE = {"technique": "polygon", "where": "N", "rows": "4 navy", "params": {"corners": 4, "at": "15 mm"}}
BAND = {"technique": "band", "where": "obi", "rows": "3 navy, 1 white"}
NO_MARKING = MarkingThread(0.0, 0, 0, 0)


def document(*layers: dict[str, Any], division: str = "S8+obi", **rest: Any) -> dict[str, Any]:
    """A document with these layers; ``rest`` replaces its other parts."""
    named = [{"name": f"layer {n}", **layer} for n, layer in enumerate(layers, 1)]
    plain = {
        "name": "a test ball",
        "ball": {"around": "250 mm", "colour": "#8a8f98"},
        "maker": {"stretch": "2 mm", "bite": "1.5 mm", "working_length": "1 m", "dip": "1 mm", "ends": "40 mm"},
        "threads": THREADS,
        "marking": {"division": division},
        "layers": named,
    }
    return {**plain, **rest}


def built(*layers: dict[str, Any], division: str = "S8+obi", **rest: Any) -> Build:
    """Those layers on a ball."""
    return build(Design.model_validate(document(*layers, division=division, **rest)))


def estimated(made: Build, marking: MarkingThread = NO_MARKING) -> Estimate:
    """Thread and hours of a build, its marking left out unless given."""
    return estimate(made.design, made.ball, made.motifs, made.laid, besides(made, marking))


def besides(made: Build, marking: MarkingThread = NO_MARKING, base: Base | None = None) -> Besides:
    """The work that is not thread, with the base that the winding room plans."""
    rows = rows_worked(made.ball, made.motifs, made.laid, passes(made.laid, made.crossings, made.over))
    return Besides(base or base_for(made.ball.around_mm, DIP_MM), marking, rows)


def marking_of(made: Build) -> MarkingThread:
    """The marking as a piece of work, as the pipeline plans it."""
    route = thread_route(made.marking, made.ball)
    return MarkingThread(route.mm, len(route.pieces), len(pin_plan(made.marking, made.ball)), len(route.tacks))
