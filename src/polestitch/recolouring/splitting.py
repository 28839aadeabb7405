"""One layer in several colours as several layers, so that what lies over what stays as it was.

In: a layer's motifs, their threads, and which of them cross each other.  Out: groups of motifs, one layer each.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Group:
    """Motifs, by index in their layer, that make one layer of ``colour``."""

    colour: int
    motifs: tuple[int, ...]


def grouped(colours: Sequence[int], touching: Collection[tuple[int, int]]) -> list[Group]:
    """As few layers as keep every two motifs that cross in the order they were stitched in.

    ``touching`` holds pairs, the earlier motif first.  A motif joins the first group of its colour that does not come
    before a motif it crosses; where there is none it begins a new one.
    """
    before: dict[int, list[int]] = {}
    for one, other in touching:
        before.setdefault(other, []).append(one)
    made: list[tuple[int, list[int]]] = []
    at: dict[int, int] = {}
    for motif, colour in enumerate(colours):
        earliest = max((at[one] for one in before.get(motif, [])), default=0)
        place = next((k for k in range(earliest, len(made)) if made[k][0] == colour), len(made))
        if place == len(made):
            made.append((colour, []))
        made[place][1].append(motif)
        at[motif] = place
    return [Group(colour, tuple(motifs)) for colour, motifs in made]


def in_order(colours: Sequence[int]) -> list[Group]:
    """A new layer whenever the colour changes: the order of work is kept altogether."""
    made: list[Group] = []
    for motif, colour in enumerate(colours):
        if made and made[-1].colour == colour:
            made[-1] = Group(colour, (*made[-1].motifs, motif))
        else:
            made.append(Group(colour, (motif,)))
    return made
