"""Colour plans for the motifs of a layer.

In: the motifs of a ball, a layer, rules.  Out: ``Plans``.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from polestitch.colouring.counting import different_plans
from polestitch.colouring.rules import Indices, Parts, Rules, parts_at
from polestitch.colouring.search import Found, best_plans, contrasting_plans
from polestitch.colouring.turns import turns
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points, unit
from polestitch.stitching.motifs import Motif

MOST_SPOTS = 64
Order = Literal["apart", "contrast"]
STILL = 1e-3  # a motif whose thread lies evenly all round has its middle nowhere


@dataclass(frozen=True)
class Plans:
    """Which thread each part gets, best plan first, by index into the threads asked for."""

    spots: tuple[str, ...]  # what the parts are called
    plans: tuple[tuple[int, ...], ...]
    worst: tuple[float, ...]  # by plan: between the nearest two parts of one thread, or the least step of neighbours
    order: str  # apart, contrast or graded
    different: int | None  # how many plans there are in all, turned copies counted once
    turns: int  # in how many ways the ball can lie
    proven: bool  # no plan is better
    parts: Parts
    mirrors: bool = False  # mirrored copies are counted once too
    names: tuple[str, ...] = ()  # what each plan is called, if anything


@dataclass(frozen=True, eq=False)
class Wanted:
    """What makes a plan good: like threads apart, or neighbours ``unlike`` (colours, colours) each other."""

    order: Order = "apart"
    unlike: Points | None = None
    mirrors: bool = False


def colour_plans(motifs: Sequence[Motif], layer: int, rules: Rules, wanted: Wanted | None = None) -> Plans:
    """The best plans for the motifs of ``layer``; turns of the ball that keep every layer's places are taken out.

    ``DesignError`` where the layer has one motif, or no plan can keep the rules.
    """
    wanted = wanted or Wanted()
    own = [motif for motif in motifs if motif.layer == layer]
    where = f"layers[{layer}]"
    if len(own) < 2:
        raise DesignError(where, "this layer has one motif; a colour plan needs several, so plan its rows instead")
    parts = parts_of(own)
    ways = layer_turns(motifs, layer, wanted.mirrors)
    return planned(tuple(motif.place for motif in own), parts, rules, (where, ways, wanted))


def planned(names: tuple[str, ...], parts: Parts, rules: Rules, how: tuple[str, Sequence[Indices], Wanted]) -> Plans:
    """The best plans for any parts; ``how``: where a refusal belongs, the ways the parts can lie, what is wanted."""
    where, ways, wanted = how
    if len(parts) > MOST_SPOTS:
        raise DesignError(where, f"this layer has {len(parts)} parts to colour; plan at most {MOST_SPOTS} at a time")
    check_uses(len(parts), rules)
    found = _found(parts, rules, ways, wanted)
    if not found.plans:
        raise DesignError(
            where,
            "no plan keeps these rules" + ("" if found.proven else " that could be found")
            + "; take one more thread, or let neighbours match",
        )  # fmt: skip
    return Plans(
        names,
        found.plans,
        found.worst,
        wanted.order,
        different_plans(parts, rules, ways),
        len(ways),
        found.proven,
        parts,
        wanted.mirrors,
    )


def check_uses(count: int, rules: Rules) -> None:
    """``DesignError`` where threads are asked for more often than there are parts, or not often enough."""
    least, most = (sum(bound) for bound in zip(*rules.uses or ((0, count),)))
    if least > count:
        raise DesignError(
            "threads", f"these threads are wanted {least} times in all, but there are {count} parts; ask for fewer"
        )
    if most < count:
        raise DesignError(
            "threads", f"these threads are allowed {most} times in all, but there are {count} parts; allow more"
        )


def _found(parts: Parts, rules: Rules, ways: Sequence[Indices], wanted: Wanted) -> Found:
    if wanted.order == "contrast" and wanted.unlike is not None:
        return contrasting_plans(parts, rules, ways, wanted.unlike)
    return best_plans(parts, rules, ways)


def parts_of(own: Sequence[Motif]) -> Parts:
    """The motifs of one layer, where they lie."""
    return parts_at(_even([spots(motif) for motif in own]))


def layer_turns(motifs: Sequence[Motif], layer: int, mirrors: bool = False) -> tuple[Indices, ...]:
    """Turns of all layers' places, as permutations of one layer's motifs."""
    each = [spots(motif) for motif in motifs]
    at = np.concatenate(each)
    owner = np.repeat(np.arange(len(motifs)), [len(one) for one in each])
    kinds = np.array([motif.layer for motif in motifs])
    own = np.flatnonzero(kinds == layer)
    number = {int(k): n for n, k in enumerate(own)}
    first = np.searchsorted(owner, own)
    ways = turns(at, kinds[owner], mirrors)
    found = dict.fromkeys(tuple(number[int(owner[k])] for k in order[first]) for order in ways)
    return tuple(np.array(order) for order in found if len(set(order)) == len(own))


def spots(motif: Motif) -> Points:
    """(m, 3) where a motif lies: its middle, or for one that goes round the ball both ends of its axis.

    What is worked over the whole ball lies where its thread does; ``middle`` says nothing of it.
    """
    if motif.site.kind in ("circle", "poles"):
        return np.stack([motif.middle, -motif.middle])
    if motif.site.kind != "ball":
        return motif.middle[None]
    places = [row.places for row in motif.rows if row.turn is None]
    middle = np.concatenate(places).mean(axis=0) @ motif.frame.T if places else np.zeros(3)
    return unit(middle)[None] if float(middle @ middle) > STILL else np.stack([motif.middle, -motif.middle])


def _even(each: Sequence[Points]) -> Points:
    """(n, 3), or (n, m, 3) with the spots of some said twice where others have more."""
    most = max(len(one) for one in each)
    even = np.stack([np.resize(one, (most, 3)) for one in each])
    return even[:, 0] if most == 1 else even
