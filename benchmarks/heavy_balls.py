"""Heavy test balls made by hand, without document, marking or techniques.

In: pitch and counts.  Out: ``Laid``.  They stand for what a patient maker stitches: ball A a combination
10 with a star round each of 12 centres and six wrapped bands; ball B a combination 8 with squares and
triangles, row by row in turn.  The circumference is 240 mm.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from polestitch.laying.laid import Laid
from polestitch.sphere.arcs import Points, arc_angle, move, toward, unit

Vectors = NDArray[np.float64]
MM = 2 * np.pi / 240  # radians in one millimetre
HALF_BITE = 0.75 * MM
SMALL_BITE = 0.4 * MM


@dataclass(frozen=True, eq=False)
class Trip:
    """One row: ``k`` arcs of circles, and what it belongs to."""

    normal: Points
    offset: Vectors
    start: Points
    sweep: Vectors
    spans: NDArray[np.int32]  # (k,) which span of the row each arc is part of
    layer: int
    motif: int
    number: int


def laid_of(trips: list[Trip], pitch: float) -> Laid:
    """The rows as laid thread, in the given order."""
    counts = np.array([trip.spans[-1] + 1 for trip in trips])
    first = np.concatenate([[0], np.cumsum(counts)[:-1]])
    return Laid(
        normal=np.concatenate([t.normal for t in trips]),
        offset=np.concatenate([t.offset for t in trips]),
        start=np.concatenate([t.start for t in trips]),
        sweep=np.concatenate([t.sweep for t in trips]),
        arc_span=np.concatenate([t.spans + f for t, f in zip(trips, first)]).astype(np.int32),
        span_row=np.repeat(np.arange(len(trips)), counts).astype(np.int32),
        row_layer=np.array([t.layer for t in trips], dtype=np.int32),
        row_motif=np.array([t.motif for t in trips], dtype=np.int32),
        row_number=np.array([t.number for t in trips], dtype=np.int32),
        row_thread=np.zeros(len(trips), dtype=np.int32),
        row_pitch=np.full(len(trips), pitch),
    )


def turned(laid: Laid, rotation: Vectors) -> Laid:
    """The same ball, turned by a rotation matrix (3, 3)."""
    fields = {name: getattr(laid, name) for name in Laid.__dataclass_fields__}
    fields |= {"normal": laid.normal @ rotation.T, "start": laid.start @ rotation.T}
    return Laid(**fields)


def legs(leave: Points, enter: Points, *place: int) -> Trip:
    """A row of straight legs from ``leave`` to ``enter`` (k, 3); ``place`` is layer, motif, number."""
    spans = np.arange(len(leave), dtype=np.int32)
    return Trip(unit(np.cross(leave, enter)), np.zeros(len(leave)), leave, arc_angle(leave, enter), spans, *place)


def turns(normal: Points, offset: float, *place: int) -> Trip:
    """One closed turn ``normal . x = offset``."""
    away = toward(normal, np.array([0.31, 0.59, 0.74]))
    start = move(normal, away, np.arccos(offset))
    return Trip(normal[None], np.array([offset]), start[None], np.array([2 * np.pi]), np.zeros(1, np.int32), *place)


def chords(turn: Trip, pieces: int) -> Trip:
    """The same turn as straight pieces, chained in one span."""
    line = laid_of([turn], 1.0)
    t = np.linspace(0, 2 * np.pi, pieces, endpoint=False)
    at = line.at(np.zeros(pieces, np.int32), t)
    made = legs(at, np.roll(at, -1, axis=0), turn.layer, turn.motif, turn.number)
    return Trip(made.normal, made.offset, made.start, made.sweep, np.zeros(pieces, np.int32), *place_of(turn))


def place_of(trip: Trip) -> tuple[int, int, int]:
    """Layer, motif and number of a row."""
    return trip.layer, trip.motif, trip.number


def bitten(places: Points, half: Vectors | float, *place: int) -> Trip:
    """A closed row of bites at ``places`` (k, 3), each ``half`` wide to either side."""
    across = unit(np.roll(places, -1, axis=0) - np.roll(places, 1, axis=0))
    along = toward(places, move(places, across, 0.1))
    half = np.broadcast_to(np.asarray(half, dtype=float), len(places))
    return legs(move(places, along, -half), np.roll(move(places, along, half), -1, axis=0), *place)


def round_centre(centre: Points, first: Points, radii: Vectors) -> Points:
    """Points at ``radii`` (k,) from ``centre``, evenly round it, the first toward ``first``."""
    e1 = toward(centre, first)
    e2 = np.cross(centre, e1)
    turn = 2 * np.pi * np.arange(len(radii)) / len(radii)
    return move(centre, np.cos(turn)[:, None] * e1 + np.sin(turn)[:, None] * e2, radii)


def icosahedron() -> Points:
    """(12, 3) five-fold points of the icosahedral group."""
    golden = (1 + 5**0.5) / 2
    found = Rotation.create_group("I").apply(unit(np.array([0.0, 1.0, golden])))
    kept = [p for i, p in enumerate(found) if np.all(np.linalg.norm(found[:i] - p, axis=1) > 0.1)]
    return np.array(kept)


def band(normal: Points, count: int, pitch: float, layer: int, motif: int) -> Iterator[Trip]:
    """``count`` turns side by side, the middle of them on the great circle."""
    for number in range(count):
        offset = np.sin((number - (count - 1) / 2) * pitch)
        yield turns(normal, offset, layer, motif, number + 1)


def bands(normals: Points, count: int, pitch: float, layer: int = 0) -> list[Trip]:
    """One band square to each of ``normals`` (k, 3)."""
    return [trip for motif, normal in enumerate(normals) for trip in band(normal, count, pitch, layer, motif)]


def star_row(centre: Points, first: Points, number: int, pitch: float, place: tuple[int, int]) -> Trip:
    """Row ``number`` of a star whose ten points lie out and in, in turn; ``place`` is layer, motif."""
    outer = np.radians(12) + (number - 1) * 2.2 * pitch
    inner = np.radians(7) + (number - 1) * pitch
    half = np.where(np.arange(10) % 2 == 0, HALF_BITE, HALF_BITE + (number - 1) * pitch)
    return bitten(round_centre(centre, first, np.where(np.arange(10) % 2 == 0, outer, inner)), half, *place, number)


def ball_a(pitch_mm: float = 0.6, rows: int = 14, passes: int = 12, pieces: int = 0) -> Laid:
    """Twelve stars and six bands; ``pieces`` > 0 cuts every turn of a band into straight pieces."""
    pitch, centres = pitch_mm * MM, icosahedron()
    neighbour = [centres[np.argsort(-centres @ c)[1]] for c in centres]
    trips = [
        star_row(c, n, number, pitch, (0, motif))
        for motif, (c, n) in enumerate(zip(centres, neighbour))
        for number in range(1, rows + 1)
    ]
    axes = np.array([c for i, c in enumerate(centres) if not np.any(centres[:i] @ c < -0.99)])
    wound = bands(axes, passes, pitch, layer=1)
    return laid_of(trips + [chords(t, pieces) if pieces else t for t in wound], pitch)


def ball_a20k() -> Laid:
    """Ball A in fine thread, every turn cut in 61 straight pieces: about 20,000 arcs."""
    return ball_a(0.2, 42, 41, pieces=61)


def ball_b() -> Laid:
    """Six squares of 24 rows and eight triangles of 16, row by row in turn."""
    pitch = 0.6 * MM
    fours = np.concatenate([np.eye(3), -np.eye(3)])
    threes = unit(np.array([[x, y, z] for x in (1, -1) for y in (1, -1) for z in (1, -1)], dtype=float))
    trips = []
    for number in range(1, 25):
        for motif, c in enumerate(fours):
            corners = round_centre(c, unit(c + fours[(motif + 1) % 3]), np.full(4, 0.145 + 1.45 * number * pitch))
            trips.append(bitten(corners, SMALL_BITE, 0, motif, number))
        for motif, c in enumerate(threes if number <= 16 else ()):
            corners = round_centre(c, fours[np.argmax(fours @ c)], np.full(3, 0.02 + 2 * number * pitch))
            trips.append(bitten(corners, SMALL_BITE, 1, motif, number))
    return laid_of(trips, pitch)
