"""A class is read strictly, and a mistake in it is told by its place."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from polestitch.errors import DesignError
from polestitch.lessons import lesson_of
from polestitch.teaching.document import ClassSpec, plain, read_class
from tests.teaching.balls import spec, star


@pytest.mark.parametrize(
    ("changes", "where", "what"),
    [
        ({"students": 0}, "students", "at least 1"),
        ({"students": 2}, "named", "6 names for 2 students"),
        ({"left_handed": 9}, "left_handed", "more than the 8 students"),
        ({"spares": "a few"}, "spares", "10 %"),
        ({"named": [{"around": "24 feet"}]}, "named[0].around", "length"),
        ({"named": [{"name": "Oda"}, {"around": "9 m"}]}, "named[1].around", "size of a ball"),
        ({"sessions": []}, "sessions", "at least 1"),
        ({"studens": 8}, "studens", 'did you mean "students"'),
        ({"title": ""}, "title", "empty"),
    ],
)
def test_a_mistake_names_its_place(changes: dict[str, Any], where: str, what: str) -> None:
    with pytest.raises(DesignError) as error:
        spec(**changes)
    assert error.value.where == where
    assert what in str(error.value)


def test_written_out_it_reads_back_the_same() -> None:
    assert read_class(json.dumps(plain(spec()))) == spec()


def test_a_ball_the_design_cannot_be_made_on_names_the_student() -> None:
    design = star()
    design["layers"][0]["rows"] = "until 15 mm from obi: 1 cream"
    with pytest.raises(DesignError) as error:
        lesson_of(spec(named=[{"name": "Oda"}, {"name": "Piet", "around": "50 mm"}], left_handed=0), design)
    assert error.value.where == "named[1].around"


def test_the_docs_tell_every_word_of_a_class() -> None:
    docs = Path(__file__).parents[2] / "docs" / "json.md"
    part = docs.read_text(encoding="utf-8").split("\n## A class in a file\n")[1].split("\n## ")[0]
    heads = re.findall(r"^\| (`.+?) \|", part, re.MULTILINE)
    assert [word for head in heads for word in re.findall(r"`(\w+)`", head)] == list(ClassSpec.model_fields)
