"""Every paper: what is entered stands on it, what is not does not, and the same show gives the same bytes."""

import json
import re
from typing import Any

import pytest

from polestitch.errors import DesignError
from polestitch.sheets.sheet import EDGE
from polestitch.sheets.show.papers import KINDS, paper
from polestitch.showing.codec import read_show
from polestitch.showing.exhibition import Exhibition
from tests.sheets.paper import fonts, sizes_points
from tests.sheets.show.measured import images, last_page, letters, made, pages, said
from tests.showing.harbour import BALLS, record, show

PRINTED = [kind for kind in KINDS if kind != "reading-text"]
SECRET = "for nobody's eyes"


def words(kind: str, exhibition: Exhibition, size: str = "a4") -> str:
    data = made(kind, exhibition, size)
    return " ".join(data.decode().split()) if kind == "reading-text" else said(data)


def bare() -> Exhibition:
    """A show of one piece of which only number and title are known."""
    shown = {"title": "A Show", "shown": [{"number": "X-1"}], "records": [{"number": "X-1", "title": "Lamp"}]}
    return read_show(json.dumps(shown))


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_every_piece_stands_on_every_paper(kind: str) -> None:
    told = words(kind, show())
    for k, (title, *_) in enumerate(BALLS):
        assert f"HL-{k + 1:02d}" in told
        if kind != "care-notes":
            assert title in told


@pytest.mark.slow
@pytest.mark.parametrize("kind", PRINTED)
@pytest.mark.parametrize("size", ["a4", "letter"])
def test_nothing_is_near_the_edge_and_every_face_is_inside(kind: str, size: str) -> None:
    data = made(kind, show(), size)
    wide, tall = {"a4": (595.2756, 841.8898), "letter": (612.0, 792.0)}[size]  # ISO 216; 8.5 x 11 in
    assert {round(width, 2) for width, _ in sizes_points(data)} == {round(wide, 2)}
    for letter in letters(data):
        assert letter.left >= EDGE
        assert letter.right <= wide / 72 * 25.4 - EDGE
        assert letter.top >= EDGE
        assert letter.bottom <= tall / 72 * 25.4 - EDGE
    assert all(fonts(data).values())


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_is_printed_that_is_not_entered(kind: str) -> None:
    """A piece with a number and a title: no measure, no money, no empty name, no word of the program's own."""
    told = words(kind, bare())
    assert "None" not in told
    assert "null" not in told
    assert "EUR" not in told
    if kind == "care-notes":  # speaks of light in general, with its sources; nothing of this show
        assert "In this show" not in told
        assert "Piece by piece" not in told
        return
    if kind == "labels":
        told = told.replace("To be read from 60 cm: type of 16.5 points. Print at 100 %, cut at the corners.", "")
    assert not re.search(r"\d\s*(mm|cm|in|g|kg|hours?|lux|%)\b", told)
    for name in ("Maker", "Pattern:", "Threads", "Division", "Inside:", "Made:", "Work", "round", "across"):
        assert name not in told


@pytest.mark.parametrize(
    ("entered", "printed"),
    [
        ({"pattern": "net"}, "net"),
        ({"maker": "A. Quayside"}, "Maker A. Quayside"),
        ({"around": "9 3/4 in"}, "Size 9 3/4 in round, 3.10 in"),
        ({"around": "31 cm"}, "Size 31 cm round, 9.9 cm across"),
        ({"weight_g": 150.5}, "Weight 150.5 g"),
        ({"division": "C10"}, "Division C10"),
        ({"core": "wool"}, "Inside wool"),
        (
            {"threads": [{"name": "silk", "colour": "red"}, {"name": "silk", "colour": "blue"}]},
            "Threads silk: red and blue",
        ),
        ({"hours": 1}, "Work 1 hour"),
        ({"begun": "2025-11-30"}, "Made begun 2025"),
        ({"begun": "2025-11-30", "finished": "2026-01-02"}, "Made 2025 to 2026"),
        ({"text": "It shines."}, "It shines."),
        ({"plain": "It is bright."}, "It is bright."),
    ],
    ids=lambda value: next(iter(value)) if isinstance(value, dict) else "",
)
def test_what_is_entered_is_printed_by_itself(entered: dict[str, Any], printed: str) -> None:
    piece = {"number": "X-1", "title": "Lamp", **entered}
    shown = {"title": "A Show", "shown": [{"number": "X-1"}], "records": [piece]}
    told = said(paper("catalogue", read_show(json.dumps(shown)), {})[2])
    assert printed in told


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_what_is_for_herself_is_printed_nowhere(kind: str) -> None:
    private: dict[str, Any] = {
        "notes": SECRET,
        "provenance": [{"words": SECRET}],
        "place": {"where": "lent", "with_whom": SECRET},
        "piece": "abc123",
    }
    told = words(kind, show(records=[{**record(k), **private} for k in range(10)]))
    assert SECRET not in told
    assert "abc123" not in told


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_the_same_show_gives_the_same_bytes(kind: str) -> None:
    assert made(kind, show()) == made(kind, show())


