"""Over and under: rules that fail or contradict each other, and the order that spares the needle.

In: a build.  Out: findings.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby

import numpy as np

from polestitch.checks.finding import Finding, Made, Severity, nearest_name, spot
from polestitch.document.said import listed
from polestitch.laying.links import MOST_RINGS, Links, leading_rings, links
from polestitch.laying.needle import rows_under
from polestitch.laying.order import Order, stitching_order
from polestitch.laying.rules import UnderRule
from polestitch.laying.weave import NONE, passes

MOST_TOLD = 6  # runs of an order, or threads of a ring, that a sentence can hold
HOLDING = ("interlocked", "woven", "woven bands")
WORTH_IT = 0.8  # an order is offered if it leaves less than this share of the unders


def open_rules(made: Made) -> Iterator[Finding]:
    """Rules that a closed thread cannot keep all the way round, or that threads at one point do not allow."""
    for number, (rule, index) in enumerate(_rules(made)):
        left = np.flatnonzero(made.relation.open & (made.relation.told == number))
        if not len(left):
            continue
        layer = made.design.layers[rule.layer]
        first = made.crossings.point[left[0]]
        where = nearest_name(made, first)
        sentence = (
            f'"{layer.name}" cannot keep "{rule.rule}" with {_other(made, rule)} everywhere: at {len(left)} '
            f"crossing{'s' if len(left) > 1 else ''}, first near {where}, over and under do not come out even. "
            f"There the count simply goes on. {_advice(rule.rule)}"
        )
        row = int(made.laid.row_number[made.laid.arc_row[made.crossings.second[left[0]]]])
        remedy = {"path": f"layers[{rule.layer}].under[{index}].rule", "value": "all"}
        yield Finding("rule left open", "care", sentence, rule.layer, row, where, remedy, spot(first))


def _advice(rule: str) -> str:
    if rule.startswith("woven"):
        return "Move one of the layers a little, weave fewer of them, or mark those crossings yourself."
    return "Choose a pattern whose length fits the number of crossings, or accept one odd place."


def _other(made: Made, rule: UnderRule) -> str:
    return "itself" if rule.layer == rule.other else f'"{made.design.layers[rule.other].name}"'


def _rules(made: Made) -> list[tuple[UnderRule, int]]:
    """Every rule of the document with its place in its layer's own list, in the order they are resolved."""
    index = {layer.name: k for k, layer in enumerate(made.design.layers)}
    return [
        (UnderRule(k, index[under.layer], under.rule), n)
        for k, layer in enumerate(made.design.layers)
        for n, under in enumerate(layer.under)
    ]


def contradictions(made: Made) -> Iterator[Finding]:
    """Two rules that ask for opposite things at the same crossings."""
    rules, against = _rules(made), made.relation.against
    for number in np.unique(against[against != NONE]).tolist():
        met = np.flatnonzero(against == number)
        rule, (other, index) = rules[int(made.relation.told[met[0]])][0], rules[number]
        sentence = (
            f'Two rules of "{made.design.layers[rule.layer].name}" contradict each other at {len(met)} crossings: '
            f'"{other.rule}" with {_other(made, other)} asks for the opposite of "{rule.rule}" with '
            f"{_other(made, rule)}. The later one holds. Take one of them out."
        )
        yield Finding("rules contradict", "care", sentence, rule.layer, address=None, remedy=_without(other, index))


def lost_choices(made: Made) -> Iterator[Finding]:
    """Crossings settled by hand whose threads do not cross any more."""
    for one in made.by_hand:
        if len(one.crossing):
            continue
        told = one.chosen
        sentence = (
            f"You settled where row {told.row} at {told.place} lies {told.lies} row {told.other_row} of "
            f'"{told.other}" at {told.other_place}. These two do not cross there any more, so nothing is done. '
            "Take it out, or settle the crossing anew."
        )
        remedy = {"path": f"layers[{one.layer}].crossings[{one.number}]", "value": None}
        yield Finding("choice finds nothing", "care", sentence, one.layer, remedy=remedy)


def _without(rule: UnderRule, index: int) -> dict[str, object]:
    return {"path": f"layers[{rule.layer}].under[{index}]", "value": None}


