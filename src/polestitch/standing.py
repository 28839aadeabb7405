"""Where a row stands on her ball: evidence for her hand from a piece of work itself.

In: a design, a layer, a row and how far its tips stand from the motif's middle.  Out: ``Evidence``.

The same motif is stitched for any hand as far as that row; what counts is how far it has come from the first row, which
stands where the design says.
"""

from functools import lru_cache, partial

from polestitch.document.design import Design, Layer
from polestitch.document.lengths import Length
from polestitch.document.rows import row_list
from polestitch.document.threads import pitch_mm
from polestitch.errors import DesignError
from polestitch.fit import extent
from polestitch.hand import Evidence
from polestitch.hand.sampler import Standing
from polestitch.pipeline import worked

RULER_MM = 0.5  # how far off a length read on a ball usually is: common practice, no source
MOST_KEPT = 64


def standing(design: Design) -> Standing:
    """A ball of hers to measure rows on."""
    plain = [thread for thread in design.threads if thread.rows_per_cm is None]
    return Standing(partial(row_stands, design), {thread.size: pitch_mm(thread).mm for thread in plain})


def row_stands(design: Design, layer: str, row: int, mm: float, where: str = "") -> Evidence:
    """Row ``row`` (from 1) of that layer stands ``mm`` from its motif's middle; ``DesignError`` at ``where``."""
    entry = next((one for one in design.layers if one.name.casefold() == layer.casefold()), None)
    if entry is None:
        known = ", ".join(one.name for one in design.layers) or "none"
        raise DesignError(where, f'"{layer[:60]}" is no layer of this design; there is {known}')
    if row < 2:
        raise DesignError(where, "stands where the design says; measure a later row")
    alone = _alone(design, entry, row)

    @lru_cache(maxsize=MOST_KEPT)
    def tips(factor: float, step: float) -> tuple[float, float]:
        return _tips(alone, factor, step)

    start, drawn = tips(1.0, _step(design))
    if abs(mm - start) < RULER_MM or (mm - start) * (drawn - start) < 0:
        raise DesignError(where, f"{mm:g} mm is not beyond the first row, which stands {start:.1f} mm from the middle")
    return Evidence(abs(mm - start), RULER_MM, lambda factor, step: abs(tips(factor, step)[1] - start))


def _alone(design: Design, layer: Layer, row: int) -> Design:
    """The layer by itself, its rows counted as far as that one."""
    threads = row_list(layer.rows).threads
    names = [threads[k % len(threads)] for k in range(row)]
    changed = {"rows": ", ".join(f"1 {name}" for name in names), "under": (), "crossings": (), "together": None}
    return design.model_copy(update={"layers": (layer.model_copy(update=changed),)})


def _step(design: Design) -> float:
    return design.maker.own_step.mm or 0.0


def _tips(alone: Design, factor: float, step: float) -> tuple[float, float]:
    """Where the first row's and the last row's tips stand, mm from the middle, by this hand."""
    threads = tuple(
        thread.model_copy(update={"rows_per_cm": 10 / (pitch_mm(thread).mm * factor)}) for thread in alone.threads
    )
    maker = alone.maker.model_copy(update={"stretch": Length(f"{step:.6f} mm"), "measures": None})
    made = worked(alone.model_copy(update={"threads": threads, "maker": maker}))
    motif = made.motifs[0]
    first, last = (made.ball.mm(extent(row, motif.site.kind)) for row in (motif.rows[0], motif.rows[-1]))
    return first, last
