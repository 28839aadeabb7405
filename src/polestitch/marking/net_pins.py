"""The pins of a multi-face marking: centres of the base, then its arcs cut in equal parts, then the rest.

In: the net, distances on this ball.  Out: ``Pin`` records in order.
Centres are stepped off from N with one distance, as with a V-ruler (published,
http://temarikai.com/HowToPages/VRulerchart.html); the middle of three centres, the middles and parts of
the arcs between them follow (http://temarikai.com multi-centre pages).  Only corners are pinned:
face centres appear where the long legs cross.
"""

from fractions import Fraction
from itertools import combinations

import numpy as np

from polestitch.marking.address import Place
from polestitch.marking.distances import Distance, Girths, Pin
from polestitch.marking.lattice import Rows
from polestitch.marking.marking import Net, Point
from polestitch.sphere.arcs import Points, arc_angle, cross, toward, unit

RULES = {"C10": 1 / 6 + 1 / 100}  # centre to centre, of the way round; C8 and C4 need none, a quarter is exact
SAME = 1e-6
MOST_PARTS = 32
NEAREST = 6  # pins already in among which the two to measure from are chosen


def net_pins(net: Net, girth: Girths) -> tuple[Pin, ...]:
    """Every pin in order; each is measured from pins that are in."""
    centres = [_place(face) for face in net.faces if face.kind == "centre"]
    pins = _of_centres(centres, RULES.get(net.base), girth)
    thirds = _thirds(centres)
    middles = _at([*net.faces, *net.corners], [third[0] for third in thirds])
    pins += [_of_middle(middle, centres, thirds, girth) for middle in middles]
    taken = {pin.point for pin in pins}
    left = [_place(corner) for corner in net.corners if corner.name not in taken]
    arcs = _arcs(centres, middles)
    on = [(spot, arc) for spot, arc in zip(left, _arcs_of(left, *arcs)) if arc is not None]
    pins += [_on_arc(spot, *arc, girth) for spot, arc in on]
    rest = {spot.name for spot in left} - {spot.name for spot, _ in on}
    placed = [*centres, *middles, *(spot for spot, _ in on)]
    return tuple(pins + _inside([spot for spot in left if spot.name in rest], placed, centres, girth))


def _place(spot: Point) -> Place:
    return Place(spot.name, spot.at, ())


def _at(spots: list[Point], where: list[Points]) -> list[Place]:
    """The spots that stand at one of the points ``where``."""
    gaps = arc_angle(np.array([spot.at for spot in spots])[:, None], np.array(where)[None])
    return [_place(spots[k]) for k in np.flatnonzero((gaps < SAME).any(axis=1)).tolist()]


def _of_centres(centres: list[Place], rule: float | None, girth: Girths) -> list[Pin]:
    """Each from the nearest centres that are in, two at most; what others it must be as far from is the check."""
    pins, done = [Pin(centres[0].name, "", (), ())], centres[:1]
    for spot in sorted(centres[1:], key=lambda each: round(float(arc_angle(centres[0].at, each.at)), 6)):
        gaps = arc_angle(spot.at, np.array([other.at for other in done]))
        near = [other for other, gap in zip(done, gaps.tolist()) if gap < gaps.min() + SAME]
        told = [girth.between(spot, other, rule) for other in near]
        pins.append(Pin(spot.name, "", tuple(told[:2]), tuple(told[2:])))
        done.append(spot)
    return pins


def _thirds(centres: list[Place]) -> list[tuple[Points, tuple[Place, ...]]]:
    """The middle of every three centres that are neighbours of each other."""
    at = np.array([centre.at for centre in centres])
    gaps = arc_angle(at[:, None], at[None])
    near = gaps < np.sort(gaps[0])[1] + SAME
    trios = [trio for trio in combinations(range(len(centres)), 3) if near[np.ix_(trio, trio)].all()]
    return [(unit(at[list(trio)].sum(axis=0)), tuple(centres[k] for k in trio)) for trio in trios]


def _of_middle(
    middle: Place, centres: list[Place], thirds: list[tuple[Points, tuple[Place, ...]]], girth: Girths
) -> Pin:
    trio = next(trio for at, trio in thirds if float(arc_angle(at, middle.at)) < SAME)
    told = [girth.between(middle, centre) for centre in trio]
    return Pin(middle.name, "", tuple(told[:2]), (told[2],))


Arc = tuple[Place, Place]