def needle_work(made: Made) -> Iterator[Finding]:
    """How often the needle passes under, why no order spares it, and which order spares it most."""
    ruled = any(layer.under or layer.crossings for layer in made.design.layers)
    if not ruled and not len(rows_under(made.laid, made.crossings, made.over)):
        return  # a technique that weaves within its own motif says so itself
    needle = passes(made.laid, made.crossings, made.over)
    if not needle.crossings.sum():
        return
    order = stitching_order(made.laid, made.crossings, made.over)
    runs = int(needle.passes.sum())
    begin = f"The needle has to pass under earlier thread {runs} time{'s' if runs > 1 else ''} on this ball."
    row = int(np.flatnonzero(needle.passes)[0])
    layer, number = int(made.laid.row_layer[row]), int(made.laid.row_number[row])
    sentence = " ".join(part for part in (begin, _why(made, order), _better(made, order)) if part)
    yield Finding("needle under", "note", sentence, layer, number)


def rings(made: Made) -> Iterator[Finding]:
    """Whether what is to hold each other like rings does so: for every layer interlocked or woven."""
    for rule, index in _rules(made):
        if rule.rule not in HOLDING:
            continue
        held = [k for k in leading_rings(made.laid) if made.laid.row_layer[k] in (rule.layer, rule.other)]
        if not 1 < len(held) <= MOST_RINGS:
            continue
        found = links(made.laid, made.crossings, made.over, held)
        loose = _loose(found)
        remedy = None if found.groups else {"path": f"layers[{rule.layer}].under[{index}].rule", "value": "woven"}
        severity: Severity = "care" if found.said == "separate" or (found.groups and loose) else "note"
        first = _place(made, found.rings[loose[0]]) if loose else None
        sentence = _held_said(made, rule, found, first)
        yield Finding("rings", severity, sentence, rule.layer, address=first, remedy=remedy)


def _loose(found: Links) -> list[int]:
    """Rings that surely come away alone."""
    held = {ring for group in (*found.groups, *found.unsure) for ring in group}
    return [ring for ring in range(len(found.rings)) if ring not in held]


def _held_said(made: Made, rule: UnderRule, found: Links, loose: str | None) -> str:
    name, count = f'"{made.design.layers[rule.layer].name}" with {_other(made, rule)}', len(found.rings)
    if found.said == "all one":
        hidden = (
            ""
            if np.any(found.numbers)
            else " No two of them are linked; only all together hold, as in Borromean rings."
        )
        return f"{name}: all {count} rings hold each other, so that none can be lifted off.{hidden}"
    if found.said == "separate":
        return f"{name}: nothing holds. Each of the {count} rings could be lifted off. They may not reach each other."
    if found.said == "not known":
        return f"{name}: it is not known whether the {count} rings hold each other. Try it with two cords first."
    sizes = listed([str(len(group)) for group in found.groups])
    rest = f" The one at {loose} lies loose." if loose else ""
    return f"{name}: of {count} rings, {sizes} hold each other.{rest}"


def _place(made: Made, row: int) -> str:
    layer, motif = int(made.laid.row_layer[row]), int(made.laid.row_motif[row])
    return next(one.place for one in made.motifs if (one.layer, one.number) == (layer, motif + 1))


def _why(made: Made, order: Order) -> str:
    if not order.proof:
        return ""
    names = [_thread(made, row) for row in order.proof]
    if len(names) == 1:
        return f"{names[0]} goes under itself, which no order helps."
    if len(names) > MOST_TOLD:
        return f"No order spares it: {len(names)} rows, among them {listed(names[:3])}, must each lie below the next."
    if len(names) == 2:
        return f"No order spares it: {names[0]} must lie below {names[1]} in one place and above it in another."
    return f"No order spares it: {', which must lie below '.join(names)}, which must lie below {names[0]} again."


def _better(made: Made, order: Order) -> str:
    if order.unders > WORTH_IT * order.given:
        return "The order you have is as good as any." if order.unders >= order.given and order.certain else ""
    left = f"{order.unders} of {order.given} crossings" if order.unders else "none at all"
    runs = [_thread(made, rows[0], rows[-1]) for rows in _runs(made, order.threads)]
    told = f": {', then '.join(runs)}" if len(runs) <= MOST_TOLD else ""
    return f"Another order of the rows leaves {left} for the needle{told}."


def _runs(made: Made, rows: Sequence[int]) -> list[list[int]]:
    """Rows of one motif that follow each other."""
    laid = made.laid
    return [list(run) for _, run in groupby(rows, key=lambda row: (laid.row_layer[row], laid.row_motif[row]))]


def _thread(made: Made, row: int, last: int | None = None) -> str:
    laid = made.laid
    layer, place = int(laid.row_layer[row]), _place(made, row)
    first, end = int(laid.row_number[row]), int(laid.row_number[row if last is None else last])
    rows = f"row {first}" if first == end else f"rows {first} to {end}"
    return f"{rows} of {made.design.layers[layer].name} at {place}"
