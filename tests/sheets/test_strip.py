"""The strip is measured back from its PDF with pdfplumber and pypdf."""

import itertools
import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from polestitch.errors import DesignError
from polestitch.sheets.sheet import EDGE, Text
from polestitch.sheets.strip import strip, strip_sheets
from polestitch.sheets.strip_column import GLUE_TAB, PIN_TAB, WIDTH, spread
from polestitch.sheets.ticks import pieces, ticks
from tests.sheets.paper import (
    distinct,
    fonts,
    outside,
    overlapping,
    sizes_points,
    straight_lines,
    upright_boxes,
    words,
)

TENTH = 0.1  # mm: the finest a maker's eye tells on a strip
EXACT = 0.001
# Coxeter, Regular Polytopes: neighbouring vertices of the icosahedron are arctan 2 apart, of the cube arccos 1/3.
ICOSAHEDRON, CUBE = math.atan(2) / (2 * math.pi), math.acos(1 / 3) / (2 * math.pi)
# Published procedures: temarikai.com/HowToPages/VRulerchart.html, .../c6tutorial.html, .../8combinationdiv.html
C10_RULE, C6_RULE, C8_RULE = 1 / 6 + 1 / 100, 1 / 6 + 3 / 100, 1 / 8
DIVISIONS = ("S2", "S7", "S8+obi", "S12", "S16+obi", "S64", "C4", "C6", "C8", "C10")
AROUND = st.floats(60.0, 1200.0)


def measured_ticks(data: bytes, around: float) -> list[float]:
    """mm from N of every level line on the left copy of a strip in one piece."""
    outlines = [box for box in upright_boxes(data) if abs(box[2] - box[0] - WIDTH) < EXACT and box[3] - box[1] > around]
    left, top, right, _ = min(outlines)
    on_it = [y1 for x1, y1, x2, y2 in straight_lines(data) if y1 == y2 and left - EXACT <= x1 and x2 <= right + EXACT]
    return distinct(y - top - PIN_TAB for y in on_it)


def at_both_poles(share: float) -> set[float]:
    return {share, 0.5 - share, 0.5 + share, 1 - share}


@pytest.mark.slow
@pytest.mark.parametrize(
    ("division", "around", "shares"),
    [
        ("S8+obi", 250.0, {k / 8 for k in range(9)}),
        ("S7", 200.0, {k / 7 for k in range(8)} | {0.25, 0.5, 0.75}),
        (
            "C10",
            247.0,
            {k / 10 for k in range(11)} | {0.25, 0.75} | at_both_poles(ICOSAHEDRON) | at_both_poles(C10_RULE),
        ),
        ("C6", 240.0, {k / 6 for k in range(7)} | {0.25, 0.75} | at_both_poles(CUBE) | at_both_poles(C6_RULE)),
        ("C8", 255.0, {k / 8 for k in range(9)} | at_both_poles(C8_RULE)),
    ],
)
def test_every_tick_stands_where_a_ruler_wants_it(division: str, around: float, shares: set[float]) -> None:
    found = measured_ticks(strip(division, around), around)
    wanted = distinct(share * around for share in shares)
    assert len(found) == len(wanted)
    assert found == pytest.approx(wanted, abs=TENTH / 10)


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_both_check_lines_are_200_mm_on_every_sheet(paper: str) -> None:
    data = strip("C10", 700.0, paper)
    for page in range(len(sizes_points(data))):
        lines = straight_lines(data, page)
        down = [y2 - y1 for x1, y1, x2, y2 in lines if x1 == x2]
        across = [x2 - x1 for x1, y1, x2, y2 in lines if y1 == y2]
        assert max(down) == pytest.approx(200.0, abs=EXACT)
        assert max(across) == pytest.approx(200.0, abs=EXACT)


@pytest.mark.slow
def test_where_a_printer_cuts_the_line_across_180_mm_are_left_inside_the_margins() -> None:
    (sheet,) = strip_sheets("S8", 200.0)
    data = strip("S8", 200.0)
    (line,) = [line for line in straight_lines(data) if line[2] - line[0] > 199]
    ticks_on_it = distinct(
        x1 for x1, y1, x2, y2 in straight_lines(data) if x1 == x2 and y1 < line[1] < y2 and y2 - y1 < 5
    )
    inner = ticks_on_it[1:-1]
    assert inner[1] - inner[0] == pytest.approx(180.0, abs=EXACT)
    assert inner[0] >= EDGE
    assert inner[1] <= sheet.paper.width - EDGE


# ISO 216 and 8.5 x 11 in, in points of 1/72 in.
@pytest.mark.parametrize(("paper", "size"), [("a4", (595.2756, 841.8898)), ("letter", (612.0, 792.0))])
def test_pages_have_the_paper_s_own_size(paper: str, size: tuple[float, float]) -> None:
    assert sizes_points(strip("S8", 250.0, paper))[0] == pytest.approx(size, abs=1e-4)


def test_every_face_is_inside_the_file() -> None:
    held = fonts(strip("C10", 300.0))
    assert len(held) >= 4
    assert all(held.values())


def test_the_same_strip_gives_the_same_bytes() -> None:
    assert strip("C8", 300.0) == strip("C8", 300.0)


