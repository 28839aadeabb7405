"""The booklet of every example, page by page."""

import io
from functools import cache
from pathlib import Path as File
from typing import Any, Literal

import numpy as np
import pypdf
import pytest
from PIL import Image as Pictures

from polestitch.document import codec
from polestitch.errors import DesignError
from polestitch.pipeline import Build, build
from polestitch.sheets.blocks import Block, Columns, paragraph
from polestitch.sheets.booklet import booklet, booklet_sheets
from polestitch.sheets.closing import sign
from polestitch.sheets.cover import photograph
from polestitch.sheets.pages import Column as TableColumn
from polestitch.sheets.pages import Grid, Section, flowed, table
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import A4, EDGE, LETTER, MADDER, MARGIN, Circle, Image, Line, Path, Sheet, Text
from polestitch.sheets.told import told
from polestitch.winding import winding
from tests.builds import BAND, KIKU, built
from tests.sheets.paper import box_of, fonts, outside, overlapping, sizes_points, words

EXAMPLES = File(__file__).parents[2] / "examples"
NAMES = ("quay-lamps", "salt-squares", "winter-beacons")


@cache
def picture() -> bytes:
    file = io.BytesIO()
    Pictures.new("RGBA", (60, 60), (29, 43, 90, 128)).save(file, "PNG")
    return file.getvalue()


@cache
def example(name: str) -> Build:
    return build(codec.read((EXAMPLES / f"{name}.json").read_bytes(), name))


@cache
def sheets(name: str, paper: str = "a4") -> tuple[Sheet, ...]:
    return booklet_sheets(told(example(name), picture()), paper)


def texts(sheet: Sheet) -> list[str]:
    return [mark.text for mark in sheet.marks if isinstance(mark, Text)]


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", NAMES)
def test_every_mark_keeps_13_mm_from_the_edge_and_no_words_lie_on_others(name: str, paper: str) -> None:
    for sheet in sheets(name, paper):
        assert outside(sheet, EDGE) == []
        assert overlapping(sheet) == []


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_the_parts_come_in_the_order_a_maker_works(name: str) -> None:
    titles = [sheet.title for sheet in sheets(name) if sheet.title]
    layers = [f"{k}  {layer.name}" for k, layer in enumerate(example(name).design.layers, 1)]
    assert titles[:4] == ["Cover", "Materials", "An example of a base", "Marking"]
    assert titles[-1] == "Finishing"
    found = [text for sheet in sheets(name) for text in texts(sheet)]
    heads = ["Materials", "Tools", "The base", "Marking", "Step by step", *layers, "Finishing", "Cautions"]
    heads = [" ".join(head.split()) for head in heads]
    places = [found.index(head) for head in heads]
    assert places == sorted(places)


@pytest.mark.slow
def test_the_pdf_holds_its_faces_its_title_and_the_same_bytes_twice() -> None:
    made = example("quay-lamps")
    one, two = (booklet(made, "a4", picture()) for _ in range(2))
    assert one == two
    held = fonts(one)
    assert len(held) >= 6  # two serifs and their italic, two sans, one Japanese
    assert all(held.values())
    metadata = pypdf.PdfReader(io.BytesIO(one)).metadata
    assert metadata is not None
    assert metadata.title == "Quay lamps"
    assert sizes_points(one)[-1] == pytest.approx((595.2756, 841.8898), abs=1e-4)
    assert "上掛け千鳥かがり" in words(one)


@pytest.mark.slow
def test_letter_pages_are_letter_all_through() -> None:
    data = pdf(sheets("salt-squares", "letter"))
    assert set(sizes_points(data)) == {(612.0, 792.0)}


@pytest.mark.slow
def test_pages_are_numbered_after_the_cover() -> None:
    pages = sheets("winter-beacons")
    assert not [text for text in texts(pages[0]) if "/" in text]
    for number, sheet in enumerate(pages[1:], 2):
        assert f"{number} / {len(pages)}" in texts(sheet)


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_one_page_has_a_check_line_of_100_mm_each_way(name: str) -> None:
    def long(sheet: Sheet, down: bool) -> bool:
        lines = [mark for mark in sheet.marks if isinstance(mark, Line)]
        sizes = [(mark.y2 - mark.y1, mark.x2 - mark.x1) for mark in lines]
        return any(
            abs((tall if down else wide) - 100.0) < 1e-9 and (wide if down else tall) == 0 for tall, wide in sizes
        )

    pages = [sheet for sheet in sheets(name) if long(sheet, True) and long(sheet, False)]
    assert len(pages) == 1
    assert "100 mm across" in texts(pages[0])


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_each_thread_has_a_swatch_large_enough_to_lay_a_thread_across(name: str) -> None:
    found = {
        mark.fill: box_of(mark)
        for sheet in sheets(name)[1:3]
        for mark in sheet.marks
        if isinstance(mark, Path) and mark.fill
    }
    design = example(name).design
    for colour in (design.ball.colour, *(thread.colour for thread in design.threads)):
        left, top, right, bottom = found[str(colour)]
        assert right - left > 25
        assert bottom - top >= 10


