"""A colour plan put into a design.

In: a document as plain data, its ``Build``, a ``Dozen`` and which plan.  Out: ``Applied``: the new document, and what
is to be known of it.

Rows, stripes and layers only get other threads in their row lists.  Motifs of one layer cannot have different threads,
so the layer becomes one layer a colour, or more where motifs that cross would change places otherwise; the new ball is
built and held against the old one, crossing by crossing.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from polestitch.document.codec import read
from polestitch.document.rows import row_list
from polestitch.document.threads import pitch_mm
from polestitch.errors import DesignError
from polestitch.pipeline import Build, build
from polestitch.recolouring.coloured import stripe_of
from polestitch.recolouring.dozen import Dozen
from polestitch.recolouring.faithful import differences
from polestitch.recolouring.parting import crossing_motifs, parted
from polestitch.recolouring.rowtext import row_text
from polestitch.recolouring.splitting import Group, grouped, in_order
from polestitch.recolouring.wishes import giving_way, layer_wished

Raw = dict[str, Any]
WIDER = 0.02  # threads whose widths differ less lie alike


@dataclass(frozen=True)
class Applied:
    """The design in new colours; ``changed`` crossings are taken the other way round, and ``said`` tells of all."""

    document: Raw
    changed: int
    said: tuple[str, ...]


def applied(raw: Raw, made: Build, dozen: Dozen, number: int) -> Applied:
    """Plan ``number``, counted from 1; ``DesignError`` where there is no such plan, or no layers can hold it."""
    plans = dozen.plans.plans
    if not 1 <= number <= len(plans):
        raise DesignError("plan", f"there is no plan {number}; there are 1 to {len(plans)}")
    plan = plans[number - 1]
    document = _with_threads(raw, made, dozen, plan)
    widths = _widths(made, dozen, plan)
    if dozen.wishes.by != "motifs":
        return Applied(_in_rows(document, made, dozen, plan), 0, widths)
    layer = layer_wished(made.design, dozen.wishes)
    found = [_split(document, made, dozen, groups) for groups in _ways(made, layer, plan)]
    new, changed = min(found, key=lambda one: (one[1], len(one[0]["layers"])))
    return Applied(new, 0 if widths else changed, (*_layers_said(made, new, layer), *(widths or _changed(changed))))


def _ways(made: Build, layer: int, plan: Sequence[int]) -> list[list[Group]]:
    few, strict = grouped(plan, crossing_motifs(made, layer)), in_order(plan)
    return [few] if len(few) == len(strict) else [few, strict]


def _split(document: Raw, made: Build, dozen: Dozen, groups: Sequence[Group]) -> tuple[Raw, int]:
    """The document with these groups as layers, and how many crossings it takes otherwise than before."""
    layer = layer_wished(made.design, dozen.wishes)
    away = giving_way(made.design.layers[layer], dozen.wishes)
    names = [thread.name for thread in dozen.threads]
    new = parted(document, made, layer, [(names[group.colour], group.motifs) for group in groups], away)
    try:
        again = build(read(json.dumps(new)))
    except DesignError as error:
        raise DesignError(f"layers[{layer}]", f"this layer cannot be stitched in several ({error.what})") from None
    return new, differences(made, again, layer, [group.motifs for group in groups])


def _with_threads(raw: Raw, made: Build, dozen: Dozen, plan: Sequence[int]) -> Raw:
    """The document with those threads added that are new to it and used."""
    known = {thread.name for thread in made.design.threads}
    new = [dozen.threads[k] for k in sorted(set(plan)) if dozen.threads[k].name not in known]
    listed = [thread.model_dump(mode="json", exclude_none=True, exclude_defaults=True) for thread in new]
    return {**raw, "threads": [*raw["threads"], *listed]}


def _in_rows(document: Raw, made: Build, dozen: Dozen, plan: Sequence[int]) -> Raw:
    """New row lists: of one layer by its stripes or rows, or of all by the thread that gives way."""
    names, wishes = [thread.name for thread in dozen.threads], dozen.wishes
    layers = [dict(layer) for layer in document["layers"]]
    if wishes.by == "layers":
        for raw, layer, colour in zip(layers, made.design.layers, plan):
            away, rows = giving_way(layer, wishes), row_list(layer.rows)
            raw["rows"] = row_text([names[colour] if name == away else name for name in rows.threads], rows.until)
        return {**document, "layers": layers}
    number = layer_wished(made.design, wishes)
    rows = row_list(made.design.layers[number].rows)
    part = stripe_of(rows.threads) if wishes.by == "stripes" else range(len(rows.threads))
    layers[number]["rows"] = row_text([names[plan[k]] for k in part], rows.until)
    return {**document, "layers": layers}


def _widths(made: Build, dozen: Dozen, plan: Sequence[int]) -> tuple[str, ...]:
    """A sentence where threads of the plan are not as wide as those they take the place of."""
    away = _old_widths(made, dozen)
    odd = []
    for k in sorted(set(plan)):
        thread = dozen.threads[k]
        width = pitch_mm(thread, measures=made.design.maker.measures).mm
        if any(abs(width / old - 1) > WIDER for old in away):
            odd.append(f"{thread.name} ({width:.2g} mm)")
    if not odd:
        return ()
    old = " and ".join(f"{width:.2g} mm" for width in sorted(away))
    return (
        f"Not of one width: {', '.join(odd)} where the old thread took {old} a row. Rows will lie otherwise than in "
        "the picture; look at the ball before you stitch it.",
    )


def _old_widths(made: Build, dozen: Dozen) -> set[float]:
    """Widths of the threads that give way, to a thousandth."""
    threads, mine = made.design.threads, made.design.maker.measures
    rows = made.laid.row_thread[dozen.coloured.rows >= 0]
    return {round(pitch_mm(threads[int(k)], measures=mine).mm, 3) for k in set(rows.tolist())}


def _layers_said(made: Build, new: Raw, layer: int) -> tuple[str, ...]:
    more = len(new["layers"]) - len(made.design.layers)
    if more == 0:
        return ()
    name = made.design.layers[layer].name
    return (f"“{name}” becomes {more + 1} layers, one after another, so that each can have its thread.",)


def _changed(changed: int) -> tuple[str, ...]:
    if changed == 0:
        return ("Every thread lies as before, over and under included: only the colours are new.",)
    return (f"At {changed} crossings over and under change, since rules for over and under work layer by layer.",)
