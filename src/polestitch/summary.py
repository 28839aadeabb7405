"""A whole build as plain data that other programs may build on: what ``work --json`` prints.

In: a build, its estimate, its findings and the marking thread.  Out: a dict of numbers, words and lists.
Keys are never renamed; lengths are in mm.  ``docs/json.md`` says what each means.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np

from polestitch.checks import Finding, Made
from polestitch.document.ranges import Range
from polestitch.doubt import Doubt, ThreadDoubt, skeins_said
from polestitch.estimate import Amount, Estimate
from polestitch.marking.summary import line_counts
from polestitch.sphere.orbifold import Kind
from polestitch.symmetry import Tops, symmetry


def work_json(
    made: Made, estimate: Estimate, findings: Sequence[Finding], marking_mm: float, sure: Doubt
) -> dict[str, Any]:
    """Every figure of one ball, and how ``sure`` its counts and amounts are."""
    hours = estimate.hours
    return {
        "ball": {"around_mm": made.ball.around_mm, "radius_mm": _mm(made.ball.radius_mm)},
        "marking": {
            "division": made.marking.division,
            "points": len(made.marking.points),
            "circles": line_counts(made.marking)[0],
            "thread_mm": _mm(marking_mm),
        },
        "layers": [_layer(made, layer, sure.rows[layer]) for layer in range(len(made.design.layers))],
        "threads": [_thread(*pair) for pair in zip(estimate.threads, sure.threads, strict=True)],
        "crossings": len(made.crossings),
        "cover": round(float(made.cover.share), 6),
        "buildup_max": int(made.cover.buildup_max),
        "findings": [_finding(finding) for finding in findings],
        "symmetry": _symmetry(made),
        "hours": {"low": round(hours.low, 2), "likely": round(hours.likely, 2), "high": round(hours.high, 2)},
    }


def _symmetry(made: Made) -> dict[str, Any]:
    """How the ball turns onto itself: all threads alike, with colours, and with who lies over whom as well."""
    colours = symmetry(made.laid)
    many = len(np.unique(made.laid.row_thread)) > 1
    plain = symmetry(made.laid, colours=False) if many else colours
    over_under = symmetry(made.laid, tops=Tops(made.crossings, made.over))
    return {name: _kind(kind) for name, kind in (("plain", plain), ("colours", colours), ("over_under", over_under))}


def _kind(kind: Kind) -> dict[str, Any]:
    return {
        "orbifold": kind.orbifold,
        "turns": kind.turns or None,
        "mirrored": kind.mirrored,
        "order": kind.order or None,
        "sentence": f"The ball {kind.plain}.",
    }


def _mm(mm: float) -> float:
    """Millimetres to a thousandth: finer than any thread, and the same on every machine."""
    return round(float(mm), 3)


def _layer(made: Made, layer: int, rows: Range) -> dict[str, Any]:
    entry, laid = made.design.layers[layer], made.laid
    motifs = [motif for motif in made.motifs if motif.layer == layer]
    arcs = laid.row_layer[laid.arc_row] == layer
    thread = laid.row_thread[laid.arc_row[arcs]]
    mm = np.bincount(thread, weights=laid.length[arcs], minlength=len(made.design.threads)) * made.ball.radius_mm
    reaches = next((motif.reaches for motif in motifs if motif.reaches is not None), None)
    return {
        "name": entry.name,
        "technique": entry.technique,
        "motifs": len(motifs),
        "rows": max((row.plan + 1 for motif in motifs for row in motif.rows), default=0),
        "rows_range": rows.json(),
        "bites": sum(len(row.half) for motif in motifs for row in motif.rows),
        "spans": int((laid.row_layer[laid.span_row] == layer).sum()),
        "arcs": int(arcs.sum()),
        "laid_mm": {made.design.threads[k].name: _mm(mm[k]) for k in np.unique(thread).tolist()},
        **({} if reaches is None else {"reaches": reaches}),
    }


def _thread(amount: Amount, sure: ThreadDoubt) -> dict[str, Any]:
    skeins = sure.skeins
    return {
        "id": amount.name,
        "laid_mm": _mm(amount.laid_mm),
        "total_mm": _mm(amount.total_mm),
        "total_range": sure.total.json(),
        "lengths": amount.lengths,
        "skeins": amount.skeins,
        "skeins_range": None if skeins is None else skeins.range.json(),
        "skeins_take": None if skeins is None else skeins.take,
        "skeins_odds": None if skeins is None else list(skeins.odds),
        "skeins_said": None if skeins is None else skeins_said(skeins),
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "kind": finding.kind,
        "severity": finding.severity,
        "where": {
            "layer": finding.layer,
            "row": finding.row,
            "address": finding.address,
            "at": None if finding.at is None else list(finding.at),
        },
        "sentence": finding.sentence,
    }
