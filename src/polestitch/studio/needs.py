"""Whether the drawer has enough for a design or a whole show, and which thread is nearest to a colour.

In: what designs take; the drawer.  Out: ``Need`` records.
"""

from collections.abc import Mapping, Sequence
from math import ceil
from typing import Any

from polestitch.errors import DesignError
from polestitch.estimate.amounts import skein_mm
from polestitch.store.drawer import Thread
from polestitch.studio import messages_chair as say
from polestitch.studio.shown import made
from polestitch.workup import workup

ENDS = ("low", "likely", "high")


def taken_by(text: str) -> list[dict[str, Any]] | None:
    """Each thread a document takes, as a range, or None where it cannot be made.  Runs in a worker."""
    try:
        work = workup(made(text))
    except DesignError:
        return None
    return [
        {"name": thread.name, "colour": str(thread.colour), "mm": told.total.json(), "skein_mm": skein_mm(thread)}
        for thread, told in zip(work.build.design.threads, work.doubt.threads)
    ]


def nearest(colour: str, threads: Sequence[Thread]) -> list[tuple[Thread, float]]:
    """The threads by the distance of their colours, CIEDE2000, nearest first."""
    from coloraide import Color

    wanted = Color(colour)
    found = [(thread, float(wanted.delta_e(thread.words.colour, method="2000"))) for thread in threads]
    return sorted(found, key=lambda pair: (pair[1], pair[0].words.name))


def needs(taken: Mapping[str, Sequence[Mapping[str, Any]]], drawer: Sequence[Thread]) -> list[say.Need]:
    """For every thread that designs (by name) take: enough or not, what to buy, and what is nearest."""
    summed: dict[str, dict[str, Any]] = {}
    for design, threads in taken.items():
        for thread in threads:
            entry = summed.setdefault(
                thread["name"].casefold(), {**thread, "mm": dict.fromkeys(ENDS, 0.0), "designs": []}
            )
            # One hand stitches them all: where it takes much of one, it takes much of every one.
            entry["mm"] = {end: entry["mm"][end] + thread["mm"][end] for end in ENDS}
            entry["designs"].append(design)
    owned: dict[str, Thread] = {}
    for mine in drawer:
        owned.setdefault(mine.words.name.casefold(), mine)
    return [
        _need(entry, owned.get(name), drawer) for name, entry in sorted(summed.items()) if entry["mm"]["likely"] > 0
    ]


def _need(entry: Mapping[str, Any], mine: Thread | None, drawer: Sequence[Thread]) -> say.Need:
    taken, left = entry["mm"], max(0.0, mine.left_mm) if mine else 0.0
    short = max(0.0, taken["high"] - left)
    skein = (mine.words.skein_mm if mine else None) or entry["skein_mm"]
    count = ceil(short / skein - 1e-9) if skein and short else (0 if not short else None)
    near = nearest(entry["colour"], drawer)[0] if drawer and mine is None else None
    return say.Need(
        name=entry["name"],
        colour=entry["colour"],
        thread=mine.id if mine else None,
        needed_mm=say.Span(**{end: round(taken[end], 1) for end in ENDS}),
        left_mm=round(left, 1),
        short_mm=round(short, 1),
        skeins=count,
        skein_mm=skein,
        spare_mm=round(left + count * skein - taken["likely"], 1) if skein and count is not None else None,
        price=mine.words.price if mine else None,
        currency=mine.words.currency if mine else None,
        nearest=near
        and say.NearThread(
            id=near[0].id, name=near[0].words.name, colour=near[0].words.colour, difference=round(near[1], 3)
        ),
        designs=tuple(dict.fromkeys(entry["designs"])),
    )
