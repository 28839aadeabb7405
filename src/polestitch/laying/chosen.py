"""Over and under settled by hand, crossing by crossing.

In: ``Laid``, its crossings, the layers with their chosen crossings, the motifs and the turns of the marking.
Out: which crossings each choice is about, and flags that hold against every rule.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from polestitch.document.design import Chosen, Layer
from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Ints, Laid
from polestitch.sphere.arcs import Points
from polestitch.stitching.motifs import Motif

Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]

LIKE = 2e-3  # radians two like crossings may lie apart once turned: a tenth of a thread on a common ball


@dataclass(frozen=True, eq=False)
class Strands:
    """Whose thread each arc is, as a maker names it: layer, motif, row and leg, all as numbers (a,)."""

    laid: Laid
    motifs: Sequence[Motif]

    @cached_property
    def leg(self) -> NDArray[np.int64]:
        """(a,) 1-based leg of its row."""
        first = np.searchsorted(self.laid.span_row, np.arange(len(self.laid.row_layer)))
        return np.asarray(self.laid.arc_span - first[self.laid.arc_row] + 1)

    @cached_property
    def place(self) -> dict[tuple[int, str], int]:
        """Motif numbers (0-based) by layer and place."""
        return {(motif.layer, motif.place): motif.number - 1 for motif in self.motifs}

    def of(self, arcs: Ints | Indices, key: tuple[int, int | None, int | None, int | None]) -> Flags:
        """(m,) whether arcs are of layer, motif, row and leg; ``None`` is any."""
        laid = self.laid
        row = laid.arc_row[arcs]
        told = (laid.row_layer[row], laid.row_motif[row], laid.row_number[row], self.leg[arcs])
        fits = np.ones(len(arcs), dtype=bool)
        for values, wanted in zip(told, key):
            if wanted is not None:
                fits &= values == wanted
        return fits


@dataclass(frozen=True, eq=False)
class Met:
    """The crossings one choice is about, and the later thread of which of them is the chosen layer's own."""

    layer: int
    number: int  # of the choice, in its layer's list
    chosen: Chosen
    crossing: Indices  # (m,)
    own_second: Flags  # (m,)


def met(
    laid: Laid, crossings: Crossings, layers: Sequence[Layer], motifs: Sequence[Motif], turns: Sequence[Points]
) -> Iterator[Met]:
    """Every choice of every layer with what it is about; nothing where its threads do not cross any more."""
    index = {layer.name: k for k, layer in enumerate(layers)}
    strands = Strands(laid, motifs)
    for k, layer in enumerate(layers):
        for n, chosen in enumerate(layer.crossings):
            crossing, own = _about(crossings, strands, (k, index[chosen.other]), chosen, turns)
            yield Met(k, n, chosen, crossing, own)


def as_chosen(lies_over: Flags, found: Sequence[Met]) -> Flags:
    """``lies_over`` (k,) with every choice in it; of two for one crossing the later holds."""
    settled = lies_over.copy()
    for one in found:
        settled[one.crossing] = one.own_second == (one.chosen.lies == "over")
    return settled


def _about(
    crossings: Crossings, strands: Strands, layers: tuple[int, int], chosen: Chosen, turns: Sequence[Points]
) -> tuple[Indices, Flags]:
    own_motif = strands.place.get((layers[0], chosen.place))
    other_motif = strands.place.get((layers[1], chosen.other_place))
    if own_motif is None or other_motif is None:
        return np.zeros(0, dtype=np.intp), np.zeros(0, dtype=bool)
    whole = chosen.at == "whole group"
    own = (layers[0], own_motif, None if whole else chosen.row, chosen.leg)
    other = (layers[1], other_motif, None if whole else chosen.other_row, chosen.other_leg)
    found, own_second = _between(crossings, strands, own, other)
    if chosen.at == "every like place" and len(found):
        return _like(crossings, strands, (int(found[0]), bool(own_second[0])), turns)
    return found, own_second


def _between(
    crossings: Crossings,
    strands: Strands,
    own: tuple[int, int | None, int | None, int | None],
    other: tuple[int, int | None, int | None, int | None],
) -> tuple[Indices, Flags]:
    """Crossings of two threads; where they are of one layer, the own one is the later."""
    one, two = crossings.first, crossings.second
    second = strands.of(two, own) & strands.of(one, other)
    first = strands.of(one, own) & strands.of(two, other)
    if own[0] == other[0]:
        first &= False
    chosen = np.flatnonzero(first | second)
    return chosen, second[chosen]


def _like(
    crossings: Crossings, strands: Strands, told: tuple[int, bool], turns: Sequence[Points]
) -> tuple[Indices, Flags]:
    """Wherever a turn takes a crossing to one of the same layers and rows, thread to thread."""
    laid, (crossing, own_second) = strands.laid, told
    arcs = (crossings.second, crossings.first) if own_second else (crossings.first, crossings.second)
    own, other = int(arcs[0][crossing]), int(arcs[1][crossing])
    keys = [_layer_row(laid, arc) for arc in (own, other)]
    fits_first = strands.of(crossings.first, keys[0]) & strands.of(crossings.second, keys[1])
    fits_second = strands.of(crossings.second, keys[0]) & strands.of(crossings.first, keys[1])
    found: dict[int, bool] = {}
    for turn in turns:
        at = turn @ crossings.point[crossing]
        near = np.flatnonzero((fits_first | fits_second) & (np.linalg.norm(crossings.point - at, axis=1) < LIKE))
        for k in near.tolist():
            found.setdefault(k, _own_is_second(laid, crossings, k, turn @ laid.normal[own], turn @ laid.normal[other]))
    order = sorted(found)
    return np.array(order, dtype=np.intp), np.array([found[k] for k in order], dtype=bool)


def _layer_row(laid: Laid, arc: int) -> tuple[int, None, int, None]:
    row = laid.arc_row[arc]
    return int(laid.row_layer[row]), None, int(laid.row_number[row]), None


def _own_is_second(laid: Laid, crossings: Crossings, k: int, own: Points, other: Points) -> bool:
    """Which thread of a like crossing runs as the own one does, once turned."""
    first, second = laid.normal[crossings.first[k]], laid.normal[crossings.second[k]]
    straight = abs(float(first @ other)) + abs(float(second @ own))
    return straight >= abs(float(first @ own)) + abs(float(second @ other))
