"""What may change to make a wish come true: rows, the step at points, where row 1 starts, the threads, the ball.

In: a document and a wish.  Out: ``Unknown``: its range, and the document with another value in it.
"""

from collections.abc import Callable
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from polestitch.document.lengths import Length
from polestitch.document.limits import LARGEST_AROUND_MM, SMALLEST_AROUND_MM
from polestitch.document.threads import SIZES, pitch_mm
from polestitch.errors import DesignError
from polestitch.fit import MOST_ROWS
from polestitch.fitting.scaled import picture_lengths
from polestitch.fitting.stage import Document, Stage, ground_of, planned
from polestitch.fitting.stripes import restriped, rows_text, stripes
from polestitch.fitting.wishes import Wish, missed

MOST_STEP_MM = 5.0  # more leaves ground between the rows of any point (common practice, no source)
MOST_LOOSE = 1.6  # published work implies widths up to one and a half of the gauge's for one thread
FARTHEST = 2.85  # radians from its middle a row can start
_TELLS = 1e-4  # mm: a param that moves the motif's end moves it by more than this


@dataclass(frozen=True)
class Unknown:
    """``put`` gives the document with another value; values are rows, mm, or which of some threads."""

    now: float
    least: float
    most: float
    whole: bool
    put: Callable[[float], Document]
    said: Callable[[float], str]
    digits: int = 0
    listed: bool = False  # every whole value from least to most is a thing of its own

    def rounded(self, value: float) -> float:
        """As it stands in the document."""
        return round(value, self.digits)


def unknown(document: Document, wish: Wish) -> Unknown:
    """What the wish allows to change; ``DesignError`` where there is nothing of the kind."""
    index = next(k for k, layer in enumerate(document["layers"]) if layer["name"] == wish.layer)
    stage = ground_of(document).stage(index)
    ways = {"rows": _rows, "stretch": _stretch, "start": _start, "thread": _thread, "pitch": _pitch, "around": _around}
    return ways[wish.change](document, stage, wish)


def _rows(document: Document, stage: Stage, _wish: Wish) -> Unknown:
    repeats = stage.plan.until is not None
    cycle = stage.plan.threads

    def put(count: float) -> Document:
        number = int(count)
        named = tuple(cycle[k % len(cycle)] for k in range(number)) if repeats else restriped(cycle, number)
        return _with_layer(document, stage.index, rows=rows_text(named))

    now = min(stage.count(repeat) for repeat in stage.repeats)
    least = 1 if repeats else len(stripes(cycle))
    return Unknown(now, least, MOST_ROWS, True, put, lambda count: f"{count:.0f} row{'' if count == 1 else 's'}")


def _with_layer(document: Document, index: int, **parts: Any) -> Document:
    changed = {**document, "layers": list(document["layers"])}
    changed["layers"][index] = {**document["layers"][index], **parts}
    return changed


def _stretch(document: Document, stage: Stage, _wish: Wish) -> Unknown:
    """Her step at sharp points; a measured one gives way to it."""
    thread = max(stage.ground.palette.pitch[stage.ground.palette.index[name]] for name in stage.plan.threads)
    ball, site = stage.ground.ball, stage.repeats[0].seat.site

    def put(mm: float) -> Document:
        maker = {**document.get("maker", {}), "stretch": f"{mm:.6f}".rstrip("0").rstrip(".") + " mm"}
        if "measures" in maker:
            maker["measures"] = {key: value for key, value in maker["measures"].items() if key != "step"}
        return {**document, "maker": maker}

    least, now = ball.mm(thread), ball.mm(site.stretch)
    return Unknown(
        now, min(least, now), max(MOST_STEP_MM, now), False, put, lambda mm: f"a step of {mm:.2f} mm at the points", 2
    )


def _start(document: Document, stage: Stage, wish: Wish) -> Unknown:
    craft = stage.ground.design.layers[stage.index].technique
    names = [name for name, _ in picture_lengths(craft)]
    if wish.param is not None:
        if wish.param not in names:
            raise DesignError("wish.param", f'"{wish.param}" is no length of {craft}; there is {_or_none(names)}')
        return _length(document, stage, wish.param)
    for name in names:
        asked = _length(document, stage, name)
        if _moves(asked, wish):
            return asked
    raise DesignError("wish.change", f"no length of {craft} moves its end ({_or_none(names)}); change rows instead")


