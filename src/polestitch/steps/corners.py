"""The kinds of corner a row has, what a maker calls them, and where she finds them.

In: a motif and one of its rows.  Out: ``Corner`` records, one for each kind and distance.
"""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.marking.marking import Marking
from polestitch.sphere.arcs import Points, arc_angle, cross, move
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

# Distances closer than this are one distance to a hand (mm).
SAME_MM = 0.25
AT_PIN = 1e-6  # radians


class Corner(NamedTuple):
    """Like bites of one row: ``mm`` from ``pin`` on each guideline of ``spokes`` (numbers, in visiting order).

    ``bites`` are their indices in the row.
    """

    kind: str
    pin: str
    mm: float
    spokes: tuple[int, ...]
    bites: tuple[int, ...]


def the(place: str) -> str:
    """A place in a sentence: "the obi", "lines 1 and 9", and all others as they are called."""
    ends = place.removeprefix("line ").split("-")
    if place.startswith("line ") and len(ends) == 2 and " of " not in place:
        return f"lines {ends[0]} and {ends[1]}"
    return f"the {place}" if place == "obi" or place.startswith("equator of") else place


def corners(motif: Motif, row: Row, ball: Ball, marking: Marking) -> tuple[Corner, ...]:
    """The row's corners by kind, in the order they are first met; none for a wound turn."""
    found: list[Corner] = []
    kinds = kinds_of(motif, row)
    for bite, kind in enumerate(kinds):
        pin, mm = _from_pin(motif, row, bite, (ball, marking))
        for k, known in enumerate(found):
            if (known.kind, known.pin) == (kind, pin) and abs(known.mm - mm) < SAME_MM:
                spokes = dict.fromkeys((*known.spokes, row.spokes[bite]))
                found[k] = known._replace(spokes=tuple(spokes), bites=(*known.bites, bite))
                break
        else:
            found.append(Corner(kind, pin, mm, (row.spokes[bite],), (bite,)))
    return tuple(found)


def kinds_of(motif: Motif, row: Row) -> list[str]:
    """What each bite of the row is called."""
    if row.up is None and motif.site.kind == "circle":
        return ["upper bite" if high else "lower bite" for high in row.places[:, 2] > 0]
    if row.up is None and motif.site.kind in ("centre", "ball"):
        return _kinds_round(motif, row)
    word = "end of a stroke" if row.up is not None else {"arc": "tip", "poles": "inner bite"}[motif.site.kind]
    return [word] * len(row.half)


def _kinds_round(motif: Motif, row: Row) -> list[str]:
    if row.wide.any() and not row.wide.all():
        return ["inner bite" if wide else "outer tip" for wide in row.wide]
    if row.wide.all():
        return ["gathering bite"] * len(row.half)
    if _zigzag(row):
        nearer = row.places[:, 2] > row.places[:, 2].mean()
        return ["inner bite" if near else "outer tip" for near in nearer]
    pointed = any(other.narrow.any() for other in motif.rows)
    return ["point" if pointed else "corner"] * len(row.half)


def _zigzag(row: Row) -> bool:
    """Whether far and near corners take turns and the path turns outward at every near one."""
    near = row.places[:, 2] > row.places[:, 2].mean()
    if len(near) < 4 or not np.all(near != np.roll(near, 1)):
        return False
    chord = cross(np.roll(row.places, 1, axis=0), np.roll(row.places, -1, axis=0))[near]
    # The middle (+z) and the corner lie on one side of the straight way past it.
    return bool(np.all(np.sum(chord * row.places[near], axis=1) * chord[:, 2] > 0))


def _from_pin(motif: Motif, row: Row, bite: int, spots: tuple[Ball, Marking]) -> tuple[str, float]:
    """The pin a bite is measured from, and how far: the middle, the line, or the nearer end of an arc."""
    ball, marking = spots
    height = float(np.clip(row.places[bite, 2], -1, 1))
    if motif.site.kind == "circle":
        return motif.place, ball.mm(abs(float(np.arcsin(height))))
    distance = float(np.arccos(height))
    if motif.site.kind == "centre":
        return motif.place, ball.mm(distance)
    if motif.site.kind in ("poles", "ball"):
        at = motif.frame @ row.places[bite]
        among = [motif.middle, -motif.middle] if motif.site.kind == "poles" else None
        return _nearest(at, ball, marking, among)
    index = motif.site.numbers.index(row.spokes[bite])
    end = arc_end(motif, index, marking)
    reach = float(motif.site.reaches[index])
    return (f"the middle of {the(motif.place)}", ball.mm(distance)) if end is None else (end, ball.mm(reach - distance))


def _nearest(at: Points, ball: Ball, marking: Marking, among: Sequence[Points] | None) -> tuple[str, float]:
    """The marked point nearest to ``at``, or that at the nearest of ``among``, and how far it is."""
    known = list(marking.by_name.values())
    where = np.array([point.at for point in known])
    far = arc_angle(where, at)
    if among is not None:
        far = np.where(np.min([arc_angle(where, spot) for spot in among], axis=0) < AT_PIN, far, np.inf)
    near = int(np.argmin(far))
    return known[near].name, ball.mm(float(far[near]))


def arc_end(motif: Motif, spoke: int, marking: Marking) -> str | None:
    """Name of the pin at one end of an arc's line, or None where no named spot stands there."""
    azimuth = motif.site.azimuths[spoke]
    heading = np.array([np.cos(azimuth), np.sin(azimuth), 0.0])
    at = motif.frame @ move(np.array([0.0, 0.0, 1.0]), heading, float(motif.site.reaches[spoke]))
    names = [name for name, point in marking.by_name.items() if arc_angle(point.at, at) < AT_PIN]
    return names[0] if names else None
