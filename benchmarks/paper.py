"""Speed of paper: a page of 20,000 arcs, against the PDF library drawing the same arcs by itself."""

import io

import numpy as np
from reportlab.pdfgen.canvas import Canvas

from benchmarks.building import in_process
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import A4, MM_PER_POINT, Path, Pen, Sheet
from polestitch.sheets.svg import svg

COUNT = 20_000


def rows() -> list[tuple[str, float, float]]:
    """(goal, ratio, aim); a line beginning with '<=' is met when the ratio is at most the aim."""
    page = Sheet(A4, tuple(_arcs()))
    library = in_process(lambda: _by_library(page), 3)
    return [
        ("<= page of 20,000 arcs as PDF : the PDF library alone", in_process(lambda: pdf([page]), 3) / library, 2.0),
        ("<= page of 20,000 arcs as SVG : the PDF library alone", in_process(lambda: svg(page), 3) / library, 1.0),
    ]


def _arcs() -> list[Path]:
    """Short Béziers all over the page, the same every time."""
    rng = np.random.default_rng(7)
    starts = rng.uniform(20, 190, (COUNT, 2))
    turns = rng.normal(0, 4, (COUNT, 6))
    pen = Pen(width=0.3)
    return [
        Path((x, y), ((x + a, y + b, x + c, y + d, x + e, y + f),), pen=pen)
        for (x, y), (a, b, c, d, e, f) in zip(starts.tolist(), turns.tolist())
    ]


def _by_library(page: Sheet) -> bytes:
    """The same arcs drawn straight on the library's canvas."""
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(A4.width / MM_PER_POINT, A4.height / MM_PER_POINT))
    canvas.setLineWidth(0.3 / MM_PER_POINT)
    canvas.scale(1 / MM_PER_POINT, 1 / MM_PER_POINT)
    for mark in page.marks:
        assert isinstance(mark, Path)
        path = canvas.beginPath()
        path.moveTo(*mark.start)
        for piece in mark.pieces:
            path.curveTo(*piece)
        canvas.drawPath(path)
    canvas.save()
    return file.getvalue()
