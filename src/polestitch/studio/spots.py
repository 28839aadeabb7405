"""What a touched place is called, and which of two threads lies on top there.  Runs in a worker.

In: a document's text and a place on the ball.  Out: plain data: addresses a path can visit, crossings to click.
"""

import math
from typing import Any

import numpy as np

from polestitch.document.jsontext import json_object
from polestitch.document.said import set_length
from polestitch.errors import DesignError
from polestitch.laying.chosen import Strands, met
from polestitch.laying.weave import NONE
from polestitch.marking.address import address
from polestitch.marking.marking import Point, Spoke
from polestitch.marking.spots import with_spot
from polestitch.pipeline import Build
from polestitch.sphere.arcs import Points, arc_angle, cross, dot, unit
from polestitch.stitching.turns import turns
from polestitch.studio.shown import shown

Raw = dict[str, Any]
CATCH = 0.07  # radians within which a touch means the point: about a finger's tip
CATCH_SHARE = 0.35  # of the way to the next point, where points stand close
CLOSE_MM = 1.2  # a fraction is meant if it is this near
FRACTIONS = ("1/2", "1/3", "2/3", "1/4", "3/4", "1/5", "2/5", "3/5", "4/5", "1/6", "5/6", "1/8", "3/8", "5/8", "7/8")
LEAVERS = 8  # points whose lines are looked at for a touch between them
REACH = 0.09  # radians within which a touch means a crossing
MOST_UNSETTLED = 200
ATS = ("this crossing", "every like place", "whole group")


def spots_answer(text: str, near: tuple[float, float, float] | None, named: tuple[str, ...]) -> Raw:
    """The spot that a touch means, and where each of ``named`` lies (``None`` for what is not there)."""
    build = shown(text).build
    if build is None:
        return {"near": None, "named": [None for _ in named]}
    found = None if near is None else _near(build, unit(np.array(near)))
    return {"near": found, "named": [_spot(build, words) for words in named]}


def where_answer(text: str, layer: int, point: str) -> str | tuple[str, ...]:
    """Layer ``layer``'s words for where, with ``point`` more or less; ``DesignError`` where they can't be read."""
    build, layers = shown(text).build, json_object(text, "design").get("layers") or []
    if build is None or layer >= len(layers):
        raise DesignError(f"layers[{layer}].where", "cannot be read as long as the ball has no such layer")
    words = layers[layer].get("where", "")
    return with_spot(build.marking, words if isinstance(words, str) else tuple(words), point, build.ball)


def _spot(build: Build, words: str) -> Raw | None:
    try:
        at = address(build.marking, words, build.ball).at
    except DesignError:
        return None
    return {"address": words, "xyz": _rounded(at), "words": words}


def _near(build: Build, at: Points) -> Raw | None:
    marking = build.marking
    gaps = arc_angle(marking.xyz, at)
    order = np.argsort(gaps)
    first = marking.points[int(order[0])]
    apart = float(np.sort(arc_angle(marking.xyz, first.at))[1])
    if gaps[order[0]] < min(CATCH, CATCH_SHARE * apart):
        return {"address": first.name, "xyz": _rounded(first.at), "words": first.name}
    feet = [
        foot
        for k in order[:LEAVERS].tolist()
        for spoke in marking.spokes[marking.points[k].name]
        if (foot := _foot(marking.points[k], spoke, at)) is not None
    ]
    if not feet:
        return _spot(build, first.name)
    _, point, spoke, along = min(feet, key=lambda foot: round(foot[0], 6))
    return _on_line(build, point, spoke, along)


def _foot(point: Point, spoke: Spoke, at: Points) -> tuple[float, Point, Spoke, float] | None:
    """How far a touch lies beside a line, and how far along it; ``None`` where it lies past its ends."""
    pole = cross(point.at, spoke.direction)
    along = math.atan2(float(dot(at, spoke.direction)), float(dot(at, point.at)))
    if not 0 < along < spoke.reach:
        return None
    return abs(float(np.arcsin(np.clip(dot(at, pole), -1, 1)))), point, spoke, along


def _on_line(build: Build, point: Point, spoke: Spoke, along: float) -> Raw | None:
    ball, units = build.ball, build.design.maker.units
    mm, whole = ball.mm(along), ball.mm(spoke.reach)
    near = min(FRACTIONS, key=lambda part: abs(_value(part) * whole - mm))
    simple = f"line {spoke.number}" if point.name == "N" else spoke.name
    told = near if abs(_value(near) * whole - mm) < CLOSE_MM else f"{max(0.5, round(mm * 2) / 2):g} mm"
    found = _spot(build, f"{simple}, {told}")
    return None if found is None else {**found, "words": f"{set_length(mm, units)} from {point.name} on {simple}"}


