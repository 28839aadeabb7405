"""Papers measured back with a PDF library: circles to scale, type sizes, label sizes."""

import io
import math
import struct
from importlib.resources import files

import pdfplumber
import pytest

from polestitch.sheets.show.reading import CAPITAL, X_HEIGHT, points_for
from tests.sheets.paper import straight_lines
from tests.sheets.show.measured import MM, circles, letters, made, said
from tests.showing.harbour import BALLS, show

pytestmark = pytest.mark.slow


def test_circles_of_the_case_plan_are_to_scale() -> None:
    data = made("case-plan", show())
    assert "Drawn at 1 : 5." in said(data)
    drawn = circles(data)
    assert len(drawn) == 2 * len(BALLS)  # from the front and from above
    wanted = sorted(2 * [around / math.pi / 5 for *_, around in BALLS])
    assert sorted(one.across for one in drawn) == pytest.approx(wanted, abs=0.05)
    # From the front the first shelf of 900 mm is 180 mm of paper from the margin of 15 mm on; HL-01 stands 154.1 mm in.
    first = min((one for one in drawn if one.page == 0), key=lambda one: (round(one.y / 60), one.x))
    gap = (900 - sum(around / math.pi for *_, around in BALLS[:4])) / 5
    assert first.x == pytest.approx(15 + (gap + 310 / math.pi / 2) / 5, abs=0.05)


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    lines = straight_lines(made("case-plan", show()))
    assert "500 mm of the case, 100 mm on paper" in said(made("case-plan", show()))
    assert any(abs(x2 - x1 - 100) < 0.02 and abs(y1 - y2) < 1e-6 for x1, y1, x2, y2 in lines)


@pytest.mark.parametrize(("width", "scale"), [("30 cm", 2), ("95 cm", 10), ("1.7 m", 10), ("3.5 m", 20)])
def test_the_scale_is_the_largest_usual_one(width: str, scale: int) -> None:
    case = {"name": "Case", "width": width, "depth": "20 cm", "shelves": [{"clear": "10 cm"}]}
    shown = [{"number": "HL-01", "case": "Case"}]
    assert f"Drawn at 1 : {scale}." in said(made("case-plan", show(cases=[case], shown=shown)))


def test_what_is_too_high_for_who_sits_is_named() -> None:
    """Glasgow Museums' display guidelines as quoted: small things no higher than 1015 mm."""
    told = said(made("case-plan", show()))  # shelves at 1150 and 850 mm; the table's height is not entered
    assert "Here the middle of HL-01, HL-02, HL-03 and HL-04 is higher than 1015 mm." in told
    assert told.count("is higher than 1015") == 1


def test_what_overlaps_is_marked_on_the_plan() -> None:
    shown = [{"number": f"HL-0{k}", "case": "Table", "at": "30 cm"} for k in (1, 2)]
    told = said(made("case-plan", show(shown=shown)))
    assert "! HL-01 and HL-02 on shelf 1 would overlap" in told


def test_label_type_follows_the_distance() -> None:
    # Legge and Bigelow 2011: 0.2 degrees of x-height at 40 cm are 1.4 mm.
    assert 2 * 400 * math.tan(math.radians(0.2) / 2) == pytest.approx(1.4, abs=0.01)
    for cm, points in ((40, 12.0), (60, 16.5), (100, 27.5), (200, 54.5)):
        assert points_for(cm * 10) == points
        millimetres = points / 72 * 25.4
        # FAA: characters of 1/200 of the distance and more; 20 minutes of arc at least.
        assert millimetres * CAPITAL >= cm * 10 / 200
        assert math.degrees(2 * math.atan(millimetres * CAPITAL / 2 / (cm * 10))) * 60 >= 20
        assert math.degrees(2 * math.atan(millimetres * X_HEIGHT / 2 / (cm * 10))) >= 0.2


def test_the_heights_are_those_of_the_face_itself() -> None:
    """OpenType: OS/2 holds sxHeight and sCapHeight at bytes 86 and 88, head the units of an em at byte 18."""
    data = files("polestitch.fonts").joinpath("PolestitchSerif-Regular.ttf").read_bytes()
    tables = {
        data[12 + 16 * k : 16 + 16 * k]: struct.unpack(">I", data[20 + 16 * k : 24 + 16 * k])[0] for k in range(20)
    }
    em = struct.unpack(">H", data[tables[b"head"] + 18 : tables[b"head"] + 20])[0]
    low, high = struct.unpack(">hh", data[tables[b"OS/2"] + 86 : tables[b"OS/2"] + 90])
    assert (low / em, high / em) == pytest.approx((X_HEIGHT, CAPITAL))


@pytest.mark.parametrize(("distance", "points"), [("60 cm", 16.5), ("40 cm", 12.0), ("1 m", 27.5)])
def test_label_text_is_set_in_that_size(distance: str, points: float) -> None:
    data = made("labels", show(labels={"distance": distance}))
    serif = {round(letter.size, 1) for letter in letters(data) if letter.font.endswith("Serif-Regular")}
    assert serif == {points}
    assert f"type of {points:g} points" in said(data)


def test_crop_marks_frame_the_words() -> None:
    data = made("labels", show())
    with pdfplumber.open(io.BytesIO(data)) as opened:
        page = opened.pages[0]
        lines = [line for line in page.lines if abs(max(line["width"], line["height"]) / MM - 4.0) < 0.01]
        assert len(lines) == 2 * 8  # two cards, four corners, two lines each
        left, right = min(line["x0"] for line in lines), max(line["x1"] for line in lines)
        top, bottom = min(line["top"] for line in lines), max(line["bottom"] for line in lines)
        inside = [char for char in page.chars if char["size"] > 10]
        assert all(left < char["x0"] and char["x1"] < right for char in inside)
        assert all(top < char["top"] and char["bottom"] < bottom for char in inside)


def test_a_line_of_a_label_holds_what_a_reader_likes() -> None:
    """Smithsonian Guidelines for Accessible Exhibition Design: 55 letters a line at most."""
    with pdfplumber.open(io.BytesIO(made("labels", show()))) as opened:
        lines = [line for line in opened.pages[0].extract_text_lines() if line["chars"][0]["size"] > 16]
    assert lines
    assert max(len(line["text"]) for line in lines) <= 55


def test_large_print_is_large() -> None:
    """American Council of the Blind: 18 points and more, no serif, an inch of margin, page numbers alike."""
    found = letters(made("large-print", show()))
    assert min(round(letter.size, 2) for letter in found) >= 18
    assert all("Sans" in letter.font for letter in found)
    assert min(letter.left for letter in found) >= 25.4 - 0.01
    assert max(letter.right for letter in found) <= 210 - 25.4 + 0.01