@pytest.mark.slow
def test_amounts_are_those_of_the_estimate() -> None:
    made = told(example("quay-lamps"), None)
    page = " ".join(texts(booklet_sheets(made)[1]))
    for amount in made.estimate.threads:
        assert amount.name in page
        assert f"{amount.lengths} length" in page


@pytest.mark.slow
def test_every_pin_is_in_the_table_with_its_distance() -> None:
    made = told(example("winter-beacons"), None)
    pages = list(sheets("winter-beacons"))
    found = " ".join(text for sheet in pages for text in texts(sheet))
    # Coxeter: 63.4349 degrees from centre to centre of a C10, on a ball 300 mm round.
    assert f"{300 * 63.4349 / 360:.1f}" in found
    for pin in made.pins:
        assert pin.point in found


@pytest.mark.slow
def test_every_step_and_caution_is_printed_in_full() -> None:
    made = told(example("salt-squares"), None)
    printed = " ".join(" ".join(text for sheet in sheets("salt-squares") for text in texts(sheet)).split())
    for said in (*(step.text for step in made.instructions.steps), *made.instructions.cautions):
        assert " ".join(said.split()) in printed


def test_a_cover_picture_is_flattened_onto_white() -> None:
    with Pictures.open(io.BytesIO(photograph(picture()))) as opened:
        assert opened.format == "JPEG"
        colour = np.asarray(opened, dtype=int)[30, 30]
    # Half transparent over white: half way between (29, 43, 90) and 255.
    assert colour == pytest.approx((142, 149, 172), abs=3)


def test_the_cover_shows_the_picture_and_four_facts() -> None:
    page = booklet_sheets(told(built(KIKU), picture()))[0]
    assert [mark.words for mark in page.marks if isinstance(mark, Image)] == ["The finished ball a test ball"]
    assert {"Level", "Size", "Division", "Hours of work", "250 mm round", "S8 + obi"} <= set(texts(page))


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_long_names_many_threads_and_many_layers_stay_on_the_page(paper: str) -> None:
    name = "Breakwater lanterns over the long mole in fog and rain at 5"
    threads = [{"name": f"{name[:40]} {k}", "colour": f"#{k * 9:02x}3050"} for k in range(14)]
    rows = ", ".join(f"1 {thread['name']}" for thread in threads)
    layers = [KIKU | {"name": f"{name[:50]} {k}", "rows": rows} for k in range(3)] + [BAND | {"rows": rows}]
    made = built(*layers, division="S12+obi", name=name, threads=threads)
    for sheet in booklet_sheets(told(made, picture()), paper):
        assert outside(sheet, EDGE) == []
        assert overlapping(sheet) == []


@pytest.mark.parametrize("severity", ["stop", "care", "note"])
def test_a_finding_has_a_mark_of_its_own_shape(severity: str) -> None:
    shapes = {
        kind: [(type(mark), len(getattr(mark, "pieces", ()))) for mark in sign(kind)]
        for kind in ("stop", "care", "note")
    }
    assert [kind for kind, shape in shapes.items() if shape == shapes[severity]] == [severity]


def lines_of(page: tuple[Any, ...]) -> list[str]:
    return [mark.text for mark in page if isinstance(mark, Text)]


def test_a_block_that_keeps_company_is_never_left_last_on_a_page() -> None:
    grid = Grid(A4)
    filler, head, body = (
        Block(grid.height - 40.0, (Circle(0, 0, 1),)),
        Block(15.0, (Text(0, 0, "head"),), keep=True),
        Block(20.0, (Text(0, 0, "body"),)),
    )
    pages = flowed([Section("One", MADDER, (filler, head, body))], grid)
    assert [("head" in lines_of(marks), "body" in lines_of(marks)) for _, marks in pages] == [
        (False, False),
        (True, True),
    ]


