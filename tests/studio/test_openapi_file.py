"""The front end's types come from a file: it must say what the server says."""

import json
from pathlib import Path

import polestitch
from polestitch.studio.openapi import description

FILE = Path(polestitch.__file__).parents[2] / "web" / "openapi.json"


def test_the_types_of_the_front_end_are_made_from_what_the_server_says() -> None:
    assert json.loads(FILE.read_text("utf-8")) == description(), "run: python -m polestitch.studio.openapi"