def test_the_words_come_in_the_order_of_work() -> None:
    text = words(strip("C10", 500.0))
    heads = (
        "Paper strip",
        "Check the print",
        "Join the pieces",
        "Use the strip",
        "Distances",
        "Fold a blank",
        "Take care",
    )
    places = [text.index(head) for head in heads]
    assert places == sorted(places)


def test_the_rule_of_a_c10_is_shown_beside_the_exact_distance() -> None:
    text = words(strip("C10", 300.0))
    # 0.176208 C and 0.176667 C of 300 mm.
    assert "52.86 mm" in text
    assert "53.00 mm" in text
    assert "0.14 mm long" in text


def test_folding_recipe_halves_what_can_be_halved_and_measures_the_rest() -> None:
    assert "Fold 2 times more and nick each fold: 16 parts of 15.0 mm" in " ".join(words(strip("S16", 240.0)).split())
    assert "Divide each half into 5 with a ruler: a mark every 24.0 mm" in " ".join(words(strip("S10", 240.0)).split())


@given(AROUND, st.sampled_from(DIVISIONS))
@example(1200.0, "S64")
@example(245.0001, "C10")
def test_the_pieces_together_are_exactly_as_long_as_the_ball_is_round(around: float, division: str) -> None:
    cut = pieces(ticks(division, around), around, 250.0, 240.0)
    assert cut[0].start == 0.0
    assert cut[-1].end == around
    assert all(a.end == b.start for a, b in itertools.pairwise(cut))
    assert all(0 < piece.end - piece.start <= 250.0 + 1e-9 for piece in cut)
    assert len(cut) == 1 or all(piece.end - piece.start <= 240.0 + 1e-9 for piece in cut)


@pytest.mark.slow
@pytest.mark.parametrize(("around", "paper"), [(700.0, "a4"), (300.0, "letter"), (1200.0, "letter")])
def test_the_cut_outlines_less_their_tabs_add_up_to_the_circumference(around: float, paper: str) -> None:
    data, lengths = strip("S12", around, paper), []
    for page in range(len(sizes_points(data))):
        strips = {box for box in upright_boxes(data, page) if abs(box[2] - box[0] - WIDTH) < EXACT}
        lengths += [box[3] - box[1] for box in strips]
    two_copies = sum(lengths) - 2 * PIN_TAB - (len(lengths) - 2) * GLUE_TAB
    assert two_copies / 2 == pytest.approx(around, abs=TENTH / 10)


def test_a_joint_keeps_clear_of_the_marks() -> None:
    marks = ticks("C10", 600.0)
    joints = [piece.end for piece in pieces(marks, 600.0, 250.0, 240.0)[:-1]]
    assert all(abs(joint - tick.at_mm) >= 5.0 for joint in joints for tick in marks)


@pytest.mark.slow
@given(AROUND, st.sampled_from(DIVISIONS), st.sampled_from(["a4", "letter"]))
@example(300.0, "S16+obi", "letter")
@example(60.0, "S64", "a4")
def test_nothing_but_the_line_across_comes_nearer_to_the_edge_than_13_mm(
    around: float, division: str, paper: str
) -> None:
    for sheet in strip_sheets(division, around, paper):
        beyond = outside(sheet, EDGE)
        assert not any(isinstance(mark, Text) for mark in beyond)
        assert len(beyond) == 3  # the line across and its two end ticks
        assert not outside(sheet, 5.0)
        assert not overlapping(sheet)


@given(st.lists(st.floats(0, 100), min_size=1, max_size=20).map(sorted), st.floats(0.5, 4.0))
def test_labels_stand_apart_in_order_and_in_place(wishes: list[float], pitch: float) -> None:
    places = spread(wishes, pitch, 0.0, 100.0)
    assert all(b - a >= pitch - 1e-9 for a, b in itertools.pairwise(places))
    assert min(places) >= -1e-9
    assert max(places) <= 100.0 + 1e-9


def test_a_lone_label_stands_at_its_mark() -> None:
    assert spread([10.0, 50.0], 3.0, 0.0, 100.0) == [10.0, 50.0]


@pytest.mark.parametrize("around", [0.0, -5.0, math.nan, math.inf, 10_000_000.0])
def test_a_circumference_no_ball_has_is_refused(around: float) -> None:
    with pytest.raises(DesignError, match="--around"):
        strip_sheets("S8", around)


def test_an_unknown_paper_is_refused_with_the_ones_there_are() -> None:
    with pytest.raises(DesignError, match="a4 or letter"):
        strip("S8", 250.0, "foolscap")


@pytest.mark.parametrize(
    ("division", "paper", "around"),
    [("S7", "letter", 240.0), ("C6", "a4", 300.0), ("S12+obi", "a4", 300.0)],
)
def test_words_go_under_a_short_strip_rather_than_on_a_page_of_their_own(
    division: str, paper: str, around: float
) -> None:
    (page,) = strip_sheets(division, around, paper)
    told = {mark.text for mark in page.marks if isinstance(mark, Text)}
    assert {"Check the print", "Join the pieces", "Use the strip", "Fold a blank strip instead", "Take care"} <= told
    assert not overlapping(page)
