"""The page for a ball that comes out different: its figures, its sentences, and how it keeps to the paper."""

from functools import cache
from typing import Any

import pytest

from polestitch.document.design import Design
from polestitch.fitting import MOST_QUICK, sizes_if_quick
from polestitch.pipeline import Build, build
from polestitch.sheets.pages import Grid, flowed, numbered_sheets
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import EDGE, Sheet, Text, paper_named
from polestitch.sheets.sizes_page import meaning, sizes_section
from polestitch.sheets.told import told
from polestitch.workup import workup
from tests.builds import BAND, KIKU, document
from tests.sheets.paper import outside, overlapping, words

BALL = {"around": "250 mm", "colour": "#8a8f98"}
MEASURED = {**BALL, "measured": {"pole_to_pole": ["247 mm"], "obi": ["247 mm"]}}


def design(ball: dict[str, Any], units: str = "mm") -> dict[str, Any]:
    return document(KIKU, BAND, format=1, ball=ball, maker={"units": units})


def made(plain: dict[str, Any]) -> Build:
    return build(Design.model_validate(plain))


@cache
def pages(paper: str = "a4", units: str = "mm") -> tuple[Sheet, ...]:
    """The page alone, after an empty cover."""
    plain, grid = design(MEASURED, units), Grid(paper_named(paper))
    ball = made(plain)
    section = tuple(sizes_section(told(ball, None, sizes_if_quick(plain, ball)), grid))
    return numbered_sheets([("Cover", ()), *flowed(section, grid)], grid.paper, "a test ball")[1:]


def line_of(sheet: Sheet, first: str) -> list[str]:
    """The words on the line that begins with ``first``, left to right."""
    texts = [mark for mark in sheet.marks if isinstance(mark, Text)]
    y = next(mark.y for mark in texts if mark.text == first)
    return [mark.text for mark in sorted(texts, key=lambda mark: mark.x) if abs(mark.y - y) < 0.01]


def size(rows: int = 8, gap: float | None = 2.0, thread: float = 9000.0, look: int | None = None) -> dict[str, Any]:
    """One size of one layer and one thread, as ``sizes --json`` tells it."""
    layer = {"name": "petals", "rows": rows, "gap_mm": gap, "rows_for_look": look or rows}
    return {"impossible": None, "layers": [layer], "threads": [{"id": "white", "total_mm": thread}]}


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_page_is_one_page_inside_the_margins_and_no_words_lie_on_others(paper: str, units: str) -> None:
    (page,) = pages(paper, units)
    assert outside(page, EDGE) == []
    assert overlapping(page) == []


@pytest.mark.slow
def test_every_size_stands_with_its_circumference() -> None:
    (page,) = pages()
    assert line_of(page, "Layer") == ["Layer", "4 % smaller", "2 % smaller", "as planned", "2 % larger", "as measured"]
    # 250 mm times 0.96, 0.98, 1 and 1.02 by hand; 247 mm is what was measured.
    assert line_of(page, "Round") == ["Round", "240 mm", "245 mm", "250 mm", "255 mm", "247 mm"]


@pytest.mark.slow
def test_thread_and_rows_are_those_of_a_ball_planned_at_that_size() -> None:
    (page,) = pages()
    for column, around in ((1, "240 mm"), (4, "255 mm")):
        ball = made(design({**BALL, "around": around}))
        navy = next(one for one in workup(ball).estimate.threads if one.name == "navy")
        assert float(line_of(page, "navy")[column].removesuffix(" m")) == pytest.approx(navy.total_mm / 1000, abs=0.051)
        rows = len(ball.motifs[0].rows)
        assert line_of(page, "layer 1")[column] == f"{rows} rows"


@pytest.mark.slow
def test_the_printed_page_says_what_the_measured_ball_means() -> None:
    said = words(pdf(pages(), "a test ball"))
    assert "If your ball comes out different" in said
    assert "This is the ball of this booklet." in said
    assert "This booklet is for 247 mm round." in " ".join(said.split())


@pytest.mark.slow
def test_without_sizes_there_is_no_page() -> None:
    assert list(sizes_section(told(made(design(BALL))), Grid(paper_named("a4")))) == []


def test_a_ball_of_very_many_threads_or_without_a_plan_is_not_worked_out_again(monkeypatch: pytest.MonkeyPatch) -> None:
    plain = design(BALL)
    ball = made(plain)
    assert len(ball.laid.sweep) < MOST_QUICK
    assert sizes_if_quick({**plain, "format": 99}, ball) is None
    monkeypatch.setattr("polestitch.fitting.MOST_QUICK", len(ball.laid.sweep) - 1)
    assert sizes_if_quick(plain, ball) is None


@pytest.mark.parametrize(
    ("other", "said"),
    [
        (size(thread=8900), "Stitch as in this booklet; the thread of this booklet is enough."),
        (size(thread=9130), "Stitch as in this booklet; have up to 200 mm more of white."),
        (size(rows=7, thread=8000), "Stitch 7 rows of petals instead of 8; the thread of this booklet is enough."),
        (size(look=7), "Stitch 7 rows of petals instead of 8; the thread of this booklet is enough."),
        (
            size(look=9, thread=9060),
            "Stitch 9 rows of petals instead of 8; have up to 100 mm more of white, and some for the added rows.",
        ),
        (
            size(gap=-0.4),
            "Stitch as in this booklet; petals now overlaps; the thread of this booklet is enough.",
        ),
        (
            {"impossible": "layers[0]: too large", "layers": [], "threads": []},
            "The design cannot be made on this ball as it is written: layers[0]: too large",
        ),
    ],
)
def test_each_size_means_one_sentence(other: dict[str, Any], said: str) -> None:
    assert meaning(other, size()) == said


def test_more_thread_is_told_in_inches_to_who_measures_in_inches() -> None:
    # 130 mm is 5.1 in; the next step of 4 in is 8 in.
    assert meaning(size(thread=9130), size(), "in").endswith("have up to 8 in more of white.")
