"""The order of work: which row of which motif is stitched when.

In: the document's layers and their motifs.  Out: ``Work`` items in stitching order.

Overlapped: motif after motif.  Layered (kousa): row 1 on every motif, then row 2 on every motif.
Layers that share a ``together`` word take their rows in turn; each such group is worked where its
first layer stands in the list.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from polestitch.document.design import Layer
from polestitch.stitching.motifs import Motif


class Work(NamedTuple):
    """One row to stitch: index into all motifs, index into that motif's rows."""

    motif: int
    row: int


def schedule(layers: Sequence[Layer], motifs: Sequence[Motif]) -> tuple[Work, ...]:
    """Every row of every motif once, in the order it is stitched."""
    by_layer = [[k for k, motif in enumerate(motifs) if motif.layer == n] for n in range(len(layers))]
    order: list[Work] = []
    for group in _groups(layers):
        members = [k for n in group for k in by_layer[n]]
        layered = len(group) > 1 or layers[group[0]].combine == "layered"
        order.extend(_in_turn(members, motifs) if layered else _one_by_one(members, motifs))
    return tuple(order)


def _groups(layers: Sequence[Layer]) -> list[list[int]]:
    groups: dict[str, list[int]] = {}
    for n, layer in enumerate(layers):
        groups.setdefault(f"with {layer.together}" if layer.together else f"alone {n}", []).append(n)
    return list(groups.values())


def _one_by_one(members: Sequence[int], motifs: Sequence[Motif]) -> Iterator[Work]:
    return (Work(k, row) for k in members for row in range(len(motifs[k].rows)))


def _in_turn(members: Sequence[int], motifs: Sequence[Motif]) -> Iterator[Work]:
    rounds = max((len(motifs[k].rows) for k in members), default=0)
    return (Work(k, row) for row in range(rounds) for k in members if row < len(motifs[k].rows))
