"""Marks, and the two ways they are written: SVG text and PDF."""

import io
import xml.etree.ElementTree as ET
from importlib import import_module
from typing import Any, cast

import numpy as np
import pdfplumber
import pypdf
import pytest
from PIL import Image as Pictures

from polestitch.errors import DesignError
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import (
    A4,
    LETTER,
    Circle,
    Image,
    Line,
    Mark,
    Paper,
    Path,
    Pen,
    Sheet,
    Text,
    moved,
    paper_named,
    polygon,
    rectangle,
)
from polestitch.sheets.svg import svg
from tests.sheets.paper import MM, box_of, fonts, sizes_points, words

pypdfium2: Any = import_module("pypdfium2")  # it ships no types
SVG = "{http://www.w3.org/2000/svg}"
TINY = Paper("tiny", 10.999, 8.999)  # a hair less, since PDFium rounds a page up to whole pixels
BLACK = Pen("#000000", 0.8)


def picture_bytes() -> bytes:
    file = io.BytesIO()
    Pictures.new("RGB", (8, 8), "#a93d29").save(file, "PNG")
    return file.getvalue()


ALL: tuple[Mark, ...] = (
    Line(20.0, 20.0, 120.0, 20.0),
    Path((20.0, 40.0), ((30.0, 30.0, 40.0, 30.0, 50.0, 40.0), (60.0, 50.0)), Pen("#2b4c7e", 0.7, cap="round")),
    polygon([(80.0, 40.0), (90.0, 50.0), (70.0, 50.0)], None, "#82621a"),
    Circle(40.0, 80.0, 10.0, Pen("#000000", 0.3, (1.0, 0.5))),
    Text(20.0, 110.0, "Breakwater & <Quay> 菊", "serif", 12),
    Text(180.0, 110.0, "end", "sans bold", 9, "end", turn=90),
    Image(20.0, 120.0, 30.0, 30.0, picture_bytes(), "A red square"),
)


def pixels(sheet: Sheet) -> str:
    """The page at one pixel per millimetre, as PDFium paints it: # for ink, . for paper."""
    document = pypdfium2.PdfDocument(pdf([sheet]))
    # PDFium takes a point, 1/72 in, for a pixel: at this scale it is a millimetre.
    grey = document[0].render(scale=25.4 / 72).to_pil().convert("L")
    document.close()
    dark = np.asarray(grey) < 128
    return "\n".join("".join("#" if spot else "." for spot in row) for row in dark)


def drawn(text: str) -> str:
    return "\n".join(line.strip() for line in text.strip().splitlines())


def test_a_line_and_a_box_land_on_the_pixels_a_hand_would_shade() -> None:
    sheet = Sheet(TINY, (Line(2.5, 2.1, 2.5, 6.9, BLACK), rectangle((4.1, 4.1, 8.9, 5.9), None, "#000000")))
    assert pixels(sheet) == drawn("""
        ...........
        ...........
        ..#........
        ..#........
        ..#.#####..
        ..#.#####..
        ..#........
        ...........
        ...........
    """)


def test_later_marks_lie_on_earlier_ones() -> None:
    black, white = rectangle((2.1, 2.1, 8.9, 6.9), None, "#000000"), rectangle((4.1, 3.1, 6.9, 5.9), None, "#ffffff")
    assert pixels(Sheet(TINY, (black, white))) == drawn("""
        ...........
        ...........
        ..#######..
        ..##...##..
        ..##...##..
        ..##...##..
        ..#######..
        ...........
        ...........
    """)


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_a_page_has_its_paper_s_size_and_a_mark_its_place(paper: Paper) -> None:
    data = pdf([Sheet(paper, (Line(30.0, 40.0, 130.0, 40.0),))])
    assert sizes_points(data)[0] == pytest.approx((paper.width * MM, paper.height * MM), abs=1e-3)
    with pdfplumber.open(io.BytesIO(data)) as opened:
        (line,) = opened.pages[0].lines
    assert [line[end] / MM for end in ("x0", "top", "x1", "bottom")] == pytest.approx([30, 40, 130, 40], abs=1e-3)


def test_every_kind_of_mark_gives_the_same_bytes_twice_with_its_faces_inside() -> None:
    one, two = (pdf([Sheet(A4, ALL, "All marks")], "All marks") for _ in range(2))
    assert one == two
    assert all(fonts(one).values())
    assert "Breakwater & <Quay> 菊" in words(one)


def test_the_document_asks_not_to_be_scaled() -> None:
    assert b"/PrintScaling /None" in pdf([Sheet(A4, ALL)])


def test_svg_is_well_formed_at_true_size_and_tells_pictures_in_words() -> None:
    root = ET.fromstring(svg(Sheet(A4, ALL, "All <marks>")))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("210mm", "297mm", "0 0 210 297")
    assert root.findtext(f"{SVG}title") == "All <marks>"
    kinds = [element.tag.removeprefix(SVG) for element in root]
    assert kinds == ["title", "rect", "line", "path", "path", "circle", "text", "text", "image"]
    assert [image.get("aria-label") for image in root.iter(f"{SVG}image")] == ["A red square"]
    texts = ["".join(element.itertext()) for element in root.iter(f"{SVG}text")]
    assert texts == ["Breakwater & <Quay> 菊", "end"]


def test_svg_numbers_go_to_a_hundredth_of_a_millimetre() -> None:
    text = svg(Sheet(A4, (Line(1 / 3, 2.0, -0.0001, 4.005, Pen("#000000", 0.25)),)))
    line = '<line fill="none" stroke="#000000" stroke-width="0.25" x1="0.33" x2="0" y1="2" y2="4"/>'
    assert line in text.replace('y2="4.01"', 'y2="4"')  # 4.005 may round either way


@pytest.mark.parametrize("mark", ALL)
def test_a_moved_mark_keeps_its_size(mark: Mark) -> None:
    (there,) = moved((mark,), 7.0, -3.0)
    shifted = [v + d for v, d in zip(box_of(mark), (7.0, -3.0, 7.0, -3.0))]
    assert box_of(there) == pytest.approx(shifted)


def test_papers_go_by_their_names() -> None:
    assert paper_named("A4") is A4
    assert paper_named("letter") is LETTER
    with pytest.raises(DesignError, match="choose a4 or letter"):
        paper_named("a5")


def test_what_is_no_mark_cannot_be_drawn() -> None:
    sheet = Sheet(A4, cast("tuple[Circle, ...]", ("a word",)))
    with pytest.raises(TypeError, match="no mark"):
        svg(sheet)
    with pytest.raises(TypeError, match="no mark"):
        pdf([sheet])


def test_titles_become_the_outline() -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf([Sheet(A4, (), "One"), Sheet(A4, ()), Sheet(A4, (), "Two")])))
    entries: Any = reader.outline
    assert [entry.title for entry in entries] == ["One", "Two"]
    assert [reader.get_destination_page_number(entry) for entry in entries] == [0, 2]
