"""Colour plans on paper: margins, no words on others, everything that is told."""

import io
from typing import Any

import pytest
from PIL import Image

from polestitch.sheets.plans_page import plans_pdf, plans_sheets
from polestitch.sheets.sheet import EDGE
from tests.sheets.paper import outside, overlapping, words

LONG = "moss and rust look nearly alike to many who do not tell red from green: about 8 in 100 men of European descent."


def picture() -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (8, 8), "#2b4c7e").save(file, "PNG")
    return file.getvalue()


def told(count: int) -> dict[str, Any]:
    threads = [
        {
            "name": name,
            "colour": colour,
            "where": ["N", "S"],
            "said": "N, S, triangles " + ", ".join(map(str, range(k))),
        }
        for k, (name, colour) in enumerate((("moss", "#6d7a2f"), ("a thread of a very long name", "#1d2b5a")), 20)
    ]
    plans = [
        {"said": f"like threads {n} mm apart", "threads": threads, "notes": [LONG] * (n % 4)} for n in range(count)
    ]
    return {"by": "motifs", "asked": {"layer": "buoys"}, "said": "There are 12 plans.", "notes": [LONG], "plans": plans}


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("count", [1, 5, 12])
def test_plans_keep_13_mm_from_the_edge_and_off_each_other(paper: str, count: int) -> None:
    pages = plans_sheets("Winter beacons", told(count), [(picture(), picture())] * count, paper)
    for page in pages:
        assert outside(page, EDGE) == []
        assert overlapping(page) == []


def test_every_plan_is_told() -> None:
    text = " ".join(words(plans_pdf("Winter beacons", told(12), [(picture(), picture())] * 12)).split())
    assert all(f"Like threads {n} mm apart" in text for n in range(12))
    assert text.count("Take care") == 1 + 3 * (1 + 2 + 3)
    assert "CIEDE2000" in text
    assert "Machado" in text
