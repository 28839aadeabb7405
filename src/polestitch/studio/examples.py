"""The designs of *Harbour Lights*, which lie on the shelf at first start.

In: nothing.  Out: documents by name.
"""

import json
from functools import cache
from pathlib import Path
from typing import Any

_SHIPPED = Path(__file__).parent / "harbour_lights"
_BESIDE_THE_SOURCES = Path(__file__).parents[3] / "examples"
EMPTY_AROUND = "24 cm"
TAG = "Harbour Lights"


def example_folder() -> Path:
    """Where they lie."""
    return _SHIPPED if _SHIPPED.is_dir() else _BESIDE_THE_SOURCES


@cache
def example_texts() -> dict[str, str]:
    """Every example's text by its file's name."""
    return {path.stem: path.read_text(encoding="utf-8") for path in sorted(example_folder().glob("*.json"))}


def example(name: str) -> dict[str, Any] | None:
    """A fresh copy of one of them."""
    text = example_texts().get(name)
    return None if text is None else dict(json.loads(text))


def empty_ball(around: str) -> dict[str, Any]:
    """A ball with a marking and nothing on it."""
    return {
        "format": 1,
        "name": "New ball",
        "ball": {"around": around, "colour": "#16233a"},
        "threads": [
            {"name": "cream", "colour": "#f3e6c8", "size": "pearl 5"},
            {"name": "amber", "colour": "#e0952f", "size": "pearl 5"},
        ],
        "marking": {"division": "S8+obi"},
        "layers": [],
    }
