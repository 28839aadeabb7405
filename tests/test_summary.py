"""What others may build on: every key, its meaning, and figures that agree with each other."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from polestitch.checks import findings
from polestitch.doubt import doubt
from polestitch.marking.summary import marking_json
from polestitch.pipeline import Build, Worked
from polestitch.summary import work_json
from tests.builds import BAND, KIKU, SQUARE, built, estimated, marking_of

DOCS = Path(__file__).parent.parent / "docs" / "json.md"
A_HUNDREDTH = 0.01  # mm: three figures rounded to a thousandth


def summed(made: Build) -> dict[str, Any]:
    marking = marking_of(made)
    estimate = estimated(made, marking)
    sure = doubt(made.design, Worked(made.ball, made.marking, made.motifs), estimate)
    return work_json(made, estimate, findings(made, estimate.needed_mm), marking.mm, sure)


@pytest.fixture(scope="module")
def work() -> dict[str, Any]:
    until = {**KIKU, "where": "N and S", "rows": "until 6 mm from obi: 2 navy, 1 white"}
    return summed(built(until, BAND, maker={"bite": "3 mm"}))


def keys(value: Any, path: str = "") -> Iterator[str]:
    """Dotted paths of all keys; lists are written ``[]``, and names of threads are no keys."""
    if isinstance(value, dict) and not path.endswith("laid_mm."):
        for key, inner in value.items():
            yield path + key
            yield from keys(inner, f"{path}{key}.")
    elif isinstance(value, list):
        for inner in value:
            yield from keys(inner, path[:-1] + "[].")


def test_the_top_keys_are_exactly_those_promised(work: dict[str, Any]) -> None:
    assert list(work) == [
        "ball", "marking", "layers", "threads", "crossings", "cover", "buildup_max", "findings", "symmetry", "hours",
    ]  # fmt: skip
    assert list(work["layers"][0]) == [
        "name", "technique", "motifs", "rows", "rows_range", "bites", "spans", "arcs", "laid_mm", "reaches",
    ]  # fmt: skip
    assert list(work["threads"][0]) == [
        "id", "laid_mm", "total_mm", "total_range", "lengths", "skeins", "skeins_range", "skeins_take",
        "skeins_odds", "skeins_said",
    ]  # fmt: skip
    assert work["findings"]
    assert list(work["findings"][0]) == ["kind", "severity", "where", "sentence"]


def test_the_docs_name_every_key_and_no_other(work: dict[str, Any]) -> None:
    parts = DOCS.read_text(encoding="utf-8").split("\n## ")
    told = [set(re.findall(r"^\| `([^`]+)`", part, re.MULTILINE)) for part in parts[1:]]
    assert told[0] == set(keys(work))
    assert told[1] == set(keys(marking_json("C10", 300.0))) | set(keys(marking_json("C10/42", 300.0)))


def test_the_docs_name_every_kind_of_finding(work: dict[str, Any]) -> None:
    source = "".join(
        path.read_text(encoding="utf-8") for path in Path(findings.__code__.co_filename).parent.glob("*.py")
    )
    used = set(re.findall(r'Finding\(\s*"([^"]+)"', source))
    said = re.search(r"`findings\[\]\.kind` \| [^:]+: (.+) \|", DOCS.read_text(encoding="utf-8"))
    assert said is not None
    assert used == set(re.findall(r"`([^`]+)`", said[1]))
    assert {finding["kind"] for finding in work["findings"]} <= used


def test_it_is_plain_json(work: dict[str, Any]) -> None:
    assert json.loads(json.dumps(work, allow_nan=False)) == work


def test_threads_of_all_layers_add_up(work: dict[str, Any]) -> None:
    for thread in work["threads"]:
        of_layers = sum(layer["laid_mm"].get(thread["id"], 0.0) for layer in work["layers"])
        assert thread["laid_mm"] == pytest.approx(of_layers, abs=A_HUNDREDTH)
        assert thread["total_mm"] >= thread["laid_mm"]


def test_counts_of_a_square_on_both_poles_are_those_a_hand_counts() -> None:
    # Five rows of four bites at two poles, and 2 x 4 turns of a band: nothing crosses, the obi is far.
    work = summed(built({**SQUARE, "where": "N and S", "rows": "3 navy, 2 white"}, BAND))
    square, band = work["layers"]
    assert (square["motifs"], square["rows"], square["bites"], square["spans"], square["arcs"]) == (2, 5, 40, 40, 40)
    assert (band["motifs"], band["rows"], band["bites"], band["spans"], band["arcs"]) == (1, 4, 0, 8, 8)
    assert "reaches" not in square
    assert (work["marking"]["points"], work["marking"]["circles"]) == (10, 5)


def test_three_bands_at_right_angles_cross_as_often_as_their_turns() -> None:
    # Three great circles meet in six points; k turns each side make (2k)^2 crossings at each.
    work = summed(built({"technique": "band", "where": "all equators", "rows": "2 navy"}, division="C4"))
    assert work["crossings"] == 6 * 4**2


def test_one_turn_covers_its_own_width(work: dict[str, Any]) -> None:
    # Archimedes: a zone of height h covers h / 2R of the ball.
    made = built({**BAND, "rows": "3 navy"})
    height = np.sin(3 * 10 / 14 / made.ball.radius_mm)
    assert summed(made)["cover"] == pytest.approx(height, abs=2e-3)
    assert 0 < work["cover"] < 1


def test_hours_go_from_a_quick_hand_to_a_slow_one(work: dict[str, Any]) -> None:
    assert 0 < work["hours"]["low"] < work["hours"]["likely"] < work["hours"]["high"]
