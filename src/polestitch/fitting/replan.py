"""The same look on a ball of another size.

In: a document as its maker wrote it, and the new circumference in mm.  Out: ``Replanned``.

Fractions and "until" rows stay as written.  Lengths of the picture go with the ball, lengths of hand
and thread stay.  Counted rows change so that each motif ends where it ended, seen from the middle of
the ball: found on the stitched geometry, entry by entry, with the stripes in their proportions.
"""

from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass, replace

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.document.lengths import Length
from polestitch.document.limits import around_mm as mm_of
from polestitch.document.rows import MOST_ROWS
from polestitch.errors import DesignError
from polestitch.fit import extent
from polestitch.fitting.scaled import Change, scaled_address, scaled_length, scaled_params
from polestitch.fitting.stage import Document, Stage, ground_of, planned
from polestitch.fitting.stripes import restriped, rows_text, stripes
from polestitch.stitching.motifs import Repeat
from polestitch.stitching.stitches import Row

_SAME_SIZE = 0.05  # mm of circumference: nobody measures finer


@dataclass(frozen=True)
class Replanned:
    """The document for the new size, and each change in one plain sentence."""

    document: Document
    changes: tuple[str, ...]


def replanned(document: Document, around_mm: float) -> Replanned:
    """The document for a ball ``around_mm`` round that keeps the look; ``DesignError`` where it cannot be made."""
    mm_of(f"{around_mm:.6f} mm", "around")
    old_mm = mm_of(str(document["ball"]["around"]), "ball.around")
    if abs(around_mm - old_mm) < _SAME_SIZE:
        return Replanned(deepcopy(document), ())
    old = planned(document, f"{old_mm:.6f} mm")
    made, told = _scaled(document, old, around_mm / old_mm)
    made["ball"] = _ball(document, around_mm)
    changes = [f"The ball is planned for {around_mm:g} mm instead of {old_mm:g} mm.", *told]
    changes += _recounted(old, made)
    return Replanned(made, tuple(changes))


def _ball(document: Document, around_mm: float) -> Document:
    """The new size in the old unit; what was measured stays only if it is that size."""
    text = str(document["ball"]["around"])
    around = f"{around_mm / 10:g} cm" if text.strip().endswith("cm") else f"{around_mm:g} mm"
    ball = {**deepcopy(document["ball"]), "around": around}
    if "measured" in ball and abs(ground_of(document).ball.around_mm - around_mm) >= _SAME_SIZE:
        del ball["measured"]
    return ball


def _scaled(document: Document, old: Document, scale: float) -> tuple[Document, list[str]]:
    made, ground = deepcopy(document), ground_of(old)
    told = _scaled_support(made, scale)
    for k, layer in enumerate(made.get("layers", ())):
        written = layer.get("params", {})
        params, changes = scaled_params(layer["technique"], written, scale)
        unsaid = {one.name: params[one.name] for one in changes if one.name not in written}
        idle = {name for name, value in unsaid.items() if not _matters(ground.stage(k), name, value)}
        told += [_change_said(layer["name"], one) for one in changes if one.name not in idle]
        params = {name: value for name, value in params.items() if name not in idle}
        layer.update({"params": params} if params else {})
        where = layer["where"]
        layer["where"] = (
            scaled_address(where, scale) if isinstance(where, str) else [scaled_address(one, scale) for one in where]
        )
    return made, told


def _matters(stage: Stage, name: str, value: object) -> bool:
    """Whether a default that nobody wrote has any say in the stitches."""
    repeat = stage.repeats[0]
    read = Length(value) if isinstance(value, str) else value
    other = replace(repeat, params=repeat.params.model_copy(update={name: read}))
    pair = zip(stage.rows(repeat, stage.plan.threads), stage.rows(other, stage.plan.threads))
    return any(one.turn is not None or not np.array_equal(one.places, two.places) for one, two in pair)


def _scaled_support(made: Document, scale: float) -> list[str]:
    """Support lines of ``made`` changed in place."""
    told = []
    for line in made["marking"].get("support", ()):
        if "at" in line and (new := scaled_length(line["at"], scale)) != line["at"]:
            told.append(f"{line['name']}: {line['at']} becomes {new}.")
            line["at"] = new
        if "around" in line:
            line["around"] = scaled_address(line["around"], scale)
        if "between" in line:
            line["between"] = [scaled_address(end, scale) for end in line["between"]]
    return told


def _change_said(name: str, change: Change) -> str:
    return f"{name}: {change.name.replace('_', ' ')} {change.old} becomes {change.new}, in step with the ball."


def _recounted(old: Document, made: Document) -> list[str]:
    """Row lists of ``made`` changed in place; layers in one bundle that had equally many rows keep equally many."""
    before, after = ground_of(old), ground_of(made)
    told, bundles = [], dict[tuple[str, int, str], int]()
    for k, layer in enumerate(made.get("layers", ())):
        stage = before.stage(k)
        if stage.plan.until is not None:
            continue
        threads, new = stage.plan.threads, after.stage(k)
        key = (layer.get("together") or "", len(threads), layer["technique"])
        count = bundles.get(key) if key[0] else None
        found = _restriped(stage, count) if count else _threads(stage, new)
        bundles[key] = len(found)
        if len(found) != len(threads):
            layer["rows"] = rows_text(found)
            told.append(_rows_said(stage, new, found))
    return told


