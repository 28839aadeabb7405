"""Crossings along a thread, in groups that a needle takes as one, and the rule that alternates them.

In: ``Laid`` and crossings as one side meets them.  Out: one flag a crossing.

A group is a run of crossings with the same leg of the same motif: the turns of a band, the rows of one
leg.  It ends where the thread comes to that bundle a second time.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Ints, Laid
from polestitch.sphere.arcs import Angles, Points

Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Along:
    """``k`` crossings seen from one of their two threads."""

    crossing: Indices  # (k,)
    own: Ints  # (k,) this thread's arc
    other: Ints  # (k,) the other thread's arc
    t: Angles  # (k,) where along ``own``
    point: Points  # (k, 3)


@dataclass(frozen=True, eq=False)
class Group:
    """Crossings with one bundle, one after the other along one row."""

    bundle: int
    members: Indices  # into ``Along``
    centre: Points  # (3,)


def alternately(laid: Laid, along: Along, under_first: bool) -> Flags:
    """(k,) whether the own thread goes below, group by group in turn along every row.

    The turns of a band start at different sides of what they cross; each takes its first group as
    the band's first turn takes it, so that the turns lie alike.
    """
    below = np.zeros(len(along.crossing), dtype=bool)
    bundles = _bundles(laid, along.other).tolist()
    leads: dict[tuple[int, int], list[tuple[Group, bool]]] = {}
    for row, run in _runs(laid, along):
        closed = bool(laid.sweep[along.own[run[0]]] >= 2 * np.pi)
        groups = _groups(laid, along, run, bundles, closed)
        lead = leads.setdefault((int(laid.row_layer[row]), int(laid.row_motif[row])), [])
        first = _as_led(lead, groups[0], under_first)
        phases = [first != bool(k % 2) for k in range(len(groups))]
        for group, phase in zip(groups, phases):
            below[group.members] = phase
        if closed and not lead:
            lead.extend(zip(groups, phases))
    return below


def _runs(laid: Laid, along: Along) -> Iterator[tuple[int, Indices]]:
    """Each row that crosses anything, with its crossings in the order its thread meets them."""
    order = np.lexsort((along.t, along.own))
    rows = laid.arc_row[along.own[order]]
    for run in np.split(order, np.flatnonzero(np.diff(rows)) + 1):
        if len(run):
            yield int(laid.arc_row[along.own[run[0]]]), run


def _groups(laid: Laid, along: Along, run: Indices, bundles: list[int], closed: bool) -> list[Group]:
    """The groups of one row; where a closed turn starts inside a group, its two parts are one, the first."""
    parts: list[tuple[int, list[int], set[int]]] = []
    for member, span in zip(run.tolist(), laid.arc_span[along.other[run]].tolist()):
        bundle = bundles[member]
        if not parts or parts[-1][0] != bundle or span in parts[-1][2]:
            parts.append((bundle, [], set()))
        parts[-1][1].append(member)
        parts[-1][2].add(span)
    if closed and len(parts) > 1 and parts[0][0] == parts[-1][0] and not parts[0][2] & parts[-1][2]:
        parts[0][1].extend(parts.pop()[1])
    return [Group(bundle, np.array(members), along.point[members].mean(axis=0)) for bundle, members, _ in parts]


def _bundles(laid: Laid, arc: Ints) -> Indices:
    """(k,) one number for the layer, the motif and the leg of its row that each arc belongs to."""
    span = laid.arc_span[arc]
    row = laid.span_row[span]
    leg = span - np.searchsorted(laid.span_row, row)
    motif = laid.row_layer[row].astype(np.intp) * (laid.row_motif.max() + 1) + laid.row_motif[row]
    return np.asarray(motif * (len(laid.span_row) + 1) + leg)


def _as_led(lead: list[tuple[Group, bool]], group: Group, otherwise: bool) -> bool:
    """How the lead turn takes the same bundle nearest by; ``otherwise`` where it does not meet it."""
    alike = [
        (float(np.sum((led.centre - group.centre) ** 2)), phase) for led, phase in lead if led.bundle == group.bundle
    ]
    return min(alike)[1] if alike else otherwise
