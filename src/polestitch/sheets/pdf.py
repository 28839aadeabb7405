"""Sheets as PDF at true size: text stays text, faces are embedded, the same bytes every time.

In: ``Sheet``s.  Out: bytes.
"""

import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import singledispatch
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase.pdfdoc import PDFString
from reportlab.pdfgen.canvas import Canvas

from polestitch.sheets.lettering import FILES, font, runs, width_mm
from polestitch.sheets.sheet import MM_PER_POINT, Circle, Image, Line, Mark, Path, Pen, Sheet, Text

POINT = 1 / MM_PER_POINT  # points in a millimetre


def pdf(sheets: Iterable[Sheet], title: str = "") -> bytes:
    """All ``sheets`` as one document, its outline from their titles.

    The document asks the print dialogue not to scale; the check lines show whether it listened.
    """
    pages = tuple(sheets)
    buffer = io.BytesIO()
    first: Any = font("sans").fontName  # else an unembedded Helvetica slips in
    canvas: Any = Canvas(buffer, _points(pages[0]), invariant=1, pageCompression=1, initialFontName=first)
    canvas.setTitle(title or pages[0].title)
    canvas.setCreator("Polestitch")
    canvas.setAuthor("")
    canvas.setSubject("")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas._doc.Catalog.Lang = PDFString("en-GB")  # the engine has no public door for the language
    for number, sheet in enumerate(pages):
        _page(canvas, sheet, number)
    canvas.save()
    return buffer.getvalue()


def _points(sheet: Sheet) -> tuple[float, float]:
    return sheet.paper.width * POINT, sheet.paper.height * POINT


def _page(canvas: Any, sheet: Sheet, number: int) -> None:
    canvas.setPageSize(_points(sheet))
    if sheet.title:
        canvas.bookmarkPage(f"page{number}")
        canvas.addOutlineEntry(sheet.title, f"page{number}")
    brush = Brush(canvas, sheet.paper.height)
    for mark in sheet.marks:
        draw(mark, brush)
    canvas.showPage()


@dataclass
class Brush:
    """The page being drawn on; it remembers pen and fill, which most marks share with the one before."""

    canvas: Any
    height: float  # of the paper: y runs up in PDF
    pen: Pen | None = None
    fill: str | None = None

    def turned(self, values: Sequence[float]) -> tuple[float, ...]:
        """Millimetres from the top left as points from the bottom left, x and y by turns."""
        return tuple((self.height - v if i % 2 else v) * POINT for i, v in enumerate(values))

    def paint(self, pen: Pen | None, fill: str | None) -> None:
        """Take up a pen and a fill, where they are not in hand already."""
        canvas = self.canvas
        if pen is not None and pen != self.pen:
            canvas.setStrokeColor(HexColor(pen.colour))
            canvas.setLineWidth(pen.width * POINT)
            canvas.setDash([dash * POINT for dash in pen.dash])
            canvas.setLineCap(int(pen.cap == "round"))
            canvas.setLineJoin(int(pen.cap == "round"))
            self.pen = pen
        if fill is not None and fill != self.fill:
            canvas.setFillColor(HexColor(fill))
            self.fill = fill


@singledispatch
def draw(mark: Mark, brush: Brush) -> None:
    """Put one mark on the page."""
    raise TypeError(f"{type(mark).__name__} is no mark")


@draw.register
def _(mark: Line, brush: Brush) -> None:
    brush.paint(mark.pen, None)
    brush.canvas.line(*brush.turned((mark.x1, mark.y1, mark.x2, mark.y2)))


@draw.register
def _(mark: Path, brush: Brush) -> None:
    brush.paint(mark.pen, mark.fill)
    path = brush.canvas.beginPath()
    path.moveTo(*brush.turned(mark.start))
    for piece in mark.pieces:
        (path.lineTo if len(piece) == 2 else path.curveTo)(*brush.turned(piece))
    if mark.closed:
        path.close()
    brush.canvas.drawPath(path, stroke=int(mark.pen is not None), fill=int(mark.fill is not None))


@draw.register
def _(mark: Circle, brush: Brush) -> None:
    brush.paint(mark.pen, mark.fill)
    x, y = brush.turned((mark.x, mark.y))
    brush.canvas.circle(x, y, mark.radius * POINT, stroke=int(mark.pen is not None), fill=int(mark.fill is not None))


@draw.register
def _(mark: Text, brush: Brush) -> None:
    shift = {"start": 0.0, "middle": -0.5, "end": -1.0}[mark.anchor]
    brush.canvas.saveState()
    brush.canvas.translate(*brush.turned((mark.x, mark.y)))
    if mark.turn:
        brush.canvas.rotate(-mark.turn)
    line = brush.canvas.beginText(shift * width_mm(mark.text, mark.face, mark.size) * POINT, 0)
    line.setFillColor(HexColor(mark.colour))
    for face, piece in runs(mark.text, mark.face):
        font(face)
        line.setFont(FILES[face], mark.size)
        line.textOut(piece)
    brush.canvas.drawText(line)
    brush.canvas.restoreState()


@draw.register
def _(mark: Image, brush: Brush) -> None:
    x, y = brush.turned((mark.x, mark.y + mark.height))
    brush.canvas.drawImage(
        ImageReader(io.BytesIO(mark.data)), x, y, mark.width * POINT, mark.height * POINT, mask="auto"
    )
