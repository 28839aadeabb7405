"""Sheets as PDF at true size: text stays text, faces are embedded, the same bytes every time.

In: ``Sheet``s.  Out: bytes.
"""

import io
from collections.abc import Iterable, Sequence
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
    for mark in sheet.marks:
        draw(mark, canvas, sheet.paper.height)
    canvas.showPage()


@singledispatch
def draw(mark: Mark, canvas: Any, height: float) -> None:
    """Put one mark on the page; y runs up in PDF, so it is taken from ``height``."""
    raise TypeError(f"{type(mark).__name__} is no mark")


@draw.register
def _(mark: Line, canvas: Any, height: float) -> None:
    _paint(canvas, mark.pen, None)
    canvas.line(mark.x1 * POINT, (height - mark.y1) * POINT, mark.x2 * POINT, (height - mark.y2) * POINT)


@draw.register
def _(mark: Path, canvas: Any, height: float) -> None:
    _paint(canvas, mark.pen, mark.fill)
    path = canvas.beginPath()
    path.moveTo(*_turned(mark.start, height))
    for piece in mark.pieces:
        (path.lineTo if len(piece) == 2 else path.curveTo)(*_turned(piece, height))
    if mark.closed:
        path.close()
    canvas.drawPath(path, stroke=int(mark.pen is not None), fill=int(mark.fill is not None))


@draw.register
def _(mark: Circle, canvas: Any, height: float) -> None:
    _paint(canvas, mark.pen, mark.fill)
    x, y = _turned((mark.x, mark.y), height)
    canvas.circle(x, y, mark.radius * POINT, stroke=int(mark.pen is not None), fill=int(mark.fill is not None))


@draw.register
def _(mark: Text, canvas: Any, height: float) -> None:
    shift = {"start": 0.0, "middle": -0.5, "end": -1.0}[mark.anchor]
    canvas.saveState()
    canvas.translate(*_turned((mark.x, mark.y), height))
    if mark.turn:
        canvas.rotate(-mark.turn)
    line = canvas.beginText(shift * width_mm(mark.text, mark.face, mark.size) * POINT, 0)
    line.setFillColor(HexColor(mark.colour))
    for face, piece in runs(mark.text, mark.face):
        font(face)
        line.setFont(FILES[face], mark.size)
        line.textOut(piece)
    canvas.drawText(line)
    canvas.restoreState()


@draw.register
def _(mark: Image, canvas: Any, height: float) -> None:
    x, y = _turned((mark.x, mark.y + mark.height), height)
    canvas.drawImage(ImageReader(io.BytesIO(mark.data)), x, y, mark.width * POINT, mark.height * POINT, mask="auto")


def _turned(values: Sequence[float], height: float) -> tuple[float, ...]:
    return tuple((height - v if i % 2 else v) * POINT for i, v in enumerate(values))


def _paint(canvas: Any, pen: Pen | None, fill: str | None) -> None:
    if pen is not None:
        canvas.setStrokeColor(HexColor(pen.colour))
        canvas.setLineWidth(pen.width * POINT)
        canvas.setDash([dash * POINT for dash in pen.dash] or [])
        canvas.setLineCap(int(pen.cap == "round"))
        canvas.setLineJoin(int(pen.cap == "round"))
    if fill is not None:
        canvas.setFillColor(HexColor(fill))
