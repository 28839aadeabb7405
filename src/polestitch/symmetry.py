"""The finished ball's symmetry, with and without its colours, found from the thread as it lies.

In: ``Laid``; where it matters who is on top, its crossings too.  Out: a ``Kind``.  Asked who is on top,
nearly every stitched ball differs from its mirror image: each bite has its right leg over its left one.

An arc is known by its middle m, its normal n up to sign, its sweep and its circle.  Candidates turn one
arc of the rarest sort onto every arc of that sort.  Two sets of arcs are the same if they look the same
from a few directions (the Cramer-Wold theorem), which takes sorting and no search.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Laid
from polestitch.sphere.arcs import Points, dot, unit
from polestitch.sphere.orbifold import Kind, bare_kind, kind_of, round_kind

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]

SAME = 1e-4  # radians: 4 thousandths of a millimetre on a ball of 25 cm, less than a hand or a thread can show
AT_ONCE = 1_000_000  # numbers in one table
ONCE, TWICE = ([0, 1, 2], [0, 1, 2]), ([0, 0, 1], [1, 2, 2])  # entries of a symmetric matrix
# Directions two sets of arcs are compared from: as good as random, and no generator to load.
LOOKS = np.sin(1.7 * np.arange(1, 37) ** 2).reshape(3, 12)
FEW = 400  # arcs that every candidate is tried on before any is tried on all of them


class Tops(NamedTuple):
    """Where threads cross, and whether the later one lies over the earlier."""

    crossings: Crossings
    over: NDArray[np.bool_]  # (k,)


@dataclass(frozen=True, eq=False)
class _Arcs:
    """What is left of arcs when their direction and order do not count."""

    middle: Points  # (a, 3); of a whole turn, the middle of its circle
    normal: Points  # (a, 3) either of the two
    sort: Indices  # (a,) arcs that could lie on each other have one number

    @cached_property
    def seen(self) -> Floats:
        """(a, 9) what any view of an arc is a weighted sum of: its middle and its normal times itself."""
        square = self.normal[:, :, None] * self.normal[:, None, :]
        return np.concatenate([self.middle, 2 * square[:, *TWICE], square[:, *ONCE]], axis=1)

    def of(self, sort: int) -> "_Arcs":
        """Those of one sort."""
        kept = self.sort == sort
        return _Arcs(self.middle[kept], self.normal[kept], self.sort[kept])


def symmetry(laid: Laid, colours: bool = True, tops: Tops | None = None) -> Kind:
    """The kind of everything laid.

    Without ``colours`` all threads count as one; with ``tops`` who lies over whom counts as well.
    """
    if not len(laid.offset):
        return bare_kind()
    arcs = _arcs(laid, colours)
    sizes = np.bincount(arcs.sort)
    rare = sorted(np.flatnonzero(sizes).tolist(), key=lambda sort: (sizes[sort], sort))
    candidates = _candidates(arcs, rare)
    if candidates is None:
        return _round(arcs)
    everything = arcs if tops is None else _with_tops(arcs, tops)
    likely = candidates[_same(_rarest(arcs), candidates)]
    if tops is not None:
        likely = likely[_same(_rarest(everything), likely)]
    return kind_of(_confirmed(everything, likely))


def _rarest(arcs: _Arcs) -> _Arcs:
    """Arcs of the rarest sorts, about ``FEW`` of them."""
    sizes = np.bincount(arcs.sort)
    rare = np.argsort(sizes, kind="stable")
    rare = rare[sizes[rare] > 0]
    kept = np.isin(arcs.sort, rare[: _few_sorts(sizes[rare])])
    return _Arcs(arcs.middle[kept], arcs.normal[kept], arcs.sort[kept])


def _few_sorts(sizes: Indices) -> int:
    """How many sorts, the rarest first, make no more than ``FEW`` arcs together; one at least."""
    return max(1, int(np.searchsorted(np.cumsum(sizes), FEW, side="right")))


def _arcs(laid: Laid, colours: bool) -> _Arcs:
    whole = laid.sweep > 2 * np.pi - SAME
    middle = laid.at(np.arange(len(laid.offset), dtype=np.int32), laid.sweep / 2)
    middle[whole] = (laid.offset[:, None] * laid.normal)[whole]
    labels = [np.where(whole, -1, _levels(laid.sweep)), _levels(np.abs(laid.offset))]
    if colours:
        labels.append(laid.row_thread[laid.arc_row].astype(np.intp))
    _, sort = np.unique(np.stack(labels, axis=1), axis=0, return_inverse=True)
    return _Arcs(middle, laid.normal, sort.ravel())


def _with_tops(arcs: _Arcs, tops: Tops) -> _Arcs:
    """Arcs, and every crossing as if it were a very short arc of its upper thread."""
    met, laid = tops.crossings, tops.crossings.laid
    top, below = np.where(tops.over, met.second, met.first), np.where(tops.over, met.first, met.second)
    count = int(arcs.sort.max()) + 1
    _, sort = np.unique(arcs.sort[top] * count + arcs.sort[below], return_inverse=True)
    return _Arcs(
        np.concatenate([arcs.middle, met.point]),
        np.concatenate([arcs.normal, laid.normal[top]]),
        np.concatenate([arcs.sort, sort.ravel() + count]),
    )


def _levels(values: Floats) -> Indices:
    """(n,) one number for all values that follow each other within ``SAME``."""
    order = np.argsort(values, kind="stable")
    level = np.empty(len(values), dtype=np.intp)
    level[order] = np.cumsum(np.diff(values[order], prepend=values[order[:1]]) > SAME)
    return level


def _candidates(arcs: _Arcs, rare: list[int]) -> Points | None:
    """(m, 3, 3) every turn and mirroring that could be one; None where all arcs lie about one axis."""
    for sort in rare:
        some = arcs.of(sort)
        aside = some.middle - dot(some.middle, some.normal)[:, None] * some.normal
        if np.linalg.norm(aside[0]) > SAME:  # an arc with ends has a middle beside its axis
            return _between(*_both_ways(unit(aside), some.normal))
    return _between_axes(arcs, rare)


def _both_ways(one: Points, two: Points) -> tuple[Points, Points]:
    """Directions ``one`` with ``two``, and with the opposite of ``two``."""
    return np.concatenate([one, one]), np.concatenate([two, -two])


def _between(one: Points, two: Points) -> Points:
    """(2k, 3, 3) what takes the first pair of directions onto each pair at the same angle, turned and mirrored."""
    frames = np.stack([one, two, np.cross(one, two)], axis=2)
    first = np.linalg.inv(frames[0])
    mirrored = frames * [1.0, 1.0, -1.0]
    found = np.concatenate([frames, mirrored]) @ first
    rigid = np.abs(found @ found.transpose(0, 2, 1) - np.eye(3)).max(axis=(1, 2)) < 10 * SAME
    return np.asarray(found[rigid])


def _between_axes(arcs: _Arcs, rare: list[int]) -> Points | None:
    """The same for whole turns, which have nothing but their axes."""
    axes = [_apart(arcs.of(sort).normal) for sort in rare]
    first = min(axes, key=len)
    for other in sorted(axes, key=len):
        angle = np.abs(first[0] @ other.T)
        if angle.min() > 1 - SAME**2:
            continue
        second = int(np.argmin(angle))
        one = np.repeat(np.concatenate([first, -first]), 2 * len(other), axis=0)
        two = np.tile(np.concatenate([other, -other]), (2 * len(first), 1))
        like = np.abs(dot(one, two) - first[0] @ other[second]) < SAME
        pairs = np.concatenate([first[:1], one[like]]), np.concatenate([other[second : second + 1], two[like]])
        return _between(*pairs)
    return None


def _apart(axes: Points) -> Points:
    """Axes (n, 3) without repeats and opposites."""
    keys = np.round(axes[:, :, None] * axes[:, None, :], 3).reshape(-1, 9) + 0.0
    _, first = np.unique(keys, axis=0, return_index=True)
    return axes[np.sort(first)]


def _round(arcs: _Arcs) -> Kind:
    """The kind of whole turns that all lie about one axis."""
    return round_kind(bool(_same(arcs, -np.eye(3)[None])[0]))


def _confirmed(arcs: _Arcs, likely: Points) -> Points:
    """(n, 3, 3) the group of those ``likely`` ones that all arcs bear out; what follows from others is not tried."""
    group = np.eye(3)[None]
    for turn in likely:
        if not _holds(group, turn[None])[0] and _same(arcs, turn[None])[0]:
            group = _grown(group, _tidy(turn))
    return group


def _tidy(turn: Points) -> Points:
    """The nearest matrix that turns or mirrors without bending."""
    left, _, right = np.linalg.svd(turn)
    return np.asarray(left @ right)


def _holds(group: Points, turns: Points) -> NDArray[np.bool_]:
    """(m,) whether each of ``turns`` is in ``group``."""
    return np.asarray((_apart_from(turns, group) < 100 * SAME).any(axis=1))


def _apart_from(turns: Points, others: Points) -> Floats:
    """(m, k) how far turns (m, 3, 3) and ``others`` (k, 3, 3) are apart, 0 to about 3."""
    alike = turns.reshape(-1, 9) @ others.reshape(-1, 9).T  # the trace of one turn back after the other
    return np.asarray(np.sqrt(np.maximum(6 - 2 * alike, 0)))


def _grown(group: Points, turn: Points) -> Points:
    """The group that ``turn`` and ``group`` generate."""
    makers, fresh = np.concatenate([group, turn[None]]), turn[None]
    while len(fresh):
        group = np.concatenate([group, fresh])
        images = (makers[:, None] @ fresh[None]).reshape(-1, 3, 3)
        fresh = _different(images[~_holds(group, images)])
    return group


def _different(turns: Points) -> Points:
    """``turns`` without repeats."""
    same = _apart_from(turns, turns) < 100 * SAME
    return np.asarray(turns[same.argmax(axis=1) == np.arange(len(turns))]) if len(turns) else turns


def _same(arcs: _Arcs, turns: Points) -> NDArray[np.bool_]:
    """(m,) whether arcs after each of ``turns`` (m, 3, 3) lie where arcs lay, sort by sort."""
    alike = np.arange(len(turns))
    for look in LOOKS:
        view, form = unit(look[:3]), look[3:].reshape(3, 3)
        form = (form + form.T) / np.linalg.norm(form + form.T)
        before = _seen(arcs, view, form, np.eye(3)[None])
        size = max(1, AT_ONCE // len(arcs.sort))
        parts = [alike[k : k + size] for k in range(0, len(alike), size)]
        kept = [part[np.abs(_seen(arcs, view, form, turns[part]) - before).max(axis=1) < 2 * SAME] for part in parts]
        alike = np.concatenate([alike[:0], *kept])
    return np.isin(np.arange(len(turns)), alike)


def _seen(arcs: _Arcs, view: Points, form: Points, turns: Points) -> Floats:
    """(m, a) one number an arc after each turn, rising within its sort: a linear view of its middle and of n n^T."""
    forms = turns.transpose(0, 2, 1) @ form @ turns
    looks = np.concatenate([view @ turns, forms[:, *TWICE], forms[:, *ONCE]], axis=1)
    return np.sort(looks @ arcs.seen.T + 8.0 * arcs.sort, axis=1)