def _or_none(names: list[str]) -> str:
    return ", ".join(names) or "none"


def _moves(asked: Unknown, wish: Wish) -> bool:
    try:
        return abs(missed(asked.put(asked.now * 0.99), wish).mm - missed(asked.put(asked.now), wish).mm) > _TELLS
    except DesignError:
        return False


def _length(document: Document, stage: Stage, name: str) -> Unknown:
    """A param as millimetres from the middle, written with the origin it had."""
    site, ball = stage.repeats[0].seat.site, stage.ground.ball
    old: Length = getattr(stage.repeats[0].params, name)
    plain = old.origin is None and old.mm is not None
    reach = ball.mm(float(site.reaches.min()))
    back = old.origin in ("edge", "obi")
    now = old.mm if plain and old.mm is not None else ball.mm(site.distance(old, 0, f"params.{name}"))

    def counted(mm: float) -> tuple[float, str]:
        """Back from the far end as she wrote it, as far as that goes; else from the middle."""
        if back and mm < reach:
            return reach - mm, f" from {old.origin}"
        return mm, " from centre" if back else f" from {old.origin}" if old.origin else ""

    def said(mm: float) -> str:
        value, origin = counted(mm)
        return f"{round(value, 1):g} mm{origin}"

    def put(mm: float) -> Document:
        value, origin = counted(mm)
        text = f"{value:.6f}".rstrip("0").rstrip(".")
        params = {**document["layers"][stage.index].get("params", {}), name: f"{text} mm{origin}"}
        return _with_layer(document, stage.index, params=params)

    most = ball.mm(FARTHEST)
    return Unknown(now, min(0.4, now), max(most, now), False, put, lambda mm: f'"{name}" {said(mm)}', 1)


def _thread(document: Document, stage: Stage, _wish: Wish) -> Unknown:
    """Another thread for the layer's main one: those she has in the design first, then sizes that can be bought."""
    design, used = stage.ground.design, stage.plan.threads
    main = next(thread for thread in design.threads if thread.name == used[0])
    owned = [thread.size for thread in design.threads if thread.rows_per_cm is None and thread.tex is None]
    sizes = list(dict.fromkeys([main.size, *owned, *SIZES]))
    worked = {thread.name for thread in design.threads if thread.name in used and thread.size == main.size}

    def put(value: float) -> Document:
        changed = deepcopy(document)
        for thread in changed["threads"]:
            if value and thread["name"] in worked:
                thread["size"] = sizes[int(value)]
                thread.pop("rows_per_cm", None)
                thread.pop("tex", None)
        return changed

    def said(value: float) -> str:
        size = sizes[int(value)]
        return size if int(value) <= len(set(owned)) and (size in owned or not value) else f"{size}, to buy"

    return Unknown(0, 0, len(sizes) - 1, True, put, said, listed=True)


def _pitch(document: Document, stage: Stage, _wish: Wish) -> Unknown:
    """How wide the first thread lies, closer or looser; the layer's other threads keep their proportion to it."""
    used = set(stage.plan.threads)
    made = stage.ground.design
    widths = {thread.name: pitch_mm(thread, measures=made.maker.measures).mm for thread in made.threads}
    now = widths[stage.plan.threads[0]]

    def put(mm: float) -> Document:
        changed = deepcopy(document)
        for thread in changed["threads"]:
            if thread["name"] in used:
                thread["rows_per_cm"] = 10 / (widths[thread["name"]] * mm / now)
        return changed

    least, most = now / MOST_LOOSE, now * MOST_LOOSE
    return Unknown(now, least, most, False, put, lambda mm: f"rows laid {mm:.2f} mm apart", 4)


def _around(document: Document, stage: Stage, _wish: Wish) -> Unknown:
    now = stage.ground.ball.around_mm
    least, most = max(SMALLEST_AROUND_MM, now / 3), min(LARGEST_AROUND_MM, now * 3)

    def put(mm: float) -> Document:
        return planned(document, f"{mm:.6f}".rstrip("0").rstrip(".") + " mm")

    return Unknown(now, least, most, False, put, lambda mm: f"a ball {mm:.1f} mm round", 1)
