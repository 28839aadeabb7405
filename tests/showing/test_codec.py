"""A show read, written and read again; what cannot be is one sentence at its place."""

import json
from typing import Any

import pytest

from polestitch.errors import DesignError
from polestitch.showing.codec import read_record, read_show, written_record, written_show
from polestitch.showing.schema import show_schema
from tests.showing.harbour import harbour, record, show


def test_a_show_comes_back_as_it_was() -> None:
    first = show()
    text = written_show(first)
    assert read_show(text) == first
    assert written_show(read_show(text)) == text
    assert read_show(b"\xef\xbb\xbf" + text.encode()) == first


def test_what_is_empty_is_not_written() -> None:
    bare = read_record('{"number": "HL-01", "title": "Ferry Lamps"}')
    assert json.loads(written_record(bare)) == {"number": "HL-01", "title": "Ferry Lamps"}
    assert read_record(written_record(bare)) == bare
    full = read_record(json.dumps(record(0)))
    assert read_record(written_record(full)) == full


SAID: list[tuple[dict[str, Any], str]] = [
    ({"opens": "soon"}, 'opens: must be a date; write it like "2026-12-05"'),
    ({"titel": "x"}, 'titel: is no word of this group; did you mean "title"?'),
    ({"title": ""}, "title: must not be empty"),
    ({"closes": "2026-12-01"}, "closes: 2026-12-01 is before opens"),
    ({"collection": "2026-12-01"}, "collection: 2026-12-01 is before delivery"),
    ({"format": 2}, "format: 2 is newer than this Polestitch reads"),
    ({"records": []}, 'shown[0].number: "HL-01" has no record'),
    ({"records": [record(0), record(0)]}, 'records[1].number: "HL-01" is also records[0]'),
    ({"shown": [{"number": "HL-01"}, {"number": "HL-01"}]}, 'shown[1].number: "HL-01" is also shown[0]'),
    ({"shown": [{"number": "HL-01", "case": "Shop"}]}, 'shown[0].case: "Shop" is no case of this show; it has "Window'),
    ({"shown": [{"number": "HL-01", "case": "Table", "shelf": 2}]}, "shown[0].shelf: 2 is more than"),
    ({"shown": [{"number": "HL-01", "at": "1/3 from obi"}]}, 'shown[0].at: "1/3 from obi" cannot be used here'),
    ({"records": [{**record(0), "price": "much"}]}, "records[0].price: 'much' is no amount of money"),
    ({"records": [{**record(0), "around": "2 mm"}]}, 'records[0].around: "2 mm" is not the size of a ball'),
    ({"records": [{**record(0), "begun": "2027-01-01"}]}, "records[0].finished: 2026-01-12 is before begun"),
    ({"records": [{**record(0), "number": "HL\n1"}]}, "records[0].number: "),
    ({"labels": {"distance": "1 mm"}}, 'labels.distance: "1 mm" cannot be used here'),
]


@pytest.mark.parametrize(("rest", "said"), SAID, ids=[said[:30] for _, said in SAID])
def test_what_cannot_be_is_told_at_its_place(rest: dict[str, Any], said: str) -> None:
    with pytest.raises(DesignError) as told:
        show(**rest)
    assert str(told.value).startswith(said)


def test_a_file_that_is_no_show_is_told_as_a_show() -> None:
    for text in ("[]", "", '{"title": "x"', "\xff".encode("latin-1")):
        with pytest.raises(DesignError) as told:
            read_show(text, "harbour.json")
        assert told.value.where == "harbour.json"
        assert "design" not in told.value.what


def test_the_schema_knows_every_word_of_a_show() -> None:
    assert set(harbour()) <= set(show_schema()["properties"])
    assert set(record(0)) <= set(show_schema()["$defs"]["PieceRecord"]["properties"])
