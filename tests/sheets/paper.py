"""What a sheet or its PDF holds, measured back."""

import io
from collections.abc import Iterable
from itertools import combinations
from typing import Any, cast

import pdfplumber
import pypdf

from polestitch.sheets.lettering import text_box
from polestitch.sheets.placing import overlap
from polestitch.sheets.sheet import Box, Mark, Sheet, Text

MM = 72 / 25.4  # points in a millimetre


def box_of(mark: Mark) -> Box:
    """The upright box any mark fills."""
    return text_box(mark) if isinstance(mark, Text) else mark.box


def outside(sheet: Sheet, edge: float) -> list[Mark]:
    """Marks nearer to the paper's edge than ``edge`` mm."""
    slack, paper = 1e-6, sheet.paper
    low, wide, tall = edge - slack, paper.width - edge + slack, paper.height - edge + slack
    boxes = ((mark, box_of(mark)) for mark in sheet.marks)
    return [mark for mark, (a, b, c, d) in boxes if a < low or b < low or c > wide or d > tall]


def overlapping(sheet: Sheet, slack: float = 0.15) -> list[tuple[str, str]]:
    """Pairs of texts whose boxes lie on each other by more than ``slack`` mm."""
    texts = [(mark.text, text_box(mark)) for mark in sheet.marks if isinstance(mark, Text)]
    return [(a, b) for (a, one), (b, other) in combinations(texts, 2) if overlap(one, other, -slack)]


def words(data: bytes) -> str:
    """All text of a PDF, in reading order as a PDF library finds it."""
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)


def sizes_points(data: bytes) -> list[tuple[float, float]]:
    """Width and height of every page."""
    return [(float(p.mediabox.width), float(p.mediabox.height)) for p in pypdf.PdfReader(io.BytesIO(data)).pages]


def fonts(data: bytes) -> dict[str, bool]:
    """Every font a page names: whether its file is inside the PDF."""
    found: dict[str, bool] = {}
    for page in pypdf.PdfReader(io.BytesIO(data)).pages:
        resources = cast(Any, page["/Resources"])
        for font in resources["/Font"].values():
            described = font.get_object()
            found[described["/BaseFont"]] = "/FontFile2" in described.get("/FontDescriptor", {})
    return found


def straight_lines(data: bytes, page: int = 0) -> list[tuple[float, float, float, float]]:
    """Straight lines of a page as (x1, y1, x2, y2) in mm from the top left corner."""
    with pdfplumber.open(io.BytesIO(data)) as opened:
        lines = opened.pages[page].lines
        return [(line["x0"] / MM, line["top"] / MM, line["x1"] / MM, line["bottom"] / MM) for line in lines]


def upright_boxes(data: bytes, page: int = 0) -> list[Box]:
    """Rectangles of a page in mm, whether the library calls them rectangles or curves."""
    with pdfplumber.open(io.BytesIO(data)) as opened:
        shown = opened.pages[page]
        return [
            (shape["x0"] / MM, shape["top"] / MM, shape["x1"] / MM, shape["bottom"] / MM)
            for shape in (*shown.rects, *shown.curves)
        ]


def distinct(values: Iterable[float], apart: float = 0.02) -> list[float]:
    """``values`` in order, those nearer than ``apart`` taken for one."""
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > apart:
            kept.append(value)
    return kept
