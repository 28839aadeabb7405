"""What she asks of a colour plan.

In: nothing.  Out: ``Wishes``, a record the command line and the studio both fill in.
"""

from collections import Counter
from typing import Annotated, Literal

from pydantic import Field

from polestitch.colouring.rules import Opposite
from polestitch.document.design import Design, Layer, Name, Record, Thread
from polestitch.document.rows import row_list
from polestitch.errors import DesignError

By = Literal["motifs", "stripes", "rows", "layers"]
Sort = Literal["apart", "contrast", "graded"]
MOST_THREADS = 12


class WishedThread(Record):
    """One thread of the plan, and how often it is used."""

    name: Annotated[Name, Field(description="Its name in the design")]
    least: Annotated[int, Field(ge=0, le=64, description="Used at least so often")] = 1
    most: Annotated[int | None, Field(ge=0, le=64, description="And at most so often; none: as often as may be")] = None
    new: Annotated[Thread | None, Field(description="The thread itself, where the design has none of this name")] = None


class Wishes(Record):
    """Which parts take a thread each, which threads there are, and what makes a plan good."""

    by: Annotated[
        By, Field(description="motifs of a layer, stripes or single rows of its row list, or whole layers")
    ] = "motifs"
    layer: Annotated[str, Field(max_length=60, description="Name of the layer; not asked for layers")] = ""
    threads: Annotated[
        tuple[WishedThread, ...], Field(min_length=1, max_length=MOST_THREADS, description="Threads to use")
    ]
    order: Annotated[
        Sort | None,
        Field(
            description="apart: like threads far apart; contrast: neighbours as unlike as can be; graded: dark to "
            "light. Motifs are planned apart, anything else by contrast, where nothing is said"
        ),
    ] = None
    neighbours_differ: Annotated[bool, Field(description="Neighbours get different threads")] = True
    opposite: Annotated[Opposite, Field(description="Motifs opposite each other: any, same or differ")] = "any"
    mirrors: Annotated[bool, Field(description="Count plans that mirror each other as one")] = False
    instead_of: Annotated[
        str, Field(max_length=60, description="The thread that gives way; none: the one with most rows")
    ] = ""

    @property
    def sort(self) -> Sort:
        """What makes a plan good."""
        return self.order or ("apart" if self.by == "motifs" else "contrast")


def layer_wished(design: Design, wishes: Wishes) -> int:
    """Index of the layer; ``DesignError`` names the ones there are."""
    names = [layer.name for layer in design.layers]
    if wishes.layer not in names:
        raise DesignError("layer", f'there is no layer "{wishes.layer}"; there are {", ".join(names) or "none yet"}')
    return names.index(wishes.layer)


def giving_way(layer: Layer, wishes: Wishes) -> str:
    """The thread of the layer's rows that the plan's threads take the place of."""
    threads = row_list(layer.rows).threads
    if not wishes.instead_of:
        return Counter(threads).most_common(1)[0][0]
    if wishes.instead_of not in threads:
        known = ", ".join(dict.fromkeys(threads))
        raise DesignError("instead_of", f'"{wishes.instead_of}" is in no row of {layer.name}; there are {known}')
    return wishes.instead_of


def wished_threads(design: Design, wishes: Wishes) -> tuple[Thread, ...]:
    """The threads in the order of the wishes; ``DesignError`` for one that is unknown, or named twice."""
    known = {thread.name: thread for thread in design.threads}
    found: list[Thread] = []
    for k, wished in enumerate(wishes.threads):
        if wished.name in [thread.name for thread in found]:
            raise DesignError(f"threads[{k}]", f"{wished.name} is named twice; name each thread once")
        if wished.most is not None and wished.most < wished.least:
            raise DesignError(f"threads[{k}]", f"{wished.name} is wanted at least {wished.least} times but at most "
                              f"{wished.most}; the first number must be the smaller")  # fmt: skip
        found.append(_thread(wished, known, f"threads[{k}]"))
    return tuple(found)


def _thread(wished: WishedThread, known: dict[str, Thread], where: str) -> Thread:
    mine = known.get(wished.name)
    if mine is None and wished.new is None:
        raise DesignError(where, f'"{wished.name}" is no thread of this design; there are {", ".join(known)}')
    if mine is not None:
        if wished.new is not None and wished.new.colour != mine.colour:
            raise DesignError(where, f"this design has another {wished.name} already; give the new thread another name")
        return mine
    return wished.new or known[wished.name]
