"""The best dozen colour plans of a design.

In: a ``Build`` and ``Wishes``.  Out: ``Dozen``.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from polestitch.colouring.grading import graded_plans
from polestitch.colouring.plans import MOST_SPOTS, Order, Plans, Wanted, check_uses, planned
from polestitch.colouring.rules import Rules
from polestitch.colouring.seen import Alike, alike, grey, lightness, unlike
from polestitch.document.design import Thread
from polestitch.errors import DesignError
from polestitch.pipeline import Build
from polestitch.recolouring.coloured import Coloured, coloured
from polestitch.recolouring.wishes import Wishes, wished_threads

GROUND = "the ground"


@dataclass(frozen=True, eq=False)
class Dozen:
    """Plans of ``coloured`` parts in ``threads``, and by plan which threads that meet look alike."""

    wishes: Wishes
    coloured: Coloured
    threads: tuple[Thread, ...]
    plans: Plans
    alike: tuple[tuple[Alike, ...], ...]
    grey: tuple[tuple[str, ...], ...]  # sentences of threads that meet and are equally light
    ground: str  # colour of the wrap


def dozen(build: Build, wishes: Wishes) -> Dozen:
    """The best plans; ``DesignError`` where nothing can be planned so, or no plan keeps the rules."""
    threads = wished_threads(build.design, wishes)
    own = coloured(build, wishes)
    found = _graded(own, wishes, threads) if wishes.sort == "graded" else _searched(own, wishes, threads)
    meeting = [list(pairs(build, own, threads, plan)) for plan in found.plans]
    looks, greys = tuple(tuple(alike(each)) for each in meeting), tuple(tuple(grey(each)) for each in meeting)
    return Dozen(wishes, own, threads, found, looks, greys, str(build.design.ball.colour))


def _uses(wishes: Wishes, count: int) -> tuple[tuple[int, int], ...]:
    return tuple((wished.least, count if wished.most is None else wished.most) for wished in wishes.threads)


def _searched(own: Coloured, wishes: Wishes, threads: Sequence[Thread]) -> Plans:
    rules = Rules(len(threads), _uses(wishes, len(own.parts)), wishes.neighbours_differ, wishes.opposite)
    order: Order = "contrast" if wishes.sort == "contrast" else "apart"
    far = np.array(unlike([str(thread.colour) for thread in threads]))
    return planned(own.names, own.parts, rules, (own.where, own.ways, Wanted(order, far, wishes.mirrors)))


def _graded(own: Coloured, wishes: Wishes, threads: Sequence[Thread]) -> Plans:
    """Plans in runs, which need parts that follow each other."""
    if wishes.by == "motifs":
        raise DesignError("order", "motifs follow no line to be graded along; grade rows, stripes or layers")
    if len(own.parts) > MOST_SPOTS:
        raise DesignError(
            own.where, f"this layer has {len(own.parts)} parts to colour; plan at most {MOST_SPOTS} at a time"
        )
    check_uses(len(own.parts), Rules(len(threads), _uses(wishes, len(own.parts))))
    light = [lightness(str(thread.colour)) for thread in threads]
    named = graded_plans(len(own.parts), light, _uses(wishes, len(own.parts)))
    if not named:
        raise DesignError(
            "threads", "these threads cannot be graded as often as they are asked for; ask less of how often"
        )
    far = unlike([str(thread.colour) for thread in threads])
    least = tuple(
        min((far[one][other] for one, other in pairwise(plan) if one != other), default=np.inf) for _, plan in named
    )
    plans, names = tuple(plan for _, plan in named), tuple(name for name, _ in named)
    return Plans(own.names, plans, least, "graded", len(named), 1, True, own.parts, names=names)


def pairs(
    build: Build, own: Coloured, threads: Sequence[Thread], plan: Sequence[int]
) -> Iterable[tuple[tuple[str, str], tuple[str, str]]]:
    """(name, colour) of every two threads that meet in a plan, and of each with the ground."""
    said = [(thread.name, str(thread.colour)) for thread in threads]
    used = sorted(set(plan))
    meeting = {tuple(sorted((plan[i], plan[j]))) for i, j in own.parts.beside.tolist() if plan[i] != plan[j]}
    by_name = {thread.name: (thread.name, str(thread.colour)) for thread in build.design.threads}
    staying = [by_name[name] for name in own.staying if name in by_name]
    return [
        *((said[one], said[other]) for one, other in sorted(meeting)),
        *((said[k], other) for k in used for other in staying if said[k] != other),
        *((said[k], (GROUND, str(build.design.ball.colour))) for k in used),
    ]
