"""The reader: what is written reads back, and every mistake is one sentence at its place."""

import copy
import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.document.codec import read, written
from polestitch.document.design import Design
from polestitch.errors import DesignError
from tests.strategies import designs, json_values

Raw = dict[str, Any]

HARBOUR: Raw = {
    "format": 1,
    "name": "Quay at dusk",
    "ball": {"around": "24.7 cm", "measured": {"pole_to_pole": ["247 mm", "248 mm"], "obi": ["246 mm"]}},
    "threads": [
        {"name": "navy", "colour": "#1d2b45"},
        {"name": "foam 2", "colour": "#fff", "size": "pearl 8"},
        {"name": "lamp", "colour": "#d5b15e", "size": "fine metallic", "metallic": True},
    ],
    "marking": {"division": "S8", "thread": "lamp", "support": [{"name": "ring", "around": "N", "at": "1/3 from obi"}]},
    "layers": [
        {"name": "waves", "technique": "uwagake", "where": "N", "rows": "2 navy, 3 x (1 foam 2, 1 navy)"},
        {
            "name": "pier",
            "technique": "band",
            "where": ["obi"],
            "rows": "until 5 mm from obi: 1 lamp",
            "under": [{"layer": "waves"}],
            "params": {"off": None, "deep": [1, {"a": 0.1}]},
        },
    ],
}


def changed(*steps: str | int, to: Any) -> str:
    """HARBOUR with one value replaced, as JSON text."""
    raw: Any = copy.deepcopy(HARBOUR)
    place = raw
    for step in steps[:-1]:
        place = place[step]
    place[steps[-1]] = to
    return json.dumps(raw)


def refused(text: str | bytes) -> DesignError:
    with pytest.raises(DesignError) as caught:
        read(text)
    assert "\n" not in str(caught.value)
    return caught.value


def test_a_hand_written_design_reads() -> None:
    design = read(json.dumps(HARBOUR))
    assert design.threads[1].name == "foam 2"
    assert design.ball.around.mm == pytest.approx(247)
    assert design.layers[1].params == {"off": None, "deep": [1, {"a": 0.1}]}


def test_what_is_not_said_gets_its_default() -> None:
    design = read(json.dumps(HARBOUR))
    assert design.maker.hand == "right"
    assert design.layers[0].start == "line 1"


@pytest.mark.slow
@given(designs())
def test_what_is_written_reads_back_the_same(design: Design) -> None:
    text = written(design)
    assert read(text) == design
    assert read(text.encode()) == design
    assert written(read(text)) == text


def test_writing_keeps_letters_and_figures_as_they_are() -> None:
    raw = {**HARBOUR, "name": "手まり – Müller", "notes": "0.1 mm"}
    raw["layers"] = [{**HARBOUR["layers"][0], "params": {"x": 0.1, "big": 2**70, "tiny": 5e-324}}]
    text = written(read(json.dumps(raw)))
    assert "手まり – Müller" in text
    assert json.loads(text)["layers"][0]["params"] == {"x": 0.1, "big": 2**70, "tiny": 5e-324}


def test_a_byte_order_mark_does_no_harm() -> None:
    assert read(b"\xef\xbb\xbf" + json.dumps(HARBOUR).encode()) == read("\ufeff" + json.dumps(HARBOUR))


def test_broken_json_names_line_and_column() -> None:
    error = refused('{\n  "format": 1,\n  "name" "x"\n}')
    assert error.where == "design"
    assert error.what.startswith("line 3, column 10: a colon is missing")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "the file is empty"),
        ("[]", "is no design"),
        ('{"a": 1, "a": 2}', '"a" stands twice'),
        ('{"a": NaN}', "NaN is not a number"),
        ('{"a": -Infinity}', "-Infinity is not a number"),
        ('{"a": 1e999}', "too large"),
        ('{"a": ' + "9" * 5000 + "}", "too large"),
        ('{"a": "\\ud800"}', "half a character"),
        ('{"a": 1,}', "comma too many"),
        ('{"a": 1} {', "ends before this place"),
        ('{"a": "b', "no closing quotation mark"),
        ('{"a": ' + "[" * 60 + "]" * 60 + "}", "more than 50 deep"),
        ("[" * 200_000, "more than 50 deep"),
        (b"\xff\xfe\x00{", "not text in UTF-8 (byte 1)"),
        (b"%PDF-1.7\n\xe2\xe3\xcf\xd3", "not text in UTF-8"),
        (b"\x00\x01\x02", "line 1, column 1"),
        (b" " * 50_000_000, "larger than 5 MB"),
    ],
)
def test_a_file_that_is_no_design_is_refused(text: str | bytes, says: str) -> None:
    assert says in refused(text).what


