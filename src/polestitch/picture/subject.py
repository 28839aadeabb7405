"""What a build has to show.

In: a build: its design, ball, marking, laid thread, crossings and which thread is over at each.
Out: ``Subject`` for the pictures, and the view an address gives.
"""

import numpy as np

from polestitch.document.design import Design
from polestitch.document.threads import pitch_mm
from polestitch.laying.built import Built
from polestitch.laying.laid import Laid
from polestitch.laying.top import reversals
from polestitch.marking.address import address
from polestitch.marking.marking import Guideline, Marking
from polestitch.picture.scene import Subject, Yarn
from polestitch.picture.view import View, view_of

_MARKING_MM = 0.35  # a marking of the ground's own sewing thread


def subject(build: Built) -> Subject:
    """The whole ball, in the colours of its document."""
    design = build.design
    by_name = {thread.name: thread for thread in design.threads}
    marker = by_name.get(design.marking.thread or "")
    width = _MARKING_MM if marker is None else pitch_mm(marker, measures=design.maker.measures).mm
    return Subject(
        laid=build.laid,
        yarns=tuple(Yarn(thread.colour, thread.metallic) for thread in design.threads),
        ground=design.ball.colour,
        around_mm=build.ball.around_mm,
        marking=marking_laid(_kept(design, build.marking), build.ball.angle(width)),
        marking_yarn=None if marker is None else Yarn(marker.colour, marker.metallic),
        reversed_at=reversals(build.crossings, build.over),
    )


def facing(build: Built, place: str) -> View:
    """The view with the address ``place`` in the middle; ``DesignError`` where there is none."""
    return view_of(address(build.marking, place, build.ball, "--facing").at)


def marking_laid(guidelines: tuple[Guideline, ...], width: float) -> Laid | None:
    """The marking as laid thread, a row a guideline, ``width`` radians wide; None without guidelines."""
    if not guidelines:
        return None
    count = len(guidelines)
    index, none = np.arange(count, dtype=np.int32), np.zeros(count, dtype=np.int32)
    return Laid(
        normal=np.array([line.normal for line in guidelines]),
        offset=np.array([line.offset for line in guidelines], dtype=float),
        start=np.array([line.start for line in guidelines]),
        sweep=np.array([line.sweep for line in guidelines], dtype=float),
        arc_span=index,
        span_row=index,
        row_layer=none,
        row_motif=none,
        row_number=index + 1,
        row_thread=none,
        row_pitch=np.full(count, width),
    )


def _kept(design: Design, marking: Marking) -> tuple[Guideline, ...]:
    """Guidelines that stay on the finished ball: laid, and not taken out again."""
    if marking.removed:
        return ()
    removed = [support.name for support in design.marking.support if support.removed]
    laid = (line for line in marking.guidelines if line.support or marking.laid)
    return tuple(line for line in laid if not (line.support and _names(line.name, removed)))


def _names(line: str, supports: list[str]) -> bool:
    """Whether a line is, or is a side of, one of the support lines."""
    return any(line == name or line.startswith(f"{name} ") for name in supports)
