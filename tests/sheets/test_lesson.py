"""Papers of a class, measured back from their PDFs."""

import io
import re

import pypdf
import pytest

from polestitch.errors import DesignError
from polestitch.lessons import lesson_of
from polestitch.sheets.lesson.bars import LABEL, PITCH, bars
from polestitch.sheets.lesson.papers import KINDS, paper, sheets
from polestitch.sheets.pages import Grid
from polestitch.sheets.sheet import A4, EDGE, MARGIN, PAPERS, Path
from polestitch.sheets.strip_column import COLUMN, GLUE_TAB, PIN_TAB, WIDTH
from tests.sheets.paper import distinct, fonts, outside, overlapping, straight_lines, upright_boxes, words
from tests.teaching.balls import demo, spec, star

TENTH = 0.1


@pytest.mark.slow
@pytest.mark.parametrize("size", sorted(PAPERS))
@pytest.mark.parametrize("kind", KINDS)
def test_nothing_vital_lies_at_the_edge_and_no_words_on_others(kind: str, size: str) -> None:
    for sheet in sheets(kind, demo(), size):
        assert overlapping(sheet) == []
        inside = [mark for mark in outside(sheet, EDGE) if not (kind == "strips" and is_check_line(mark))]
        assert inside == []


def is_check_line(mark: object) -> bool:
    """The 200 mm across reach nearer to the edge than anything else may: decision 0012."""
    box = getattr(mark, "box", None)
    return box is not None and box[1] > 200


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_a_paper_is_the_same_every_time_and_carries_its_faces(kind: str) -> None:
    ending, media, data = paper(kind, demo())
    assert (ending, media) == (".pdf", "application/pdf")
    assert paper(kind, demo())[2] == data
    assert all(fonts(data).values())


def test_a_paper_that_a_class_does_not_have_is_refused() -> None:
    with pytest.raises(DesignError, match="lesson-plan"):
        paper("diploma", demo())


def strip_tops(data: bytes, page: int) -> list[tuple[float, float, float]]:
    """(left, top, length) of every strip outlined on a page, in mm."""
    found = [box for box in upright_boxes(data, page) if abs(box[2] - box[0] - WIDTH) < 0.01 and box[3] - box[1] > 60]
    return sorted((box[0], box[1], box[3] - box[1]) for box in found)


@pytest.mark.slow
def test_every_students_strip_is_as_long_as_her_ball_is_round() -> None:
    data = paper("strips", demo())[2]
    measured: list[float] = []
    for page in range(2):
        for left, top, length in strip_tops(data, page):
            on_it = [
                y for x1, y, x2, y2 in straight_lines(data, page) if y == y2 and left - 0.01 <= x1 < x2 <= left + 3.01
            ]
            ticks = distinct(y - top - PIN_TAB for y in on_it)
            if length < 200:
                continue  # a piece of a strip longer than the page
            measured.append(ticks[-1])
            wanted = [ticks[-1] * k / 8 for k in range(9)]
            assert ticks == pytest.approx(wanted, abs=TENTH / 10)
    # Two copies of each: 246, 250, 253, 238 and 250 mm as the class has them.
    assert sorted(measured) == pytest.approx(sorted(2 * [246.0, 250.0, 253.0, 238.0, 250.0]), abs=TENTH / 10)


@pytest.mark.slow
def test_a_strip_longer_than_the_page_comes_in_pieces_that_add_up() -> None:
    data = paper("strips", demo())[2]
    parts = {round(length, 2) for page in (1, 2) for _, _, length in strip_tops(data, page) if length < 200}
    assert len(parts) == 2
    # Round the ball, with the pin's tab at its head and a glue tab at the joint.
    assert sum(parts) == pytest.approx(261.0 + PIN_TAB + GLUE_TAB, abs=TENTH)


@pytest.mark.slow
def test_the_check_lines_are_two_hundred_millimetres() -> None:
    data = paper("strips", demo())[2]
    pages = len(pypdf.PdfReader(io.BytesIO(data)).pages)
    for page in range(pages):
        lines = straight_lines(data, page)
        assert any(abs(x2 - x1 - 200) < 0.01 and y1 == y2 for x1, y1, x2, y2 in lines)
        assert any(abs(y2 - y1 - 200) < 0.01 and x1 == x2 for x1, y1, x2, y2 in lines)


