"""One layer of a document taken apart into several with the same work.

In: a document as plain data, its ``Build``, the layer and which motifs go together in which thread.  Out: a document.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np

from polestitch.document.design import Layer
from polestitch.document.rows import row_list
from polestitch.errors import DesignError
from polestitch.pipeline import Build
from polestitch.recolouring.rowtext import row_text
from polestitch.stitching.motifs import Motif
from polestitch.stitching.seats import every_turn

Raw = dict[str, Any]
Part = tuple[str, tuple[int, ...]]  # thread, motifs by index in the layer
LONGEST = 60


def crossing_motifs(made: Build, layer: int) -> set[tuple[int, int]]:
    """Pairs of the layer's motifs, by index, whose threads cross; the earlier in the list first."""
    laid, found = made.laid, made.crossings
    one, other = laid.arc_row[found.first], laid.arc_row[found.second]
    both = (laid.row_layer[one] == layer) & (laid.row_layer[other] == layer)
    pairs = np.sort(np.stack([laid.row_motif[one[both]], laid.row_motif[other[both]]], axis=1), axis=1)
    return {(int(a), int(b)) for a, b in np.unique(pairs, axis=0) if a != b}


def parted(document: Raw, made: Build, layer: int, parts: Sequence[Part], away: str) -> Raw:
    """The document with the layer as ``parts``, in which their thread stands instead of ``away``."""
    spec, raw = made.design.layers[layer], document["layers"][layer]
    if every_turn(spec) and len(parts) > 1:
        raise DesignError(
            f"layers[{layer}].where", "this layer asks for every turn at once; name the places to colour them apart"
        )
    own = [motif for motif in made.motifs if motif.layer == layer]
    names = _names(spec.name, [thread for thread, _ in parts], [entry.name for entry in made.design.layers])
    home = {own[k].place: name for name, (_, motifs) in zip(names, parts) for k in motifs}
    new = []
    for k, (name, (thread, motifs)) in enumerate(zip(names, parts)):
        rows = _rows(spec, [own[n] for n in motifs], (away, thread))
        places = raw["where"] if len(parts) == 1 else [own[n].place for n in motifs]
        part = {**raw, "name": name, "rows": rows, "where": places, **_together(spec, len(parts), names)}
        new.append(_settled(part, spec.name, home, names[: k + 1]))
    later = [_settled(entry, spec.name, home, names) for entry in document["layers"][layer + 1 :]]
    return {**document, "layers": [*document["layers"][:layer], *new, *later]}


def _together(spec: Layer, count: int, names: Sequence[str]) -> Raw:
    """Parts of a layered layer take their rows in turn, as its motifs did."""
    return (
        {"together": f"rows of {names[0]}"[:LONGEST]}
        if spec.combine == "layered" and not spec.together and count > 1
        else {}
    )


def _rows(spec: Layer, own: Sequence[Motif], swap: tuple[str, str]) -> str:
    """The row list with one thread for another; until neighbours is counted, since a part has other neighbours."""
    rows, (away, thread) = row_list(spec.rows), swap
    threads = [thread if name == away else name for name in rows.threads]
    if rows.until != "neighbours":
        return row_text(threads, rows.until)
    counts = {max(row.plan for row in motif.rows) + 1 for motif in own}
    if len(counts) > 1:
        raise DesignError(
            "rows", "its rows reach neighbours after more rows at some places than at others; count them yourself"
        )
    return row_text([threads[k % len(threads)] for k in range(counts.pop())])


def _names(whole: str, threads: Sequence[str], taken: Sequence[str]) -> list[str]:
    """A name for each part that no other layer has."""
    if len(threads) == 1:
        return [whole]
    used, names = set(taken), list[str]()
    for thread in threads:
        stem = f"{whole[: LONGEST - len(thread) - 9]} in {thread}"[: LONGEST - 4]
        name, number = stem, 2
        while name in used:
            name, number = f"{stem} {number}", number + 1
        used.add(name)
        names.append(name)
    return names


def _settled(entry: Raw, whole: str, home: dict[str, str], earlier: Sequence[str]) -> Raw:
    """A layer's rules and choices with ``whole`` by the names of its parts; ``earlier`` are those it may name."""
    entry = dict(entry)
    if entry.get("under"):
        rules = [[{**rule, "layer": name} for name in earlier] if rule["layer"] == whole else [rule]
                 for rule in entry["under"]]  # fmt: skip
        entry["under"] = [rule for each in rules for rule in each]
    if entry.get("crossings"):
        mine = [one for one in entry["crossings"] if home.get(one["place"], entry["name"]) == entry["name"]]
        kept = mine if entry["name"] in home.values() else entry["crossings"]
        entry["crossings"] = [_chosen(one, whole, home) for one in kept]
    return entry


def _chosen(one: Raw, whole: str, home: dict[str, str]) -> Raw:
    return {**one, "other": home.get(one["other_place"], whole)} if one["other"] == whole else one