def test_the_file_is_named_where_it_is_wrong_as_a_whole() -> None:
    with pytest.raises(DesignError, match=r"^quay\.json: line 1"):
        read("{", "quay.json")


def test_a_newer_format_is_refused_with_the_way_out() -> None:
    error = refused(changed("format", to=2))
    assert error.where == "format"
    assert "saved in format 2" in error.what
    assert "update Polestitch" in error.what


@pytest.mark.parametrize("version", [True, "1", 1.0, None, [], 0, -3])
def test_a_format_that_is_no_known_number_is_refused(version: Any) -> None:
    assert refused(changed("format", to=version)).where == "format"


def test_a_design_must_say_its_format() -> None:
    raw = {key: value for key, value in HARBOUR.items() if key != "format"}
    assert '"format": 1' in refused(json.dumps(raw)).what


@pytest.mark.parametrize(
    ("place", "value", "path", "says"),
    [
        (("layers", 0, "rows"), "2 nvy", "layers[0].rows", "did you mean navy?"),
        (("layers", 0, "rows"), "2 x", "layers[0].rows", "there is navy, foam 2, lamp"),
        (("layers", 0, "rows"), "0 navy", "layers[0].rows", "0 rows"),
        (("layers", 0, "rows"), "1000000 navy", "layers[0].rows", "over 2000 rows"),
        (("layers", 0, "rows"), 3, "layers[0].rows", 'text in "double quotes"'),
        (("layers", 0, "row"), "2 navy", "layers[0].row", 'did you mean "rows"?'),
        (("layers", 0, "where"), 3, "layers[0].where", 'text in "double quotes"'),
        (("layers", 0, "where"), [], "layers[0].where", "names no place"),
        (("layers", 0, "where"), "", "layers[0].where", "names no place"),
        (("layers", 0, "params"), [], "layers[0].params", "curly brackets { }"),
        (("layers", 0), 3, "layers[0]", "curly brackets { }"),
        (("layers",), {}, "layers", "square brackets [ ]"),
        (("layers", 1, "name"), "waves", "layers[1].name", "another layer too"),
        (("layers", 1, "under", 0, "layer"), "wave", "layers[1].under[0].layer", "did you mean waves?"),
        (("layers", 0, "under"), [{"layer": "pier"}], "layers[0].under[0].layer", "there is no earlier layer"),
        (("layers", 0, "under"), [{"layer": "waves"}], "layers[0].under[0].layer", "there is no earlier layer"),
        (("layers", 1, "under", 0, "rule"), "some", "layers[1].under[0].rule", "'under first'"),
        (("threads",), [], "threads", "at least 1"),
        (("threads", 1, "name"), "navy", "threads[1].name", "another thread too"),
        (("threads", 1, "name"), "foam, white", "threads[1].name", "commas"),
        (("threads", 1, "name"), " foam", "threads[1].name", "spaces too many"),
        (("threads", 1, "name"), "", "threads[1].name", "must not be empty"),
        (("threads", 1, "name"), "x" * 61, "threads[1].name", "at most 60 characters"),
        (("threads", 0, "colour"), "red", "threads[0].colour", 'like "#1d2b45"'),
        (("threads", 0, "colour"), 7, "threads[0].colour", 'like "#1d2b45"'),
        (("threads", 0, "size"), "pearl 7", "threads[0].size", "pearl 8"),
        (("threads", 0, "rows_per_cm"), 0, "threads[0].rows_per_cm", "more than 0"),
        (("threads", 0, "rows_per_cm"), "14", "threads[0].rows_per_cm", "a number without quotes"),
        (("threads", 0, "metallic"), "yes", "threads[0].metallic", "true or false"),
        (("threads", 0, "skein"), "0 m", "threads[0].skein", "from 1 mm up"),
        (("threads", 0, "have"), "1/3 from obi", "threads[0].have", "cannot be used here"),
        (("ball", "around"), "0 mm", "ball.around", "from 30 mm to 3000 mm"),
        (("ball", "around"), "-247 mm", "ball.around", "from 30 mm to 3000 mm"),
        (("ball", "around"), "10 km", "ball.around", "from 30 mm to 3000 mm"),
        (("ball", "around"), "10000 m", "ball.around", "from 30 mm to 3000 mm"),
        (("ball", "around"), "1/3 from obi", "ball.around", "no circumference"),
        (("ball", "around"), 247, "ball.around", 'like "12 mm"'),
        (("ball", "measured", "obi", 0), "2 mm", "ball.measured.obi[0]", "from 30 mm to 3000 mm"),
        (("ball", "size"), "247 mm", "ball.size", "it has around, measured, colour"),
        (("ball",), None, "ball", "curly brackets { }"),
        (("maker",), {"friction": 5}, "maker.friction", "at most 2"),
        (("maker",), {"working_length": "0 m"}, "maker.working_length", "from 50 mm"),
        (("maker",), {"stretch": "9 cm"}, "maker.stretch", "to 50 mm"),
        (("maker",), {"bite": "0 mm"}, "maker.bite", "1.5 mm"),
        (("maker",), {"hand": "both"}, "maker.hand", "'right' or 'left'"),
        (("marking", "thread"), "lamb", "marking.thread", "did you mean lamp?"),
        (("marking", "support", 0, "corners"), 2.5, "marking.support[0].corners", "whole number"),
        (("marking", "support", 0, "corners"), 2, "marking.support[0].corners", "at least 3"),
        (("marking", "support", 0, "at"), "5", "marking.support[0].at", "needs a unit"),
        (("marking", "support", 0, "at"), "1/0 mm", "marking.support[0].at", "divides by zero"),
        (("marking", "support", 0, "between"), ["N"], "marking.support[0].between", "two addresses"),
        (("level",), "expert", "level", "'beginner'"),
        (("titel",), "x", "titel", "it has format, name"),
    ],
)
def test_every_mistake_is_told_at_its_place(place: tuple[str | int, ...], value: Any, path: str, says: str) -> None:
    error = refused(changed(*place, to=value))
    assert error.where.startswith(path)
    assert says in error.what


