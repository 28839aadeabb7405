"""The sessions of a class as bars to scale, one below another.

In: meetings and the stages they name.  Out: one block.  Numbers key the parts to a table; greys alternate so that
neighbours are told apart in black and white.
"""

from collections.abc import Sequence

from polestitch.sheets.blocks import Block
from polestitch.sheets.sheet import HAIR, INK, QUIET, Line, Mark, Pen, Text, rectangle
from polestitch.teaching.minutes import time_said
from polestitch.teaching.timeline import Meeting

LABEL, HIGH, PITCH = 26.0, 9.0, 17.0  # mm: words at the left, height of a bar, from bar to bar
FILLS = ("#ffffff", "#e4e4e2", "#c9c9c7")
TICK = 30.0  # minutes
NARROWEST = 3.6  # mm a number needs


def bars(meetings: Sequence[Meeting], width: float, first: int = 0) -> Block:
    """All sessions at one scale; a part's number is its stage's in the class, ``first`` being prepared before it."""
    scale = (width - LABEL) / max(meeting.minutes for meeting in meetings)
    marks: list[Mark] = []
    for k, meeting in enumerate(meetings):
        marks += _bar(k, meeting, scale, first)
    return Block(PITCH * len(meetings) + 2.0, tuple(marks))


def _bar(k: int, meeting: Meeting, scale: float, first: int) -> list[Mark]:
    top = k * PITCH + 1.0
    end = LABEL + meeting.minutes * scale
    marks: list[Mark] = [
        Text(0.0, top + 4.0, f"Session {k + 1}", "sans bold", 8.5),
        Text(0.0, top + 7.6, time_said(meeting.minutes), "sans", 7.5, colour=QUIET),
        *_talk(LABEL, top, LABEL + meeting.talk * scale),
    ]
    for bar in meeting.bars:
        left, right = LABEL + bar.start * scale, LABEL + (bar.start + bar.minutes) * scale
        number = bar.stage + first
        marks.append(rectangle((left, top, right, top + HIGH), Pen(INK, 0.2), FILLS[number % len(FILLS)]))
        if right - left >= NARROWEST:
            marks.append(Text((left + right) / 2, top + 5.8, str(number + 1), "sans bold", 8.5, "middle"))
    marks.append(rectangle((LABEL, top, end, top + HIGH), Pen(INK, 0.35)))
    return marks + _ticks(meeting, top, scale)


def _talk(left: float, top: float, right: float) -> list[Mark]:
    """Time in which nobody stitches: upright hatching."""
    marks: list[Mark] = [rectangle((left, top, right, top + HIGH), Pen(INK, 0.2), "#ffffff")]
    x = left + 1.2
    while x < right - 0.4:
        marks.append(Line(x, top, x, top + HIGH, Pen(QUIET, 0.15)))
        x += 1.2
    return marks


def _ticks(meeting: Meeting, top: float, scale: float) -> list[Mark]:
    """Every half hour, from the beginning; the hours have their number."""
    marks: list[Mark] = []
    minutes = 0.0
    while minutes <= meeting.minutes + 1e-6:
        x, hour = LABEL + minutes * scale, minutes % 60 == 0
        marks.append(Line(x, top + HIGH, x, top + HIGH + (1.8 if hour else 1.0), Pen(INK if hour else HAIR, 0.2)))
        if hour:
            marks.append(Text(x, top + HIGH + 4.4, f"{minutes / 60:.0f} h", "sans", 7.0, "middle", QUIET))
        minutes += TICK
    return marks
