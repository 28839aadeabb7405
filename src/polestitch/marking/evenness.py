"""How even the faces of a multi-face marking are, in mm on this ball, and what faces there are, in words.

In: a marking with a net, the ball.  Out: one ``FaceEvenness`` a face, a sentence.
"""

from collections import Counter
from dataclasses import dataclass

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.marking.marking import Marking, Net
from polestitch.sphere.arcs import arc_angle

SHAPES = {3: "triangle", 4: "square", 5: "pentagon", 6: "hexagon"}
BASE_SIDES = {"C10": 5, "C8": 4, "C6": 3, "C4": 4}


@dataclass(frozen=True)
class FaceEvenness:
    """One face: how many sides, the shortest and the longest of them, and the same of centre to corner."""

    name: str
    sides: int
    shortest_mm: float
    longest_mm: float
    nearest_corner_mm: float
    farthest_corner_mm: float

    @property
    def uneven_mm(self) -> float:
        """Longest side less shortest: nothing on a face that is regular."""
        return self.longest_mm - self.shortest_mm


def evenness(marking: Marking, ball: Ball) -> tuple[FaceEvenness, ...]:
    """Every face in order; empty for a division without a net of faces."""
    net = marking.net
    if net is None:
        return ()
    faces, corners = (np.array([spot.at for spot in spots]) for spots in (net.faces, net.corners))
    sides = arc_angle(corners[net.sides[:, 0]], corners[net.sides[:, 1]])
    of_leg, corner = net.meeting.ravel(), np.repeat(np.arange(len(corners)), 3)
    legs = arc_angle(faces[of_leg], corners[corner])
    spans = [*_least_and_most(net.parts.ravel(), np.repeat(sides, 2)), *_least_and_most(of_leg, legs)]
    count = np.bincount(of_leg).tolist()
    told = zip(net.faces, count, *(ball.mm(1.0) * each for each in spans))
    return tuple(FaceEvenness(face.name, sides_, *map(float, lengths)) for face, sides_, *lengths in told)


def _least_and_most(rows: np.ndarray, values: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Smallest and largest of ``values`` for each row number."""
    least, most = np.full(rows.max() + 1, np.inf), np.zeros(rows.max() + 1)
    np.minimum.at(least, rows, values)
    np.maximum.at(most, rows, values)
    return least, most


def faces_said(net: Net) -> str:
    """What faces there are: "12 centres in pentagons, 30 hexagons"."""
    sides = Counter(np.bincount(net.meeting.ravel()).tolist())
    base = BASE_SIDES[net.base]
    first = f"{sides[base]} centres in {SHAPES[base]}s"
    return first + (f", {sides[6]} hexagons" if sides[6] else "")


def evenness_said(marking: Marking, ball: Ball) -> str:
    """One sentence on how even the faces are on this ball."""
    every = evenness(marking, ball)
    shortest, longest = min(face.shortest_mm for face in every), max(face.longest_mm for face in every)
    worst = max(every, key=lambda face: (round(face.uneven_mm, 6), face.name == "N"))
    if worst.uneven_mm < 0.05 and longest - shortest < 0.05:
        return f"All sides are {longest:.1f} mm long on this ball."
    return (
        f"Sides are {shortest:.1f} to {longest:.1f} mm long on this ball; the least even face is {worst.name}, "
        f"whose sides differ by {worst.uneven_mm:.1f} mm."
    )
