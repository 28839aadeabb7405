"""What a show's paper holds, measured back with a PDF library.

In: bytes.  Out: circles, letters and crop marks in mm and points.
"""

import io
from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

import pdfplumber
from PIL import Image

from polestitch.sheets.show.papers import paper
from polestitch.showing.exhibition import Exhibition
from tests.showing.harbour import BALLS

MM = 72 / 25.4


class Round(NamedTuple):
    """A circle: page, middle and diameter in mm."""

    page: int
    x: float
    y: float
    across: float


class Letter(NamedTuple):
    """A letter: page, itself, size in points, its font, and its sides in mm from the top left corner."""

    page: int
    text: str
    size: float
    left: float
    right: float
    font: str
    top: float
    bottom: float


@cache
def pictures() -> Mapping[str, bytes]:
    """A plain picture of each ball."""
    made = {}
    for k in range(len(BALLS)):
        file = io.BytesIO()
        Image.new("RGBA", (90, 90), (20 * k, 60, 120, 255)).save(file, "PNG")
        made[f"HL-{k + 1:02d}"] = file.getvalue()
    return made


def made(kind: str, exhibition: Exhibition, size: str = "a4") -> bytes:
    """The bytes of one paper, with a picture of each piece."""
    return paper(kind, exhibition, pictures(), size)[2]


def circles(data: bytes) -> list[Round]:
    """Every circle of every page."""
    with pdfplumber.open(io.BytesIO(data)) as opened:
        return [_round(n, curve) for n, page in enumerate(opened.pages) for curve in page.curves if _is_round(curve)]


def _is_round(curve: dict[str, Any]) -> bool:
    return abs(float(curve["width"]) - float(curve["height"])) < 0.05


def _round(page: int, curve: dict[str, Any]) -> Round:
    x, y = (curve["x0"] + curve["x1"]) / 2, (curve["top"] + curve["bottom"]) / 2
    return Round(page, x / MM, y / MM, curve["width"] / MM)


def letters(data: bytes) -> list[Letter]:
    """Every letter of every page."""
    with pdfplumber.open(io.BytesIO(data)) as opened:
        return [
            Letter(
                n,
                char["text"],
                char["size"],
                char["x0"] / MM,
                char["x1"] / MM,
                char["fontname"],
                char["top"] / MM,
                char["bottom"] / MM,
            )
            for n, page in enumerate(opened.pages)
            for char in page.chars
        ]


def said(data: bytes) -> str:
    """All words, lines joined by spaces."""
    with pdfplumber.open(io.BytesIO(data)) as opened:
        return " ".join(" ".join(page.extract_text() or "" for page in opened.pages).split())


def pages(data: bytes) -> int:
    """How many pages."""
    with pdfplumber.open(io.BytesIO(data)) as opened:
        return len(opened.pages)


def last_page(data: bytes) -> str:
    """The words of the last page."""
    with pdfplumber.open(io.BytesIO(data)) as opened:
        return " ".join((opened.pages[-1].extract_text() or "").split())


def images(data: bytes) -> list[int]:
    """How many pictures each page holds."""
    with pdfplumber.open(io.BytesIO(data)) as opened:
        return [len(page.images) for page in opened.pages]
