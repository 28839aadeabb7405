"""The winding sheet measured back from its PDF with pdfplumber and pypdf: tape and drawing are at the size they say."""

import io
import math

import pdfplumber
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from polestitch.sheets.cut_through import scale_of
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import A4, EDGE, LETTER, Circle, Line, Paper, Text
from polestitch.sheets.strip_column import PIN_TAB, WIDTH
from polestitch.sheets.winding_sheet import tape_sheets, tape_ticks, winding_sheet, winding_sheets
from polestitch.winding import Plan, made_of, winding
from tests.sheets.paper import distinct, outside, straight_lines, upright_boxes, words

EXACT = 0.001
FULL = ("batting", "thick yarn", "thin yarn", "crochet thread", "sewing thread")


def plan(around: float = 250.0, wraps: tuple[str, ...] = FULL) -> Plan:
    return winding(around, made_of("hulls", None, wraps, "bell"))


@pytest.mark.slow
def test_every_stop_stands_on_the_tape_where_the_ball_has_that_size() -> None:
    made = plan()
    data = pdf(tape_sheets(made, A4))
    outlines = [box for box in upright_boxes(data) if abs(box[2] - box[0] - WIDTH) < EXACT and box[3] - box[1] > 250]
    left, top, right, _ = min(outlines)
    on_it = [y1 for x1, y1, x2, y2 in straight_lines(data) if y1 == y2 and left - EXACT <= x1 and x2 <= right + EXACT]
    found = distinct(y - top - PIN_TAB for y in on_it)
    wanted = [0.0, made.core_mm, *(stop.around_mm for stop in made.stops)]
    assert found == pytest.approx(wanted, abs=EXACT)
    assert [tick.at_mm for tick in tape_ticks(made)] == pytest.approx(wanted)


@pytest.mark.slow
def test_the_drawing_is_at_true_size() -> None:
    """A 25 cm ball is 79.58 mm through: C / pi; every ring as pdfplumber reads it back."""
    made = plan()
    with pdfplumber.open(io.BytesIO(winding_sheet(made))) as opened:
        curves = [c for c in opened.pages[0].curves if abs(c["width"] - c["height"]) < 0.01 and c["width"] > 100]
    wide = sorted({round(c["width"] * 25.4 / 72, 2) for c in curves})
    wanted = sorted(round(mm / math.pi, 2) for mm in (made.core_mm, *(stop.around_mm for stop in made.stops)))
    assert wide == pytest.approx(wanted, abs=0.02)


@pytest.mark.parametrize(("around", "scale"), [(150, 1), (289, 1), (290, 2), (600, 3), (2800, 10)])
def test_a_large_ball_is_drawn_smaller_and_says_so(around: float, scale: int) -> None:
    """92 mm of page for the drawing: C / pi / 92, up to the next of the round scales."""
    made = plan(around, FULL[1:3])
    assert scale_of(made) == scale
    said = "True size" if scale == 1 else f"1 : {scale}"
    assert said in " ".join(mark.text for mark in winding_sheets(made)[0].marks if isinstance(mark, Text))


@pytest.mark.slow
@pytest.mark.parametrize("paper", [A4, LETTER])
def test_one_page_and_one_tape_with_blanks_and_cautions(paper: Paper) -> None:
    made = plan(wraps=FULL[1:3] + FULL[4:])
    name = "a4" if paper is A4 else "letter"
    data = winding_sheet(made, name)
    text = words(data)
    for part in (
        "First way",
        "Third way",
        "Ball weighs",
        "small part",
        "small lots",
        "200 mm down",
        "Cut one tape out",
    ):
        assert part in text
    with pdfplumber.open(io.BytesIO(data)) as opened:
        assert len(opened.pages) == 2
    assert ("comes in 2 pieces" in text) is (paper is LETTER)


@pytest.mark.slow
@given(around=st.floats(120, 900), paper=st.sampled_from([A4, LETTER]))
@settings(max_examples=15, deadline=None)
def test_nothing_leaves_the_page(around: float, paper: Paper) -> None:
    made = winding(around, made_of("foam", around * 0.6))
    for sheet in winding_sheets(made, "a4" if paper is A4 else "letter"):
        # The check line across is 200 mm by purpose, and says what to do where a printer cuts off its ends.
        middle = sheet.paper.width / 2
        beyond = [mark for mark in outside(sheet, EDGE) if isinstance(mark, Line)]
        assert len(beyond) == len(outside(sheet, EDGE))
        assert all(abs(abs(x - middle) - 100) < 1e-6 for mark in beyond for x in (mark.x1, mark.x2))


def test_what_sounds_is_drawn_at_the_middle() -> None:
    rings = [mark for mark in winding_sheets(plan())[0].marks if isinstance(mark, Circle) and mark.radius > 2]
    assert len({(round(ring.x, 6), round(ring.y, 6)) for ring in rings}) == 1
    # The bell's capsule: 2 ml is 15.63 mm through, (6 V / pi) ** (1/3).
    assert min(ring.radius for ring in rings) == pytest.approx((6 * 2000 / math.pi) ** (1 / 3) / 2)
