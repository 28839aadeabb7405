"""Which rings hold which, once over and under is settled.

In: ``Laid``, its crossings and who lies over whom.  Out: ``Links``.

A ring is a closed row: a whole turn, or a trip that comes home (its bites count as closed).  Two rings are
linked as often as half the sum of their signed crossings says.  Rings that nothing ties can be lifted off
each other like shells.  Rings that no pair of them ties can still be inseparable, as in Borromean rings:
they are when their Alexander polynomial is not zero, for it is zero for any link that comes apart.  It is
looked at in one number of a finite field, so "not zero" is certain and "zero" is not proof of anything.
(Knot theory from Lickorish, An Introduction to Knot Theory, chapters 1 and 6, from memory.)
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.alexander import holds_together
from polestitch.laying.crossings import Crossings
from polestitch.laying.diagram import Diagram, diagram
from polestitch.laying.groups import closed_rows
from polestitch.laying.laid import Ints, Laid

Indices = NDArray[np.intp]
Flags = NDArray[np.bool_]

MOST_TRIPLES = 2000
MOST_RINGS = 60  # more than these are looked at pair by pair only


@dataclass(frozen=True, eq=False)
class Links:
    """``rings`` are rows, by index; everything else counts rings from 0.

    ``numbers`` are linking numbers.  ``groups`` are rings that cannot be parted; every other ring comes
    away alone, but for ``unsure`` ones: those lie under and over one another, and whether a clever hand
    could part them is not known.
    """

    rings: tuple[int, ...]
    numbers: Ints  # (n, n)
    groups: tuple[tuple[int, ...], ...]
    unsure: tuple[tuple[int, ...], ...]
    borromean: tuple[tuple[int, int, int], ...]  # three that hold though no two of them do

    @cached_property
    def said(self) -> str:
        """In a word: separate, chained (some hold each other), all one; "not known" where nothing is proved."""
        if not self.groups:
            return "not known" if self.unsure else "separate"
        return "all one" if len(self.groups[0]) == len(self.rings) else "chained"


def leading_rings(laid: Laid) -> tuple[int, ...]:
    """The first closed row of every motif: what stands for the motif where all its rows lie alike."""
    motif = laid.row_layer.astype(np.intp) * (int(laid.row_motif.max(initial=0)) + 1) + laid.row_motif
    rows = np.flatnonzero(closed_rows(laid))
    _, first = np.unique(motif[rows], return_index=True)
    return tuple(np.sort(rows[first]).tolist())


def links(laid: Laid, crossings: Crossings, lies_over: Flags, rings: Sequence[int] | None = None) -> Links:
    """How ``rings`` (rows; the leading ones of all motifs if not said) hold each other."""
    rows = tuple(rings) if rings is not None else leading_rings(laid)
    drawn = diagram(laid, crossings, lies_over, rows)
    numbers = _linking_numbers(drawn)
    tied = [piece for piece in _stacks(drawn) if len(piece) > 1]
    borromean = _threes(drawn, numbers, tied)
    groups, unsure = _joined(drawn, numbers, tied, borromean)
    return Links(rows, numbers, groups, unsure, borromean)


def _linking_numbers(drawn: Diagram) -> Ints:
    """(n, n) half the signed crossings between each two rings; 0 on the diagonal."""
    count = drawn.count
    signs = np.bincount(drawn.upper * count + drawn.lower, weights=drawn.sign, minlength=count * count)
    table = signs.reshape(count, count)
    both = np.rint((table + table.T) / 2).astype(np.int32)
    np.fill_diagonal(both, 0)
    return both


def _stacks(drawn: Diagram) -> list[tuple[int, ...]]:
    """Rings that lie over and under one another in circles; what is not in one piece can be lifted apart."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components

    ones = np.ones(len(drawn.upper))
    graph = coo_matrix((ones, (drawn.upper, drawn.lower)), shape=(drawn.count, drawn.count))
    count, of = connected_components(graph, directed=True, connection="strong")
    return [tuple(np.flatnonzero(of == k).tolist()) for k in range(count)]


def _threes(drawn: Diagram, numbers: Ints, tied: list[tuple[int, ...]]) -> tuple[tuple[int, int, int], ...]:
    """Three rings, no two of them linked, that hold all the same."""
    found = []
    triples = [three for piece in tied if len(piece) <= MOST_RINGS for three in combinations(piece, 3)]
    for one, two, three in triples[:MOST_TRIPLES]:
        if not (numbers[one, two] or numbers[one, three] or numbers[two, three]):
            part = drawn.of((one, two, three))
            if len(_stacks(part)) == 1 and holds_together(part) and _parted_in_pairs(part):
                found.append((one, two, three))
    return tuple(found)


def _parted_in_pairs(part: Diagram) -> bool:
    """Whether any two of three rings surely come apart: one of them lies wholly on top."""
    return all(len(_stacks(part.of(pair))) == 2 for pair in combinations(range(3), 2))


def _joined(
    drawn: Diagram, numbers: Ints, tied: list[tuple[int, ...]], threes: Sequence[tuple[int, int, int]]
) -> tuple[tuple[tuple[int, ...], ...], tuple[tuple[int, ...], ...]]:
    """Groups that surely hold, and pieces in which more may hold than is proved."""
    groups: list[tuple[int, ...]] = []
    unsure: list[tuple[int, ...]] = []
    for piece in tied:
        if len(piece) <= MOST_RINGS and holds_together(drawn.of(piece)):
            groups.append(piece)
            continue
        pairs = [pair for pair in combinations(piece, 2) if numbers[pair]]
        parts = _merged([*pairs, *(three for three in threes if three[0] in piece)])
        groups.extend(parts)
        unsure.append(piece)
    return tuple(groups), tuple(unsure)


def _merged(sets: Sequence[tuple[int, ...]]) -> list[tuple[int, ...]]:
    """Sets that share a ring made one."""
    merged: list[set[int]] = []
    for some in sets:
        touching = [group for group in merged if group & set(some)]
        merged = [group for group in merged if not group & set(some)]
        merged.append(set(some).union(*touching))
    return sorted(tuple(sorted(group)) for group in merged)