def _value(part: str) -> float:
    over, _, under = part.partition("/")
    return int(over) / int(under)


def _rounded(at: Points) -> list[float]:
    return [value + 0.0 for value in np.round(at, 6).tolist()]


def crossing_answer(text: str, near: tuple[float, float, float] | None) -> Raw:
    """The crossing that a touch means, with what to write to turn it over; and where rules leave it open."""
    found = shown(text)
    build = found.build
    if build is None or not len(build.crossings):
        return {"crossing": None, "unsettled": []}
    told = None
    if near is not None:
        gaps = arc_angle(build.crossings.point, unit(np.array(near)))
        if gaps.min() < REACH:
            told = _crossing(build, found.layers, int(gaps.argmin()))
    return {"crossing": told, "unsettled": _unsettled(build)}


def _unsettled(build: Build) -> list[Raw]:
    """Crossings a rule could not decide, or two rules decide differently, but for those settled by hand."""
    relation = build.relation
    doubtful = relation.open | (relation.against != NONE)
    for one in build.by_hand:
        doubtful[one.crossing] = False
    return [
        {"xyz": _rounded(build.crossings.point[k]), "why": "contradicts" if relation.against[k] != NONE else "open"}
        for k in np.flatnonzero(doubtful)[:MOST_UNSETTLED].tolist()
    ]


def _crossing(build: Build, layers: tuple[int, ...], k: int) -> Raw:
    first, second = int(build.crossings.first[k]), int(build.crossings.second[k])
    top, below = (second, first) if build.over[k] else (first, second)
    own, other = _owner(build, first, second)
    choice = _choice(build, own, other, "under" if own == top else "over")
    layer = int(build.laid.row_layer[build.laid.arc_row[own]])
    counts = _counts(build, layer, choice)
    return {
        "xyz": _rounded(build.crossings.point[k]),
        "top": _strand(build, top),
        "below": _strand(build, below),
        "layer": layers[layer],
        "choice": choice,
        "counts": counts,
        "state": _state(build, k),
    }


def _owner(build: Build, first: int, second: int) -> tuple[int, int]:
    """The arc whose layer keeps the choice, and the other: the later layer, else the thread laid later."""
    layer = build.laid.row_layer[build.laid.arc_row[[first, second]]]
    return (first, second) if layer[0] > layer[1] else (second, first)


def _state(build: Build, k: int) -> str:
    if any(k in one.crossing for one in build.by_hand):
        return "by hand"
    if build.relation.against[k] != NONE:
        return "contradicts"
    if build.relation.told[k] == NONE:
        return "as laid"
    return "open" if build.relation.open[k] else "by rule"


def _strand(build: Build, arc: int) -> Raw:
    laid = build.laid
    row = laid.arc_row[arc]
    layer, number = int(laid.row_layer[row]), int(laid.row_motif[row]) + 1
    return {
        "layer": build.design.layers[layer].name,
        "place": next(one.place for one in build.motifs if (one.layer, one.number) == (layer, number)),
        "row": int(laid.row_number[row]),
        "thread": build.design.threads[int(laid.row_thread[row])].name,
    }


def _choice(build: Build, own: int, other: int, lies: str) -> Raw:
    legs = Strands(build.laid, build.motifs).leg
    mine, met_ = _strand(build, own), _strand(build, other)
    return {
        "place": mine["place"],
        "row": mine["row"],
        "leg": int(legs[own]),
        "other": met_["layer"],
        "other_place": met_["place"],
        "other_row": met_["row"],
        "other_leg": int(legs[other]),
        "lies": lies,
    }


def _counts(build: Build, layer: int, choice: Raw) -> Raw:
    """How many crossings each reach of the choice is about."""
    from polestitch.document.design import Chosen

    known = build.design.layers
    every = tuple(Chosen(**choice, at=at) for at in ATS)
    asked = [one.model_copy(update={"crossings": every if n == layer else ()}) for n, one in enumerate(known)]
    found = met(build.laid, build.crossings, asked, build.motifs, turns(build.marking))
    return {one.chosen.at: len(one.crossing) for one in found}
