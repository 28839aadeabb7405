"""What a touched place is called: against scipy's rotations of the same marking, and back through the address."""

from typing import Any

import numpy as np
import pytest
from fastapi.testclient import TestClient

pytestmark = pytest.mark.slow
Raw = dict[str, Any]


def test_a_touch_near_a_point_means_the_point_and_elsewhere_a_place_on_a_line(bench: TestClient, lamps: Raw) -> None:
    answer = bench.post("/api/spots", json={"document": lamps, "near": [0.02, 0.01, 1.0], "named": ["N", "moon"]})
    assert answer.json()["near"]["address"] == "N"
    assert answer.json()["named"] == [{"address": "N", "xyz": [0, 0, 1], "words": "N"}, None]
    beside = bench.post("/api/spots", json={"document": lamps, "near": [0.5, 0.03, 0.7]}).json()["near"]
    again = bench.post("/api/spots", json={"document": lamps, "named": [beside["address"]]}).json()["named"][0]
    assert beside["xyz"] == again["xyz"]
    assert (
        np.linalg.norm(np.array(beside["xyz"]) - np.array([0.5, 0.03, 0.7]) / np.linalg.norm([0.5, 0.03, 0.7])) < 0.15
    )


def test_a_touch_on_a_crossing_tells_who_lies_on_top_and_its_choice_turns_it(bench: TestClient, lamps: Raw) -> None:
    raw = {
        **lamps,
        "layers": [{"name": "p", "technique": "uwagake", "where": "N", "rows": "2 " + lamps["threads"][0]["name"]}],
    }
    places = [
        [np.sin(t) * np.cos(a), np.sin(t) * np.sin(a), np.cos(t)] for t in (0.3, 0.6, 0.9) for a in (0.1, 0.9, 2.0)
    ]
    found = [bench.post("/api/crossing", json={"document": raw, "near": at}).json()["crossing"] for at in places]
    crossing = next(one for one in found if one is not None)
    raw["layers"][crossing["layer"]]["crossings"] = [{**crossing["choice"], "at": "this crossing"}]
    turned = bench.post("/api/crossing", json={"document": raw, "near": crossing["xyz"]}).json()["crossing"]
    assert turned["xyz"] == crossing["xyz"]
    assert (turned["top"], turned["below"], turned["state"]) == (crossing["below"], crossing["top"], "by hand")
    assert crossing["counts"]["this crossing"] == 1


def test_a_touch_in_the_middle_of_the_ball_is_refused(bench: TestClient, lamps: Raw) -> None:
    assert bench.post("/api/spots", json={"document": lamps, "near": [0, 0, 0]}).status_code == 422


def test_a_touched_point_leaves_her_other_words_alone(bench: TestClient, lamps: Raw) -> None:
    layers = [{**lamps["layers"][0], "where": ["both poles", "N to obi 2, 1/2"]}, *lamps["layers"][1:]]
    asked = {"document": {**lamps, "layers": layers}, "layer": 0, "point": "S"}
    assert bench.post("/api/where", json=asked).json()["where"] == ["N", "N to obi 2, 1/2"]
    again = bench.post("/api/where", json={**asked, "point": "obi 4"}).json()["where"]
    assert again == ["both poles", "N to obi 2, 1/2", "obi 4"]
    assert bench.post("/api/where", json={**asked, "layer": 99}).status_code == 422
