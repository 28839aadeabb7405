"""The marking as plain data that other programs may build on.

In: a division, a circumference.  Out: a dict of numbers, words and lists, ready for JSON.
Keys are never renamed; lengths are in mm, ``xyz`` is a unit vector (N is +z, line 1 leaves toward +x),
``fraction`` is a share of the way round the ball.
"""

import math
from typing import Any

from polestitch.ball.ball import Ball
from polestitch.ball.measured import Roundness
from polestitch.marking.advice import advice, advice_said
from polestitch.marking.divisions import marked
from polestitch.marking.evenness import evenness, evenness_said, faces_said
from polestitch.marking.marking import Marking
from polestitch.marking.pins import Distance, pin_plan
from polestitch.marking.route import END_MM, Route, thread_route, traditional_route
from polestitch.sphere.lines import NEAR


def marking_json(
    division: str, around_mm: float, measured: Roundness | None = None, end_mm: float = END_MM
) -> dict[str, Any]:
    """Points, pins and thread route of ``division`` on a ball ``around_mm`` round.

    ``circles`` counts whole great circles, ``half_circles`` the lines of an odd division, which make none.
    """
    marking, ball = marked(division), Ball(around_mm)
    whole, half = line_counts(marking)
    return {
        "division": marking.division,
        "around_mm": around_mm,
        "points": [{"name": p.name, "ways": p.ways, "xyz": p.at.tolist()} for p in marking.points],
        "circles": whole,
        "half_circles": half,
        "triangles": marking.triangles,
        **_faces(marking, ball),
        "pins": _pins(marking, ball, measured),
        "route": _route(marking, ball, end_mm),
    }


def _faces(marking: Marking, ball: Ball) -> dict[str, Any]:
    """Every face with its sides in mm; nothing for a division without a net."""
    if marking.net is None:
        return {}
    faces = [
        {"name": f.name, "sides": f.sides, "shortest_mm": round(f.shortest_mm, 4), "longest_mm": round(f.longest_mm, 4)}
        for f in evenness(marking, ball)
    ]
    return {"faces": faces, "faces_said": faces_said(marking.net), "evenness_said": evenness_said(marking, ball)}


def line_counts(marking: Marking) -> tuple[int, int]:
    """Whole great circles and half circles of the division; sides, legs and support lines left out."""
    sweeps = [line.sweep for line in marking.guidelines if not line.support]
    whole = sum(sweep > 1.5 * math.pi for sweep in sweeps)
    half = sum(math.pi - NEAR < sweep < 1.5 * math.pi for sweep in sweeps)
    return whole, half


def _pins(marking: Marking, ball: Ball, measured: Roundness | None) -> list[dict[str, Any]]:
    return [
        {"point": pin.point, "from": [_from(d) for d in pin.measured], "check": [_check(d) for d in pin.check]}
        for pin in pin_plan(marking, ball, measured)
    ]


def _from(distance: Distance) -> dict[str, Any]:
    rule = {} if distance.rule_mm is None else {"rule_mm": round(distance.rule_mm, 4)}
    return {**_check(distance), "fraction": round(distance.fraction, 10), **rule}


def _check(distance: Distance) -> dict[str, Any]:
    return {"point": distance.point, "mm": round(distance.mm, 4)}


def _route(marking: Marking, ball: Ball, end_mm: float) -> dict[str, Any]:
    route, traditional = thread_route(marking, ball, end_mm), traditional_route(marking, ball, end_mm)
    return {**_threads(route), "tack": list(route.tacks), "traditional": _threads(traditional)}


def _threads(route: Route) -> dict[str, Any]:
    lengths = {"mm": round(route.mm, 2), "laid_mm": round(route.laid_mm, 2)}
    return {"pieces": len(route.pieces), **lengths, "turns": route.turns}


def advice_json(division: str, sigma_mm: float) -> dict[str, Any]:
    """Every order of marking ``division``, the steadiest first, where one measure is ``sigma_mm`` off (one sigma)."""
    ranked = advice(marked(division), sigma_mm)
    orders = [
        {
            "order": one.order,
            "is": one.how,
            "laying": one.laying,
            "measures": one.measures,
            "last": one.last,
            "last_mm": round(one.last_mm, 4),
            "worst": one.worst,
            "worst_mm": round(one.worst_mm, 4),
            "crossings_mm": None if one.crossings_mm is None else round(one.crossings_mm, 4),
        }
        for one in ranked
    ]
    said = advice_said(ranked, sigma_mm)
    return {"division": marked(division).division, "off_by_mm": sigma_mm, "said": said, "orders": orders}
