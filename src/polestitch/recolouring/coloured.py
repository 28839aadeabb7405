"""What of a built design can take a thread each: motifs, stripes, rows or layers.

In: a ``Build`` and ``Wishes``.  Out: ``Coloured``: the parts by name, their neighbours, and their laid rows.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from polestitch.colouring.plans import layer_turns, parts_of
from polestitch.colouring.rules import Indices, Parts, parts_in_turn, parts_meeting
from polestitch.document.rows import RowList, row_list
from polestitch.errors import DesignError
from polestitch.laying.laid import Ints
from polestitch.pipeline import Build
from polestitch.recolouring.wishes import Wishes, giving_way, layer_wished

NOBODY = -1


@dataclass(frozen=True, eq=False)
class Coloured:
    """``rows`` (w,) says of each laid row which part it is of, ``NOBODY`` where it keeps its thread."""

    where: str  # the place in the document that a refusal names
    names: tuple[str, ...]
    parts: Parts
    ways: tuple[Indices, ...]  # turns of the ball, as permutations of the parts
    rows: Ints
    staying: tuple[str, ...] = ()  # threads beside the planned ones in every part


def coloured(build: Build, wishes: Wishes) -> Coloured:
    """The parts; ``DesignError`` where there are fewer than two."""
    if wishes.by == "layers":
        found = _layers(build, wishes)
    else:
        layer = layer_wished(build.design, wishes)
        found = _motifs(build, wishes, layer) if wishes.by == "motifs" else _entries(build, wishes, layer)
    if len(found.names) < 2:
        raise DesignError(found.where, _ALONE[wishes.by])
    return found


_ALONE = {
    "motifs": "has one motif; a colour plan needs several, so plan its rows or stripes instead",
    "stripes": "has rows of one thread only, one stripe; plan its rows one by one instead",
    "rows": "has one row; a colour plan needs several",
    "layers": "are fewer than two; a colour plan needs several",
}


def _motifs(build: Build, wishes: Wishes, layer: int) -> Coloured:
    laid, spec = build.laid, build.design.layers[layer]
    away = giving_way(spec, wishes)
    index = [thread.name for thread in build.design.threads].index(away)
    mine = (laid.row_layer == layer) & (laid.row_thread == index)
    own = [motif for motif in build.motifs if motif.layer == layer]
    return Coloured(
        f"layers[{layer}]",
        tuple(motif.place for motif in own),
        parts_of(own),
        layer_turns(build.motifs, layer, wishes.mirrors),
        np.where(mine, laid.row_motif, NOBODY).astype(np.int32),
        tuple(name for name in dict.fromkeys(row_list(spec.rows).threads) if name != away),
    )


def _entries(build: Build, wishes: Wishes, layer: int) -> Coloured:
    """Single rows of the row list, or stripes: runs of rows of one thread."""
    rows = row_list(build.design.layers[layer].rows)
    part = stripe_of(rows.threads) if wishes.by == "stripes" else tuple(range(len(rows.threads)))
    count = max(part) + 1
    plan = {(m.number - 1, row.number): row.plan for m in build.motifs if m.layer == layer for row in m.rows}
    laid = build.laid
    mine = [
        part[plan[int(motif), int(number)] % len(part)] if of == layer else NOBODY
        for of, motif, number in zip(laid.row_layer, laid.row_motif, laid.row_number)
    ]
    return Coloured(
        f"layers[{layer}].rows",
        _entry_names(part),
        parts_in_turn(count, ring=count > 2 and _again(rows, plan.values())),
        (np.arange(count),),
        np.array(mine, dtype=np.int32),
    )


def _again(rows: RowList, used: Iterable[int]) -> bool:
    """Whether the list is worked over and over, so that its first stripe follows its last."""
    return rows.until is not None and max(used, default=0) >= len(rows.threads)


def stripe_of(threads: Sequence[str]) -> tuple[int, ...]:
    """By row which stripe it is of, counted from 0."""
    changes = np.cumsum([0, *(one != other for one, other in pairwise(threads))])
    return tuple(int(k) for k in changes)


def _entry_names(part: Sequence[int]) -> tuple[str, ...]:
    names = []
    for k in range(max(part) + 1):
        rows = [n for n, own in enumerate(part, 1) if own == k]
        words = {1: f"row {rows[0]}", 2: f"rows {rows[0]} and {rows[-1]}"}
        names.append(words.get(len(rows), f"rows {rows[0]} to {rows[-1]}"))
    return tuple(names)


def _layers(build: Build, wishes: Wishes) -> Coloured:
    """All layers, each by the thread most of its rows have; neighbours are those whose threads meet."""
    laid, layers = build.laid, build.design.layers
    if wishes.instead_of:
        raise DesignError(
            "instead_of",
            "in place of which thread is asked for motifs only; each layer gives up the thread of most of its rows",
        )
    names = [thread.name for thread in build.design.threads]
    main = np.array([names.index(giving_way(layer, wishes)) for layer in layers], dtype=np.int32)
    of = laid.row_layer[laid.arc_row]
    one, other = of[build.crossings.first], of[build.crossings.second]
    pairs = np.unique(np.sort(np.stack([one, other], axis=1), axis=1), axis=0)
    meeting = pairs[pairs[:, 0] != pairs[:, 1]].astype(np.intp)
    mine = laid.row_thread == main[laid.row_layer] if len(layers) else np.zeros(0, dtype=bool)
    count = len(layers)
    return Coloured(
        "layers",
        tuple(layer.name for layer in layers),
        parts_meeting(count, meeting),
        (np.arange(count),),
        np.where(mine, laid.row_layer, NOBODY).astype(np.int32),
    )