def _threads(old: Stage, new: Stage) -> tuple[str, ...]:
    """The row list with which the motif ends nearest to where it ended; of equals the one nearest in proportion."""
    threads = old.plan.threads
    scale = new.ground.ball.radius_mm / old.ground.ball.radius_mm
    ends = [_ends(rows, repeat) for repeat in old.repeats if (rows := old.rows(repeat))]
    due = scale * len(threads)
    least, most = len(_restriped(old, 1)), min(MOST_ROWS, int(2 * due) + 3)
    tried = {count: _miss(new, _restriped(old, count), ends) for count in _around(due, least, most)}
    best = min(tried, key=lambda count: (round(tried[count], 6), abs(count - due)))
    return _restriped(old, best if np.isfinite(tried[best]) else len(threads))


def _restriped(stage: Stage, count: int) -> tuple[str, ...]:
    """The row list with about ``count`` rows; where rows go by turns down and up each way keeps its own stripes."""
    threads = stage.plan.threads
    strands = [row.strand for row in stage.rows(stage.repeats[0])]
    turns = len(set(strands))
    if not 1 < turns < len(threads) == len(strands) or strands != [k % turns for k in range(len(strands))]:
        return restriped(threads, count)
    ways = [threads[k::turns] for k in range(turns)]
    each = max(round(count / turns), *(len(stripes(way)) for way in ways))
    return tuple(name for turn in zip(*(restriped(way, each) for way in ways), strict=True) for name in turn)


def _around(due: float, least: int, most: int) -> list[int]:
    """Counts worth trying: those near the bare proportion, where half of the way may be lost or won."""
    reach = max(3, int(0.25 * due))
    return [count for count in range(round(due) - reach, round(due) + reach + 1) if least <= count <= most] or [least]


def _miss(stage: Stage, threads: Sequence[str], ends: Sequence[float]) -> float:
    """Mean distance (radians) of the motifs' ends from ``ends``; infinite where they cannot be stitched."""
    try:
        made = [_ends(stage.rows(repeat, threads), repeat) for repeat in stage.repeats]
    except DesignError:
        return float("inf")
    return float(np.mean([abs(one - other) for one, other in zip(made, ends)]))


def _ends(rows: Sequence[Row], repeat: Repeat) -> float:
    """Where the last thread's outer edge ends, seen from where the motif begins to grow, radians.

    A motif over the whole ball has no middle: there, how far its bites moved.
    """
    first, last, kind = rows[0], rows[-1], repeat.seat.site.kind
    if last.turn is not None:
        return max(extent(row, kind) for row in rows)
    if kind == "ball" or first.turn is not None:
        return _moved(first, last)
    begin, end = extent(first, kind), extent(last, kind)
    return end - last.pitch / 2 if end < begin - 1e-9 else end + last.pitch / 2


def _moved(first: Row, last: Row) -> float:
    if first.places.shape != last.places.shape:
        return float(last.pitch / 2)
    cosines = np.clip((first.places * last.places).sum(axis=1), -1, 1)
    return float(np.arccos(cosines).max(initial=0.0) + last.pitch / 2)


def _rows_said(old: Stage, new: Stage, threads: Sequence[str]) -> str:
    was, now = len(old.plan.threads), len(threads)
    ends = [
        _ends(stage.rows(stage.repeats[0], names), stage.repeats[0]) for stage, names in ((old, None), (new, threads))
    ]
    rows = f"{was} row{'' if was == 1 else 's'} become{'s' if was == 1 else ''} {now}"
    return f"{old.name}: {rows}, so that it still ends {_end_said(new, ends[1])}{_off(new.ground.ball, ends)}."


def _end_said(stage: Stage, end: float) -> str:
    """Where the motif ends, in words."""
    site, ball = stage.repeats[0].seat.site, stage.ground.ball
    if site.kind == "circle":
        return f"{ball.mm(end):.1f} mm from its line"
    if site.kind == "ball":
        return f"{ball.mm(end):.1f} mm from where it begins"
    left = ball.mm(float(site.reaches.min()) - end)
    edge = "the obi" if stage.ground.marking.division.startswith("S") else "its edge"
    if site.kind in ("centre", "poles") and left > 0:
        return f"{left:.1f} mm from {edge}"
    return f"{ball.mm(end):.1f} mm from its middle"


def _off(ball: Ball, ends: Sequence[float]) -> str:
    """How far that is from where it ended before, if it can be seen."""
    off = ball.mm(ends[1] - ends[0])
    return f" ({abs(off):.1f} mm {'further out' if off > 0 else 'further in'} than before)" if abs(off) > 0.15 else ""
