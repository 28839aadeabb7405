"""Colour plans for a layer of a design.

In: the motifs of a ball, a layer, threads and rules.  Out: ``Plans``.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from polestitch.colouring.counting import different_plans
from polestitch.colouring.rules import Rules
from polestitch.colouring.search import best_plans
from polestitch.colouring.turns import turns
from polestitch.errors import DesignError
from polestitch.stitching.motifs import Motif

MOST_SPOTS = 64


@dataclass(frozen=True)
class Plans:
    """Which thread each motif gets, best plan first, by index into the threads asked for."""

    spots: tuple[str, ...]
    plans: tuple[tuple[int, ...], ...]
    apart: tuple[float, ...]  # radians between the nearest two motifs of one thread
    different: int | None  # how many plans there are in all, turned copies counted once
    turns: int  # in how many ways the ball can lie
    proven: bool  # no plan has same threads farther apart


def colour_plans(motifs: Sequence[Motif], layer: int, rules: Rules) -> Plans:
    """The best plans for the motifs of ``layer``; turns of the ball that keep every layer's places are taken out.

    ``DesignError`` where the layer has one motif, or no plan can keep the rules.
    """
    own = [motif for motif in motifs if motif.layer == layer]
    where = f"layers[{layer}]"
    if len(own) < 2:
        raise DesignError(where, "has one motif; a colour plan needs several")
    if len(own) > MOST_SPOTS:
        raise DesignError(where, f"has {len(own)} motifs; plan at most {MOST_SPOTS} at a time")
    at = np.array([motif.middle for motif in own])
    ways = _turns(motifs, layer)
    found = best_plans(at, rules, ways)
    if not found.plans:
        raise DesignError(
            where,
            "no plan keeps these rules" + ("" if found.proven else " that could be found")
            + "; take one more thread, or let neighbours match",
        )  # fmt: skip
    return Plans(
        tuple(motif.place for motif in own),
        found.plans,
        found.apart,
        different_plans(at, rules, ways),
        len(ways),
        found.proven,
    )


def _turns(motifs: Sequence[Motif], layer: int) -> tuple[np.ndarray[tuple[int], np.dtype[np.intp]], ...]:
    """Turns of all layers' places, as permutations of one layer's motifs."""
    kinds = np.array([motif.layer for motif in motifs])
    at = np.array([motif.middle for motif in motifs])
    own = np.flatnonzero(kinds == layer)
    number = {int(k): n for n, k in enumerate(own)}
    found = dict.fromkeys(tuple(number[int(k)] for k in order[own]) for order in turns(at, kinds))
    return tuple(np.array(order) for order in found)
