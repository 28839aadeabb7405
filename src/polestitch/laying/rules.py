"""What the rules of layers ask of crossings, rule by rule.

In: ``Laid``, its crossings and the rules.  Out: a ``Claim`` for each.

Interlocked (nejiri): every thread goes under where it enters another motif and over where it leaves it,
so motifs hold each other like rings.  Published: temarikai.com/HowToPages/nejiri.html.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.groups import Along, counted
from polestitch.laying.laid import Laid
from polestitch.laying.woven import woven
from polestitch.sphere.arcs import dot

Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]

WEAVES = ("woven", "woven bands")
PATTERNS = {"under first": "UO", "over first": "OU", "every second": "OU"}
ALL_ROUND = 0.05  # a motif whose thread's middle lies this near the ball's own has no inside


@dataclass(frozen=True)
class UnderRule:
    """How ``layer`` takes the threads of ``other``, an earlier layer or itself.

    "all": under everywhere.  "under first", "over first": by turns, group by group along its thread.
    "every second": over one thread and under the next, singly.  "pattern OUUO": those letters over and
    over, group by group.  "interlocked", "woven", "woven bands": as ``rules`` and ``woven`` say.
    A layer that names itself takes its own earlier motifs so; if it has one motif only, its other legs.
    """

    layer: int
    other: int
    rule: str


@dataclass(frozen=True, eq=False)
class Claim:
    """What one rule says of the ``m`` crossings it is about."""

    crossing: Indices  # (m,)
    over: Flags  # (m,) the second thread lies over the first
    open: Flags  # (m,) it had to be decided without the rule


def claims(laid: Laid, crossings: Crossings, rules: Sequence[UnderRule]) -> tuple[Claim, ...]:
    """What each rule says, crossing by crossing; layers that weave weave together, whoever names whom."""
    weaves = {word: _weave(laid, crossings, [r for r in rules if r.rule == word]) for word in WEAVES}
    return tuple(
        _taken(laid, crossings, rule, weaves[rule.rule]) if rule.rule in WEAVES else _claim(laid, crossings, rule)
        for rule in rules
    )


def _weave(laid: Laid, crossings: Crossings, rules: Sequence[UnderRule]) -> tuple[Flags, Flags]:
    """(k,) over and (k,) open at every crossing of the ball that these weaving rules are about."""
    about, over, left = np.zeros((3, len(crossings)), dtype=bool)
    for rule in rules:
        about[_concerned(laid, crossings, rule)[0]] = True
    chosen = np.flatnonzero(about)
    if len(chosen):
        over[chosen], left[chosen] = woven(laid, crossings, chosen, banded=rules[0].rule == "woven bands")
    return over, left


def _taken(laid: Laid, crossings: Crossings, rule: UnderRule, weave: tuple[Flags, Flags]) -> Claim:
    chosen, _ = _concerned(laid, crossings, rule)
    return Claim(chosen, weave[0][chosen], weave[1][chosen])


def _claim(laid: Laid, crossings: Crossings, rule: UnderRule) -> Claim:
    chosen, own_second = _concerned(laid, crossings, rule)
    nothing = np.zeros(len(chosen), dtype=bool)
    if rule.rule == "all":
        return Claim(chosen, ~own_second, nothing)
    if rule.rule == "interlocked":
        return Claim(chosen, _entering(laid, crossings, chosen, own_second) != own_second, nothing)
    letters = PATTERNS.get(rule.rule) or rule.rule.removeprefix("pattern ")
    along = _along(crossings, chosen, own_second)
    found = counted(laid, along, tuple(letter == "U" for letter in letters), singly=rule.rule == "every second")
    return Claim(chosen, found.below != own_second, found.open)


def _concerned(laid: Laid, crossings: Crossings, rule: UnderRule) -> tuple[Indices, Flags]:
    """The crossings a rule is about, and whether the ruled layer's thread is the later one there."""
    layers = laid.row_layer[laid.arc_row]
    first, second = layers[crossings.first], layers[crossings.second]
    own_second = (second == rule.layer) & (first == rule.other)
    if rule.layer == rule.other:
        chosen = np.flatnonzero(own_second)
        chosen = chosen[_apart(laid, crossings, chosen, rule.layer)]
    else:
        chosen = np.flatnonzero(own_second | ((first == rule.layer) & (second == rule.other)))
    return chosen, own_second[chosen]


def _apart(laid: Laid, crossings: Crossings, chosen: Indices, layer: int) -> Flags:
    """(m,) whether two threads of a layer are of different motifs; of its only motif, legs that share no corner."""
    one, two = laid.arc_span[crossings.first[chosen]], laid.arc_span[crossings.second[chosen]]
    motif = laid.row_motif[laid.span_row]
    if len(np.unique(laid.row_motif[laid.row_layer == layer])) > 1:
        return np.asarray(motif[one] != motif[two])
    legs = np.bincount(laid.span_row)
    begin = np.cumsum(legs) - legs
    row_one, row_two = laid.span_row[one], laid.span_row[two]
    gap = np.abs((one - begin[row_one]) - (two - begin[row_two]))
    around = np.minimum(gap, np.abs(np.minimum(legs[row_one], legs[row_two]) - gap))
    return np.asarray((around > 1) | (legs[row_one] == 1) & (row_one != row_two))


def _entering(laid: Laid, crossings: Crossings, chosen: Indices, own_second: Flags) -> Flags:
    """(m,) whether the ruled thread crosses there into the other motif, not out of it."""
    one, two = crossings.first[chosen], crossings.second[chosen]
    own, other = np.where(own_second, two, one), np.where(own_second, one, two)
    ahead = np.cross(laid.normal[own], crossings.point[chosen])
    inside = _insides(laid)[laid.arc_row[other]]
    return np.asarray(dot(ahead, laid.normal[other]) * inside > 0)


def _insides(laid: Laid) -> NDArray[np.float64]:
    """(w,) on which side of each row its motif lies: 1 left of the thread, -1 right; left for a great circle."""
    _, motif = np.unique(np.stack([laid.row_layer, laid.row_motif]), axis=1, return_inverse=True)
    motif = motif.ravel()[laid.arc_row]
    arcs = np.arange(len(laid.offset), dtype=np.int32)
    middles = laid.at(arcs, laid.sweep / 2) * (laid.length * (laid.sweep < 2 * np.pi))[:, None]
    middles += (laid.offset * laid.length * (laid.sweep >= 2 * np.pi))[:, None] * laid.normal
    total = np.bincount(motif, weights=laid.length)
    middle = np.stack([np.bincount(motif, weights=column) for column in middles.T], axis=1)
    turning = np.bincount(motif, weights=laid.length * dot(laid.normal, np.asarray(middle[motif], dtype=float)))
    has = np.linalg.norm(middle, axis=1) > ALL_ROUND * total
    first = np.searchsorted(laid.arc_row, np.arange(len(laid.row_layer)))
    return np.asarray(np.where(has & (turning < 0), -1.0, 1.0)[motif[first]])


def _along(crossings: Crossings, chosen: Indices, own_second: Flags) -> Along:
    """The ``chosen`` crossings (m,) as the ruled layer's threads meet them."""
    one, two = crossings.first[chosen], crossings.second[chosen]
    t = np.where(own_second, crossings.t_second[chosen], crossings.t_first[chosen])
    other = np.where(own_second, one, two)
    return Along(chosen, np.where(own_second, two, one), other, t, crossings.point[chosen])