@pytest.mark.parametrize("key", ["name", "ball", "threads", "marking"])
def test_what_is_missing_is_named(key: str) -> None:
    error = refused(json.dumps({name: value for name, value in HARBOUR.items() if name != key}))
    assert error.where == key
    assert error.what.startswith("is missing")


def test_an_unknown_technique_is_none_of_the_reader_s_business() -> None:
    assert read(changed("layers", 0, "technique", to="moon spiral")).layers[0].technique == "moon spiral"


def outcome(text: str | bytes) -> Design | DesignError:
    """What reading ``text`` comes to; any other error than a DesignError fails the test."""
    try:
        return read(text)
    except DesignError as error:
        return error


def tried(text: str | bytes) -> None:
    found = outcome(text)
    if isinstance(found, Design):
        assert read(written(found)) == found
    else:
        assert found.what
        assert found.where


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    tried(data)


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    tried(text)


@given(json_values())
def test_any_json_is_read_or_refused(value: Any) -> None:
    tried(json.dumps(value))
    tried(json.dumps({"format": 1, "name": value, "ball": value, "threads": value, "marking": value}))


def places(value: Any, here: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """The way to every value inside ``value``."""
    inner: list[tuple[str | int, Any]] = []
    if isinstance(value, dict):
        inner = list(value.items())
    elif isinstance(value, list):
        inner = list(enumerate(value))
    return [way for key, part in inner for way in ((*here, key), *places(part, (*here, key)))]


ANYTHING = st.one_of(
    json_values(), st.text(max_size=30), st.sampled_from(["until", "9" * 5000 + " navy", "1 x (" * 390])
)


@given(st.sampled_from(places(HARBOUR)), ANYTHING)
def test_a_design_with_anything_anywhere_is_read_or_refused(place: tuple[str | int, ...], value: Any) -> None:
    tried(changed(*place, to=value))


@given(st.sampled_from(places(HARBOUR)), st.text(max_size=12), json_values())
def test_a_design_with_a_strange_key_is_read_or_refused(place: tuple[str | int, ...], key: str, value: Any) -> None:
    tried(changed(*place[:-1], key, to=value) if isinstance(place[-1], str) else changed(*place, to={key: value}))


@given(st.integers(0, 1200), st.binary(max_size=3), st.integers(0, 4))
def test_a_design_with_damaged_bytes_is_read_or_refused(at: int, bytes_: bytes, lost: int) -> None:
    text = json.dumps(HARBOUR).encode()
    tried(text[:at] + bytes_ + text[at + lost :])
