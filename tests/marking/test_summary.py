import json

import numpy as np
import pytest

from polestitch.marking.summary import marking_json
from tests.reference.polyhedra import COUNTS


@pytest.mark.parametrize("division", COUNTS)
def test_the_summary_has_the_published_counts(division: str) -> None:
    ways, circles, triangles = COUNTS[division]
    summary = json.loads(json.dumps(marking_json(division, 300.0)))
    assert len(summary["points"]) == sum(ways.values())
    assert summary["circles"] == circles
    assert summary["triangles"] == triangles
    assert summary["route"]["pieces"] == 1
    assert np.linalg.norm([point["xyz"] for point in summary["points"]], axis=1) == pytest.approx(1)


def test_the_summary_has_the_keys_others_build_on() -> None:
    summary = marking_json("c10", 300.0)
    assert {"division", "around_mm", "points", "circles", "triangles", "pins", "route"} <= set(summary)
    assert summary["division"] == "C10"
    pin = next(pin for pin in summary["pins"] if pin["point"] == "centre 2")
    assert pin["from"][0] == {"point": "N", "mm": 52.8625, "fraction": 0.1762081912, "rule_mm": 53.0}
    assert set(pin["check"][0] if pin["check"] else {"point": 0, "mm": 0}) == {"point", "mm"}
    assert {"pieces", "mm"} <= set(summary["route"])


def test_an_odd_division_has_half_circles_and_no_whole_one_but_the_obi() -> None:
    assert (marking_json("S5", 240.0)["circles"], marking_json("S5", 240.0)["half_circles"]) == (0, 5)
    assert (marking_json("S5+obi", 240.0)["circles"], marking_json("S8+obi", 240.0)["circles"]) == (1, 5)
