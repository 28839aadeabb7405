"""What there is to choose from: techniques with their forms, divisions in plain words.

In: nothing, or a division.  Out: plain data.
"""

from collections import Counter
from functools import cache
from typing import Any

from polestitch.ball.ball import Ball
from polestitch.document.design import Layer, Maker
from polestitch.errors import DesignError
from polestitch.marking.divisions import COMBINATIONS, marked
from polestitch.marking.families import SIDES, Family
from polestitch.scene.words import plain_words
from polestitch.stitching.seats import Seat, seats
from polestitch.stitching.technique import Technique, names, technique

OFFERS = {
    "centre": ("N", "N and S", "all centres", "all triangles", "all diamonds", "all obi points"),
    "arc": ("all lines", "all centre to centre", "N to obi 1", "line 1"),
    "circle": ("obi", "all lines", "all circles", "all equators"),
    "poles": ("N", "all centres"),
    "ball": ("ball", "every turn"),
}
# (h, k) of the nets makers name by their faces: 32, 42, 92, 122 … on C10
NETS = ((1, 1), (2, 0), (2, 1), (3, 0), (2, 2), (4, 0))
NET_BASES = (10, 8, 6)
MOST_OFFERED = 122
SIMPLE = (4, 6, 8, 10, 12, 16, 20, 24, 32)
_BALL = Ball(240.0)
_PITCH = _BALL.angle(0.7)


def technique_entries(division: str) -> list[dict[str, Any]]:
    """Every technique in alphabetical order, with places this division offers for it."""
    return [_technique(name, technique(name), division) for name in names()]


def _technique(name: str, module: Technique, division: str) -> dict[str, Any]:
    paragraphs = module.__doc__.split("\n\n")
    return {
        "name": name,
        "title": name.replace("_", " ").capitalize(),
        "sentence": paragraphs[0].partition(": ")[2].strip() or paragraphs[0].strip(),
        "place": module.PLACE,
        "schema": module.Params.model_json_schema(),
        "example": module.EXAMPLE,
        "where": offers(name, division),
    }


@cache
def offers(name: str, division: str) -> tuple[str, ...]:
    """Words for ``where`` at which this technique finds a seat on this division."""
    kind = technique(name).PLACE
    found = []
    for where in OFFERS[kind]:
        layer = Layer(name="offer", technique=name, where=where, rows="1 thread")
        try:
            first = seats(kind, layer, marked(division), _BALL, Maker())[0]
        except DesignError:
            continue
        if _suits(technique(name), first):
            found.append(where)
    return tuple(found)


def _suits(module: Technique, seat: Seat) -> bool:
    """Whether the technique, with its parameters as they come, has nothing against the place itself."""
    try:
        next(iter(module.stitch(seat.site, module.Params(), [_PITCH] * 3)), None)
    except DesignError as error:
        return not error.where.startswith("where")
    return True


@cache
def division_entries() -> tuple[dict[str, Any], ...]:
    """The divisions makers use most, simple ones first."""
    simple = [f"S{count}{obi}" for count in SIMPLE for obi in ("", "+obi")]
    nets = [Family(base, h, k).name for base in NET_BASES for h, k in NETS if Family(base, h, k).faces <= MOST_OFFERED]
    return tuple(_division(name) for name in (*simple, *(f"C{count}" for count in COMBINATIONS), *nets))


def _division(name: str) -> dict[str, Any]:
    marking = marked(name)
    counts = Counter(point.kind for point in marking.points)
    plain = plain_words(marking) if marking.net is None else _faces_said(len(marking.net.faces), counts["centre"], name)
    return {"name": name, "plain": plain, "counts": dict(counts)}


def _faces_said(faces: int, centres: int, name: str) -> str:
    sides = SIDES[int(name[1:].partition("/")[0])]
    few = {3: "triangles", 4: "squares", 5: "pentagons"}[sides]
    return f"{faces} faces: {centres} {few} and {faces - centres} with six sides"