def test_sections_share_a_page_only_where_they_share_an_accent() -> None:
    grid, small = Grid(LETTER), (paragraph("a few words", 100.0),)
    pages = flowed(
        [Section("One", MADDER, small), Section("Two", MADDER, small), Section("Three", "#000000", small)], grid
    )
    assert [title for title, _ in pages] == ["One", "Three"]
    assert "Two" in lines_of(pages[0][1])


def test_the_grid_has_twelve_columns_between_the_margins() -> None:
    grid = Grid(A4)
    assert grid.span(12) == pytest.approx(A4.width - 2 * MARGIN)
    assert grid.x(11) + grid.span(1) == pytest.approx(grid.width)


def test_a_table_row_without_a_first_cell_stays_with_the_one_before() -> None:
    columns = (TableColumn("no.", 0.0, 20.0), TableColumn("mm", 20.0, 30.0, right=True))
    head, one, two, three, four = table(columns, [("1", "4.5"), ("", "5.5"), ("2", "6.5"), ("3", "7.5")], 50.0)
    assert (head.keep, one.keep, three.keep, four.keep) == (True, True, True, False)
    assert two.keep is False
    right = [mark for mark in one.marks if isinstance(mark, Text) and mark.anchor == "end"]
    assert [(mark.x, mark.text) for mark in right] == [(50.0, "4.5")]


def test_a_table_that_goes_on_has_its_header_again() -> None:
    grid = Grid(A4)
    rows = [(str(k), "4.5") for k in range(100)]
    blocks = table((TableColumn("no.", 0.0, 20.0), TableColumn("mm", 20.0, 30.0)), rows, 50.0)
    pages = [lines_of(marks) for _, marks in flowed([Section("One", MADDER, tuple(blocks))], grid)]
    assert len(pages) > 1
    assert [page.count("no.") for page in pages] == [1] * len(pages)
    assert [text for page in pages for text in page if text.isdigit()] == [row for row, _ in rows]


def test_columns_are_read_down_the_left_then_the_right_and_lose_nothing_over_pages() -> None:
    grid = Grid(A4)
    steps = tuple(Block(7.0, (Text(0, 0, str(k)),)) for k in range(120))
    pages = [marks for _, marks in flowed([Section("One", MADDER, (Columns(steps, 90.0),))], grid)]
    told_order = []
    for marks in pages:
        numbers = [mark for mark in marks if isinstance(mark, Text) and mark.text.isdigit()]
        told_order += sorted(numbers, key=lambda mark: (mark.x, mark.y))
        assert max(mark.y for mark in numbers) <= A4.height - MARGIN
    assert [mark.text for mark in told_order] == [str(k) for k in range(120)]


def test_short_columns_are_nearly_as_long_as_each_other() -> None:
    columns = Columns(tuple(Block(height) for height in (10.0, 30.0, 10.0, 10.0, 20.0)), 90.0)
    assert columns.split() == (2, 40.0)


@pytest.mark.parametrize(
    ("units", "size", "ruler"), [("mm", "250 mm round", "millimetres"), ("in", "9.84 in round", "inches")]
)
def test_sizes_are_told_in_the_makers_units(units: str, size: str, ruler: str) -> None:
    pages = booklet_sheets(told(built(KIKU, maker={"units": units}), picture()))
    assert size in texts(pages[0])
    assert size in texts(pages[1])
    assert any(ruler in text for text in texts(pages[1]))


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_base_is_shown_as_an_example_with_its_stops(units: Literal["mm", "in"]) -> None:
    made = built(KIKU, maker={"units": units, "dip": "1 mm"})
    page = next(sheet for sheet in booklet_sheets(told(made, picture())) if sheet.title == "An example of a base")
    plan = winding(made.ball.around_mm, dip_mm=1.0)
    for stop in plan.stops:
        said = f"{stop.around_mm:.0f} mm" if units == "mm" else f"{stop.around_mm / 25.4:.2f} in"
        assert f"{said} round" in texts(page)


def test_a_ball_too_small_for_the_usual_wraps_has_no_such_page() -> None:
    with pytest.raises(DesignError, match="no room"):
        winding(32.0, dip_mm=3.0)
    small = built(ball={"around": "32 mm"}, division="S4", maker={"dip": "3 mm"})
    titles = [sheet.title for sheet in booklet_sheets(told(small, picture()))]
    assert "An example of a base" not in titles
