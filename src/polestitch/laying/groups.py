"""Crossings along a thread, in groups that a needle takes as one, and the rules that count them.

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

CLOSED = 0.1  # radians: a row whose end comes as near its start as this is a closed trip; a bite is narrower


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


@dataclass(frozen=True, eq=False)
class Counted:
    """What counting along the thread says of ``k`` crossings.

    ``open`` are those where a closed row comes home in the middle of its pattern: the count goes on, but
    the last of them and the first lie as the rule never asked.
    """

    below: Flags  # (k,) whether the own thread goes under
    open: Flags  # (k,)


def counted(laid: Laid, along: Along, pattern: tuple[bool, ...], singly: bool = False) -> Counted:
    """``pattern`` (True: under) over and over along every row, group by group, or ``singly`` thread by thread.

    The turns of a band start at different sides of what they cross; each takes its first group as
    the band's first turn takes it, so that the turns lie alike.
    """
    below, left = np.zeros(len(along.crossing), dtype=bool), np.zeros(len(along.crossing), dtype=bool)
    numbers = bundles(laid, along.other).tolist()
    leads: dict[tuple[int, int], list[tuple[Group, int]]] = {}
    ends = closed_rows(laid)
    for row, run in _runs(laid, along):
        turn = bool(laid.sweep[along.own[run[0]]] >= 2 * np.pi)
        groups = _singles(along, run, numbers) if singly else _groups(laid, along, run, numbers, turn)
        lead = leads.setdefault((int(laid.row_layer[row]), int(laid.row_motif[row])), [])
        first = _as_led(lead, groups[0])
        for k, group in enumerate(groups):
            below[group.members] = pattern[(first + k) % len(pattern)]
        if ends[row] and len(groups) % len(pattern):
            for group in groups[-(len(groups) % len(pattern)) :]:
                left[group.members] = True
        if turn and not lead and not singly:
            lead.extend((group, first + k) for k, group in enumerate(groups))
    return Counted(below, left)


def closed_rows(laid: Laid) -> Flags:
    """(w,) whether each row ends where it started: a whole turn, or a trip that comes home."""
    rows = len(laid.row_layer)
    first = np.searchsorted(laid.arc_row, np.arange(rows)).astype(np.int32)
    last = (np.searchsorted(laid.arc_row, np.arange(rows), side="right") - 1).astype(np.int32)
    gap = laid.start[first] - laid.at(last, laid.sweep[last])
    return np.asarray(np.sum(gap * gap, axis=1) < CLOSED**2)


def bundles(laid: Laid, arc: Ints) -> Indices:
    """(k,) one number for the layer, the motif and the leg of its row that each arc belongs to."""
    span = laid.arc_span[arc]
    row = laid.span_row[span]
    leg = span - np.searchsorted(laid.span_row, row)
    motif = laid.row_layer[row].astype(np.intp) * (laid.row_motif.max() + 1) + laid.row_motif[row]
    return np.asarray(motif * (len(laid.span_row) + 1) + leg)


def _runs(laid: Laid, along: Along) -> Iterator[tuple[int, Indices]]:
    """Each row that crosses anything, with its crossings in the order its thread meets them."""
    order = np.lexsort((along.t, along.own))
    rows = laid.arc_row[along.own[order]]
    for run in np.split(order, np.flatnonzero(np.diff(rows)) + 1):
        if len(run):
            yield int(laid.arc_row[along.own[run[0]]]), run


def _singles(along: Along, run: Indices, numbers: list[int]) -> list[Group]:
    return [Group(numbers[member], np.array([member]), along.point[member]) for member in run.tolist()]


def _groups(laid: Laid, along: Along, run: Indices, numbers: list[int], turn: bool) -> list[Group]:
    """The groups of one row; where a whole turn starts inside a group, its two parts are one, the first."""
    parts: list[tuple[int, list[int], set[int]]] = []
    for member, span in zip(run.tolist(), laid.arc_span[along.other[run]].tolist()):
        bundle = numbers[member]
        if not parts or parts[-1][0] != bundle or span in parts[-1][2]:
            parts.append((bundle, [], set()))
        parts[-1][1].append(member)
        parts[-1][2].add(span)
    if turn and len(parts) > 1 and parts[0][0] == parts[-1][0] and not parts[0][2] & parts[-1][2]:
        parts[0][1].extend(parts.pop()[1])
    return [Group(bundle, np.array(members), along.point[members].mean(axis=0)) for bundle, members, _ in parts]


def _as_led(lead: list[tuple[Group, int]], group: Group) -> int:
    """Where in the pattern the lead turn takes the same bundle nearest by; its beginning where it does not meet it."""
    alike = [
        (float(np.sum((led.centre - group.centre) ** 2)), place) for led, place in lead if led.bundle == group.bundle
    ]
    return min(alike)[1] if alike else 0