def _arcs(centres: list[Place], middles: list[Place]) -> tuple[list[Arc], Points, Points]:
    """From each centre to the centres and middles next to it, with their normals and reaches."""
    arcs: list[Arc] = []
    for ends in (centres, middles):
        gaps = arc_angle(np.array([c.at for c in centres])[:, None], np.array([e.at for e in ends])[None])
        near = gaps < np.min(gaps[gaps > SAME]) + SAME
        arcs += [(centres[a], ends[b]) for a, b in np.argwhere(near & (gaps > SAME)).tolist()]
    start, end = (np.array([arc[n].at for arc in arcs]) for n in range(2))
    return arcs, unit(cross(start, end)), arc_angle(start, end)


def _arcs_of(spots: list[Place], arcs: list[Arc], normals: Points, reach: Points) -> list[Arc | None]:
    """For each spot the arc it lies on, from the nearest start; ``None`` off the arcs."""
    at, start = np.array([spot.at for spot in spots]).reshape(-1, 3), np.array([arc[0].at for arc in arcs])
    gap = arc_angle(at[:, None], start[None])
    ahead = at @ cross(normals, start).T > 0
    on = (np.abs(at @ normals.T) < 1e-9) & (gap < reach) & ahead
    nearest = np.where(on, gap, np.inf).argmin(axis=1)
    found: list[int] = np.where(on.any(axis=1), nearest, -1).tolist()
    return [arcs[k] if k >= 0 else None for k in found]


def _on_arc(spot: Place, start: Place, end: Place, girth: Girths) -> Pin:
    told, other = girth.between(spot, start), girth.between(spot, end)
    share = told.fraction / (told.fraction + other.fraction)
    part = Fraction(share).limit_denominator(MOST_PARTS)
    words = f"{part} of the way to {end.name}" if abs(float(part) - share) < 1e-9 else told.recipe
    return Pin(
        spot.name, f"{start.name} to {end.name}", (Distance(told.point, told.mm, told.fraction, words),), (other,)
    )


def _inside(spots: list[Place], placed: list[Place], centres: list[Place], girth: Girths) -> list[Pin]:
    """The rest from the nearest centre out, each from the two near pins that cross best."""
    if not spots:
        return []
    at = np.array([spot.at for spot in spots])
    out = arc_angle(at[:, None], np.array([centre.at for centre in centres])[None]).min(axis=1)
    order = np.lexsort((np.arange(len(spots)), out.round(6)))
    every = [*placed, *(spots[k] for k in order)]
    known = np.array([each.at for each in every])
    near = _nearest(at[order] @ known.T, len(placed))
    chosen = np.take_along_axis(near, _crossing_best(at[order], known[near]), axis=1)
    return [_crossed(spots[k], [every[n] for n in chosen[row]], girth) for row, k in enumerate(order.tolist())]


def _nearest(nearness: Points, placed: int) -> Rows:
    """(n, few) the nearest pins that are in when each of the n goes in, nearest first."""
    far, wide = -nearness, min(2 * NEAREST, placed)
    # Row by row: a whole matrix with what is still out masked parts many times slower.
    parted = [row[: placed + n].argpartition(wide - 1)[:wide] for n, row in enumerate(far)]
    best = np.sort(np.array(parted), axis=1)
    # Equally near ones in the order they went in.
    order = np.argsort(np.take_along_axis(far, best, axis=1).round(9), axis=1, kind="stable")[:, :NEAREST]
    return np.asarray(np.take_along_axis(best, order, axis=1))


def _crossing_best(at: Points, near: Points) -> Rows:
    """(n, 3) of each spot's near pins the two whose directions are most nearly square, and the nearest other."""
    ways, few = toward(at[:, None], near), near.shape[1]
    flat = np.abs(np.einsum("nai,nbi->nab", ways, ways)).round(6) + np.add.outer(np.arange(few), np.arange(few)) * 0.02
    flat[:, np.arange(few), np.arange(few)] = np.inf
    pair = np.sort(np.stack(np.divmod(flat.reshape(len(at), -1).argmin(axis=1), few), axis=1), axis=1)
    rest = (pair[:, 0] == 0).astype(np.intp) * (1 + (pair[:, 1] == 1))
    return np.column_stack([pair, rest])[:, : min(3, few)]


def _crossed(spot: Place, near: list[Place], girth: Girths) -> Pin:
    """Measured from the first two; the third is the check."""
    told = [girth.between(spot, other) for other in near]
    return Pin(spot.name, "", tuple(told[:2]), tuple(told[2:]))