@pytest.mark.slow
def test_strips_share_a_page_and_name_their_owners() -> None:
    first = sheets("strips", demo())[0]
    text = [mark.text for mark in first.marks if hasattr(mark, "text")]
    assert [one for one in text if "round" in one] == [
        "1   Marit   246 mm round",
        "2   Oda   250 mm round",
        "3   Piet   253 mm round",
    ]
    assert text.count("no. 1") == 2  # on both copies, so that a cut strip still tells
    assert A4.width > MARGIN + 3 * COLUMN


@pytest.mark.slow
def test_handouts_for_both_hands_are_mirrored_and_hold_no_colour() -> None:
    data = paper("handout", demo())[2]
    pages = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]
    half = len(pages) // 2
    right, left = " ".join(" ".join(pages[:half]).split()), " ".join(" ".join(pages[half:]).split())
    assert "for the right hand" in right
    assert "for the left hand" in left
    assert "Take a bite from right to left under" in right
    assert "Take a bite from left to right under" in left
    assert "Take a bite from right to left under" not in left
    for name in ("cream", "rust", "teal", "gold"):
        assert not re.search(rf"\b{name}\b", right + left, re.IGNORECASE)
    for letter in "ABCD":
        assert f"colour {letter}" in right
        assert f"colour {letter}" in left


@pytest.mark.slow
def test_a_student_with_another_ball_finds_her_own_distances() -> None:
    lesson = demo()
    said = " ".join(words(paper("handout", lesson)[2]).split())
    assert "Every distance in this handout is for a ball 250 mm round." in said
    for seat, work in zip(lesson.seats, lesson.balls.of_seats):
        if seat.measured:
            assert f"{seat.around_mm:g} mm round: {seat.name}" in said
            # A third from the obi is two thirds of a quarter from N.
            tip = work.build.ball.around_mm / 4 * 2 / 3
            assert f"outer tip {round(2 * tip) / 2:g} mm" in said


@pytest.mark.slow
def test_a_class_of_right_handed_students_has_one_handout() -> None:
    lesson = lesson_of(spec(left_handed=0, named=[]), star())
    assert "for the left hand" not in words(paper("handout", lesson)[2])


@pytest.mark.slow
def test_blanks_have_nothing_printed_in_them() -> None:
    front = sheets("handout", demo())[0]
    boxes = [mark for mark in front.marks if isinstance(mark, Path) and abs(mark.box[2] - mark.box[0] - 22) < 0.01]
    assert len(boxes) == 4
    assert all(mark.fill is None for mark in boxes)


def test_bars_are_to_scale() -> None:
    lesson, width = demo(), Grid(A4).width
    meetings = lesson.timeline.meetings
    drawn = [mark for mark in bars(meetings, width).marks if isinstance(mark, Path) and mark.fill is not None]
    scale = (width - LABEL) / max(meeting.minutes for meeting in meetings)
    for k, meeting in enumerate(meetings):
        row = [mark.box for mark in drawn if k * PITCH <= mark.box[1] < (k + 1) * PITCH]
        wide = [right - left for left, _, right, _ in row]
        minutes = [meeting.talk, *(bar.minutes for bar in meeting.bars)]
        assert wide == pytest.approx([each * scale for each in minutes])


@pytest.mark.slow
def test_the_cut_list_and_the_kit_list_agree_on_skeins() -> None:
    kit, cut = words(paper("kit-list", demo())[2]), words(paper("cut-list", demo())[2])
    for line in demo().kit:
        if line.group == "thread":
            metres, pieces = re.findall(r"[\d.]+ m|\d+(?= pieces)", line.amount)
            assert metres in kit
            assert re.search(rf"{pieces}\s+{re.escape(metres)}\s+{line.count}", cut), line


@pytest.mark.slow
def test_the_plan_tells_sources_cautions_and_assumptions() -> None:
    said = " ".join(words(paper("lesson-plan", demo())[2]).split())
    assert "common practice, no source" in said
    assert "temarikai.com" in said
    assert "Count your pins before you begin" in said
    assert "local toy-safety rules" in said
