"""A division in plain words: what she will see on the ball.

In: a marking.  Out: "12 centres in pentagons, 20 triangles, 30 diamonds".
"""

from polestitch.marking.marking import Marking

_SIDES = {3: "triangles", 4: "squares", 5: "pentagons", 6: "hexagons"}


def plain_words(marking: Marking) -> str:
    """Points and lines of the division, counted."""
    centres = marking.of_kind("centre")
    return _simple(marking) if len(centres) == 2 else _combination(marking)


def _combination(marking: Marking) -> str:
    centres = marking.of_kind("centre")
    sides = centres[0].ways // 2
    if sides not in _SIDES:
        return f"{len(centres)} centres, {marking.triangles} triangles"
    parts = [f"{len(centres)} centres in {_SIDES[sides]}"]
    parts += [f"{len(found)} {kind}s" for kind in ("triangle", "diamond") if (found := marking.of_kind(kind))]
    return ", ".join(parts)


def _simple(marking: Marking) -> str:
    lines = len(marking.spokes["N"])
    if any(point.kind == "obi" for point in marking.points):
        return f"{lines} lines from pole to pole and the obi, {marking.triangles} triangles"
    return f"{lines} lines from pole to pole, {marking.triangles} wedges"
