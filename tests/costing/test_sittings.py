"""Her table of sittings, as spreadsheets save it."""

import codecs
from collections.abc import Mapping

import pytest

from polestitch.costing import Sitting, sittings_of
from polestitch.errors import DesignError

PLAIN = "piece,hours,bites,laying\nA,1.5,120,8\nA,2,160,\n"
SAME = (Sitting("A", 1.5, {"bites": 120.0, "laying": 8.0}), Sitting("A", 2.0, {"bites": 160.0}))


@pytest.mark.parametrize(
    "content",
    [
        PLAIN.encode(),
        codecs.BOM_UTF8 + PLAIN.encode(),
        PLAIN.encode("utf-16"),
        PLAIN.replace(",", "\t").encode(),
        b"piece;hours;bites;laying\r\nA;1,5;120;8\r\nA;2,0;160;\r\n",
        b"Laying;Bites;Minutes;Piece\n8;120;90;A\n;160;120;A\n",
        b"piece,hours,bites,laying\n\nA,1:30,120,8\n,,,\nA,2:00,160\n",
    ],
)
def test_any_spreadsheet_gives_the_same_sittings(content: bytes) -> None:
    assert sittings_of(content, "sittings.csv") == SAME


def test_dates_put_them_in_order() -> None:
    read = sittings_of(b"date,hours,bites\n2026-11-02,2,100\n2026-10-30,1,50\n", "t")
    assert [one.hours for one in read] == [1.0, 2.0]


def test_a_design_stands_for_its_amounts() -> None:
    def work_of(name: str, where: str) -> Mapping[str, float]:
        assert (name, where) == ("kiku.json", "t, line 2, design")
        return {"base": 1.0, "bites": 400.0}

    (read,) = sittings_of(b"hours,design,part\n3,kiku.json,50 %\n", "t", work_of)
    assert read == Sitting("", 3.0, {"base": 0.5, "bites": 200.0})


@pytest.mark.parametrize(
    ("text", "where", "words"),
    [
        ("", "t", "has no sittings"),
        ("hours,bites\n", "t", "has no sittings"),
        ("hours,stitches\n1,2\n", "t, line 1", '"stitches" is no column'),
        ("hours,hours,bites\n1,1,2\n", "t, line 1", "stands twice"),
        ("piece,bites\nA,2\n", "t, line 1", 'no column "hours"'),
        ("hours,bites\n,2\n", "t, line 2", "says no time"),
        ("hours,bites\n0,2\n", "t, line 2", "no time at all"),
        ("hours,bites\n1,\n", "t, line 2", "nothing of what was done"),
        ("hours,bites\nlong,3\n", "t, line 2, hours", "is no amount"),
        ("hours,bites\n1,-3\n", "t, line 2, bites", "is no amount"),
        ("hours,bites\n1,nan\n", "t, line 2, bites", "is no amount"),
        ("hours,bites,date\n1,3,2 Nov\n", "t, line 2, date", "is no date"),
        ("hours,bites\n1,3,9\n", "t, line 2", "has 3 cells under 2 columns"),
        ("hours,design\n1,kiku.json\n", "t, line 2", "cannot be looked up"),
        ("hours,design,bites\n1,kiku.json,4\n", "t, line 2", "leave one of them empty"),
    ],
)
def test_what_is_wrong_is_told_at_its_line(text: str, where: str, words: str) -> None:
    with pytest.raises(DesignError) as wrong:
        sittings_of(text.encode(), "t")
    assert wrong.value.where == where
    assert words in wrong.value.what
