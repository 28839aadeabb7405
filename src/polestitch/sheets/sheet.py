"""Paper as data: a sheet is a size and a list of marks in millimetres.

In: nothing.  Out: frozen records.  The origin is the top left corner, x to the right, y down; type
sizes alone are in points, as printers count them.  Marks are drawn in order, later ones on top.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from polestitch.errors import DesignError

Face = Literal["serif", "serif italic", "serif bold", "sans", "sans bold"]
Anchor = Literal["start", "middle", "end"]
Box = tuple[float, float, float, float]  # left, top, right, bottom
MM_PER_POINT = 25.4 / 72
MARGIN = 15.0
EDGE = 13.0  # nothing vital is nearer to the edge: printers leave up to 12 mm unprinted

# Paper is white; these are the inks (the look's Daylight tokens).
INK, QUIET, HAIR = "#23262d", "#5c6068", "#d9d2c5"
INDIGO, MADDER, MOSS, BRASS, WHITE = "#2b4c7e", "#a93d29", "#47654a", "#82621a", "#ffffff"


@dataclass(frozen=True)
class Paper:
    """One size of paper."""

    name: str
    width: float
    height: float


A4 = Paper("a4", 210.0, 297.0)  # ISO 216
LETTER = Paper("letter", 215.9, 279.4)  # 8.5 x 11 in
PAPERS = {paper.name: paper for paper in (A4, LETTER)}


def paper_named(name: str) -> Paper:
    """The paper called ``name``; ``DesignError`` names the ones there are."""
    try:
        return PAPERS[name.lower()]
    except KeyError:
        raise DesignError("--paper", f"{name[:20]!r} is no paper size here; choose a4 or letter") from None


@dataclass(frozen=True)
class Pen:
    """How a line is drawn: colour, width in mm, dashes in mm (none: solid), ends."""

    colour: str = INK
    width: float = 0.2
    dash: tuple[float, ...] = ()
    cap: Literal["butt", "round"] = "butt"


@dataclass(frozen=True)
class Line:
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    pen: Pen = Pen()

    def moved(self, dx: float, dy: float) -> "Line":
        """The same line elsewhere."""
        return replace(self, x1=self.x1 + dx, y1=self.y1 + dy, x2=self.x2 + dx, y2=self.y2 + dy)

    @property
    def box(self) -> Box:
        """Smallest upright box round it, the pen's width left out."""
        return min(self.x1, self.x2), min(self.y1, self.y2), max(self.x1, self.x2), max(self.y1, self.y2)


@dataclass(frozen=True)
class Path:
    """A line of pieces: (x, y) straight on, or (x1, y1, x2, y2, x, y) a cubic Bézier."""

    start: tuple[float, float]
    pieces: tuple[tuple[float, ...], ...]
    pen: Pen | None = Pen()
    fill: str | None = None
    closed: bool = False

    def moved(self, dx: float, dy: float) -> "Path":
        """The same path elsewhere."""
        shifts = (dx, dy) * 3
        pieces = tuple(tuple(v + d for v, d in zip(piece, shifts)) for piece in self.pieces)
        return replace(self, start=(self.start[0] + dx, self.start[1] + dy), pieces=pieces)

    @property
    def box(self) -> Box:
        """An upright box round it (round its handles, so never too small)."""
        xs = [self.start[0], *(v for piece in self.pieces for v in piece[0::2])]
        ys = [self.start[1], *(v for piece in self.pieces for v in piece[1::2])]
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True)
class Circle:
    """A circle or, with a fill and no pen, a disc."""

    x: float
    y: float
    radius: float
    pen: Pen | None = Pen()
    fill: str | None = None

    def moved(self, dx: float, dy: float) -> "Circle":
        """The same circle elsewhere."""
        return replace(self, x=self.x + dx, y=self.y + dy)

    @property
    def box(self) -> Box:
        """Smallest upright box round it."""
        return self.x - self.radius, self.y - self.radius, self.x + self.radius, self.y + self.radius


@dataclass(frozen=True)
class Text:
    """One line of text; (x, y) is on its baseline, ``turn`` in degrees clockwise about that point."""

    x: float
    y: float
    text: str
    face: Face = "sans"
    size: float = 8.5
    anchor: Anchor = "start"
    colour: str = INK
    turn: float = 0.0

    def moved(self, dx: float, dy: float) -> "Text":
        """The same words elsewhere."""
        return replace(self, x=self.x + dx, y=self.y + dy)


@dataclass(frozen=True)
class Image:
    """A picture (PNG or JPEG bytes) filling a box; ``words`` tell it to who cannot see it."""

    x: float
    y: float
    width: float
    height: float
    data: bytes
    words: str = ""

    def moved(self, dx: float, dy: float) -> "Image":
        """The same picture elsewhere."""
        return replace(self, x=self.x + dx, y=self.y + dy)

    @property
    def box(self) -> Box:
        """The box it fills."""
        return self.x, self.y, self.x + self.width, self.y + self.height


Mark = Line | Path | Circle | Text | Image


@dataclass(frozen=True)
class Sheet:
    """One page of marks; ``title`` is its entry in the outline."""

    paper: Paper
    marks: tuple[Mark, ...]
    title: str = ""


def moved(marks: Iterable[Mark], dx: float, dy: float) -> tuple[Mark, ...]:
    """All ``marks`` shifted by (dx, dy)."""
    return tuple(mark.moved(dx, dy) for mark in marks)


def polygon(points: Iterable[tuple[float, float]], pen: Pen | None = None, fill: str | None = None) -> Path:
    """A closed outline through ``points``."""
    first, *rest = points
    return Path(first, tuple(rest), pen, fill, closed=True)


def rectangle(box: Box, pen: Pen | None = None, fill: str | None = None) -> Path:
    """An upright box as an outline."""
    left, top, right, bottom = box
    return polygon(((left, top), (right, top), (right, bottom), (left, bottom)), pen, fill)