def test_what_is_no_paper_is_told() -> None:
    with pytest.raises(DesignError, match="choose catalogue, labels, large-print"):
        paper("poster", show(), {})
    with pytest.raises(DesignError, match="choose a4 or letter"):
        paper("labels", show(), {}, "a3")
    with pytest.raises(DesignError, match="no piece is in the show yet"):
        paper("labels", show(shown=[]), {})
    with pytest.raises(DesignError, match="the picture of HL-01: is no photo"):
        paper("catalogue", show(), {"HL-01": b"<svg/>"})


@pytest.mark.slow
def test_the_catalogue_is_a_page_a_piece_between_cover_and_list() -> None:
    data = made("catalogue", show())
    assert images(data) == [7, 0, *[1] * 10, 0]
    told = said(data)
    assert "Pictures: drawn by Polestitch from the design." in told
    assert "about 30 hours" not in told
    assert "310 mm round, 99 mm" in told
    for k in range(10):  # the list names the page each piece is on
        assert re.search(rf"HL-{k + 1:02d} .* {k + 1 + 2}\b", told)


@pytest.mark.slow
def test_a_photograph_is_not_called_a_drawing() -> None:
    photographed = [{**record(k), "photos": [{"file": "a.jpg", "credit": "C. Wick"}]} for k in range(10)]
    told = said(made("catalogue", show(records=photographed)))
    assert "drawn by Polestitch" not in told
    assert "Photographs of HL-01, HL-02" in told
    assert "C. Wick" in told


@pytest.mark.slow
def test_a_long_text_goes_on_and_none_of_it_is_lost() -> None:
    long = " ".join(f"w{n}" for n in range(700))
    many = show(records=[{**record(k), "text": long if k == 0 else ""} for k in range(10)])
    for kind in ("catalogue", "labels", "large-print", "reading-text"):
        told = words(kind, many)
        assert [n for n in range(700) if f"w{n} " not in f"{told} "] == []


@pytest.mark.slow
def test_pieces_without_a_picture_share_a_page() -> None:
    data = paper("catalogue", show(), {})[2]
    assert pages(data) < 10
    assert "Pictures" not in said(data)


@pytest.mark.slow
def test_an_estimate_is_called_one() -> None:
    told = words("large-print", show(records=[{**record(k), "hours_estimated": True} for k in range(10)]))
    assert "Work: about 30 hours, estimated" in told


def test_sums_are_one_a_currency() -> None:
    mixed = [{**record(k), "insured": "100 GBP" if k < 3 else "50 EUR"} for k in range(9)] + [
        {**record(9), "insured": None}
    ]
    told = words("insurance-list", show(records=mixed))
    assert "In all 300 EUR 300 GBP" in told
    assert "the sum is without HL-10" in told


def test_a_price_is_a_dash_unless_it_was_said() -> None:
    rest = [{**record(0), "price": None}, {**record(1), "place": {"where": "sold"}}, *(record(k) for k in range(2, 10))]
    told = words("price-list", show(records=rest))
    assert "Ferry Lamps eight-point star –" in told
    assert "Salt on the Rail interlocked squares sold" in told
    assert "commission of 20 % is within the prices" in told
    assert "not for sale" not in told
    assert "request" not in told


def test_the_reading_text_is_plain() -> None:
    fancy = [{**record(k), "text": "“Low” — and…  ‘lit’\u00a0twice × two"} for k in range(10)]
    text = made("reading-text", show(records=fancy)).decode("utf-8")
    assert max(map(len, text.splitlines())) <= 40
    assert "\"Low\" - and... 'lit' twice by two" in " ".join(text.split())
    assert "Size: 310 millimetres around, 99 millimetres across." in " ".join(text.split())
    assert "Weight: 150 grams." in text
    assert text.isascii()
    inches = words("reading-text", show(records=[{**record(k), "around": "12 1/2 in"} for k in range(10)]))
    assert "12 1/2 inches around, 3.98 inches across" in inches


@pytest.mark.slow
def test_the_dose_is_told_only_where_all_of_it_is_entered() -> None:
    assert "50 lux for 6 hours a day on 33 days" in words("care-notes", show())
    assert "9,900 lux hours" in words("care-notes", show())
    told = words("care-notes", show(hours_a_day=None))
    assert "Measured on the pieces: 50 lux." in told
    assert "lux hours" not in told
    assert "In this show" not in told


@pytest.mark.slow
def test_the_loan_form_leaves_lines_where_nothing_is_entered() -> None:
    told = words("loan-form", show())
    for entered in ("3 Rope Walk", "3 December 2026", "8 January 2027", "door to door", "20 % of a sale", "2950 EUR"):
        assert entered in told
    assert "no legal advice" in told


@pytest.mark.slow
@pytest.mark.parametrize("lines", [1, 5, 9, 13])
def test_what_is_signed_stands_over_the_signatures(lines: int) -> None:
    last = last_page(made("loan-form", show(transport="\n".join(["By hand."] * lines))))
    for signed in ("Handling", "Clean, dry hands", "no legal advice", "day and signature"):
        assert signed in last
