"""The published schema, read by somebody else's validator."""

import json
from collections.abc import Iterator
from typing import Any

import jsonschema
import pytest
from hypothesis import given

from polestitch.document.codec import written
from polestitch.document.design import Design
from polestitch.document.schema import schema
from tests.document.test_codec import HARBOUR, changed
from tests.strategies import designs

VALIDATOR = jsonschema.Draft202012Validator(schema())


def test_the_schema_is_one_of_draft_2020_12() -> None:
    jsonschema.Draft202012Validator.check_schema(schema())
    assert json.loads(json.dumps(schema())) == schema()


@pytest.mark.slow
@given(designs())
def test_every_written_design_keeps_to_the_schema(design: Design) -> None:
    VALIDATOR.validate(json.loads(written(design)))


def test_a_hand_written_design_keeps_to_the_schema() -> None:
    VALIDATOR.validate(HARBOUR)


@pytest.mark.parametrize(
    ("place", "value"),
    [
        (("format",), 2),
        (("name",), ""),
        (("ball", "around"), "10 km"),
        (("ball", "around"), 247),
        (("ball", "size"), "1 mm"),
        (("threads",), []),
        (("threads", 0, "colour"), "red"),
        (("layers", 0, "where"), 5),
        (("maker",), {"friction": 3}),
    ],
)
def test_what_the_reader_refuses_the_schema_refuses(place: tuple[str | int, ...], value: Any) -> None:
    assert not VALIDATOR.is_valid(json.loads(changed(*place, to=value)))


def test_a_design_without_its_format_breaks_the_schema() -> None:
    assert not VALIDATOR.is_valid({key: value for key, value in HARBOUR.items() if key != "format"})


def fields(record: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    yield from record.get("properties", {}).items()
    for inner in record.get("$defs", {}).values():
        yield from fields(inner)


@pytest.mark.parametrize(("name", "field"), list(fields(schema())))
def test_every_field_says_what_it_is_for(name: str, field: dict[str, Any]) -> None:
    assert len(field.get("description", "")) >= 10, name
