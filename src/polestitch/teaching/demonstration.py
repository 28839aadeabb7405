"""Steps worth showing once to everybody: the first of each kind, in the order of work.

In: hand steps, and the technique of each layer.  Out: ``Moment`` records that name hand steps by their numbers.

The room knows no chair: who calls it brings the chair's steps as ``HandStep``.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

Kind = Literal[
    "strip", "tack", "first bite", "turning point", "next row", "crossing", "closing", "colour", "join", "end"
]
ONCE: tuple[Kind, ...] = ("colour", "join")  # shown once in the class, not once a technique


@dataclass(frozen=True)
class HandStep:
    """What is read of a step of the chair, under the chair's own names."""

    n: int
    part: str
    say: str
    layer: int | None = None
    motif: int | None = None
    row: int | None = None
    bite: int | None = None
    of_bites: int | None = None
    thread: str | None = None
    origin: str | None = None
    mm: float | None = None
    under: tuple[str, ...] = ()
    join: str | None = None


@dataclass(frozen=True)
class Moment:
    """One step to show; ``step`` is its number in the chair, from 0; ``layer`` is None round the stitching."""

    kind: Kind
    title: str
    step: int
    say: str
    layer: int | None = None


def demonstration(
    steps: Sequence[HandStep], layers: Sequence[tuple[str, str]], marking: bool = True
) -> tuple[Moment, ...]:
    """The sequence; ``layers`` are (name, technique); without ``marking`` it begins with the stitching."""
    found = [*(_marking(steps) if marking else ()), *_layers(steps, layers), *_end(steps)]
    return tuple(sorted(found, key=lambda moment: moment.step))


def _marking(steps: Sequence[HandStep]) -> Iterator[Moment]:
    mine = [step for step in steps if step.part == "marking"]
    if mine:
        yield Moment("strip", "The paper strip and N", mine[0].n, mine[0].say)
    tack = next((step for step in mine if step.say.startswith("Tack ")), None)
    if tack is not None:
        yield Moment("tack", "Tacking a crossing", tack.n, tack.say)


def _end(steps: Sequence[HandStep]) -> Iterator[Moment]:
    last = next((step for step in steps if step.part == "finish"), None)
    if last is not None:
        yield Moment("end", "Finishing", last.n, last.say)


def _layers(steps: Sequence[HandStep], layers: Sequence[tuple[str, str]]) -> Iterator[Moment]:
    """First bite of every layer; of the rest only what its technique has not shown before."""
    shown: set[tuple[Kind, str]] = set()
    for k, (name, technique) in enumerate(layers):
        mine = [step for step in steps if step.layer == k and step.bite is not None]
        for kind, title, step in _firsts(mine, name):
            key = (kind, "" if kind in ONCE else technique)
            if kind == "first bite" or key not in shown:
                shown.add(key)
                yield Moment(kind, title, step.n, step.say, k)


def _firsts(mine: Sequence[HandStep], name: str) -> Iterator[tuple[Kind, str, HandStep]]:
    """The first step of each kind in one layer, as far as there is one."""
    bites = [step for step in mine if step.bite]
    first = bites[0] if bites else None
    if first is None:
        return
    of_first = [step for step in bites if step.motif == first.motif]
    row_one = [step for step in of_first if step.row == first.row]
    later = [step for step in of_first if step.row != first.row]
    wound = first.of_bites == 1
    begin, again = ("First turn", "Turn") if wound else ("First bite", "Row")
    tests: tuple[tuple[Kind, str, HandStep | None], ...] = (
        ("first bite", f"{begin} of {name}", first),
        ("turning point", f"Turning point of {name}", next((s for s in row_one if _elsewhere(s, first)), None)),
        ("closing", f"Closing a row of {name}", _closing(row_one)),
        ("next row", f"{again} 2 of {name}: where it shifts to", later[0] if later else None),
        ("crossing", f"Going under in {name}", next((s for s in bites if s.under), None)),
        ("join", "Ending a piece of thread", next((s for s in bites if s.join == "end"), None)),
        ("colour", f"Changing colour in {name}", _new_colour(mine, first)),
    )
    yield from ((kind, title, step) for kind, title, step in tests if step is not None)


def _elsewhere(step: HandStep, first: HandStep) -> bool:
    """Whether a bite stands at another kind of point than the first one."""
    both = step.mm is not None and first.mm is not None
    return both and (step.origin != first.origin or abs((step.mm or 0.0) - (first.mm or 0.0)) > 0.5)


def _closing(row_one: Sequence[HandStep]) -> HandStep | None:
    last = row_one[-1] if len(row_one) > 1 else None
    return last if last is not None and last.bite == last.of_bites else None


def _new_colour(mine: Sequence[HandStep], first: HandStep) -> HandStep | None:
    """Where the first motif goes on in another colour; there is nothing to show at a layer's own beginning."""
    here = [step for step in mine if step.motif == first.motif]
    return next((step for step in here if step.thread != first.thread), None)
