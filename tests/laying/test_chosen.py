"""Crossings settled by hand: against networkx's test of order, and by counting what a choice must reach."""

import json
from typing import Any

import networkx as nx
import numpy as np
import pytest

from polestitch.checks.weave import lost_choices, needle_work
from polestitch.document.codec import read
from polestitch.errors import DesignError
from polestitch.pipeline import Build, build

RINGS = [("a", "line 1-5"), ("b", "line 3-7"), ("c", "obi")]


def ball(*crossings: dict[str, Any], layers: list[dict[str, Any]] | None = None, around: str = "24 cm") -> Build:
    raw = {
        "format": 1,
        "name": "ball",
        "ball": {"around": around},
        "threads": [{"name": "navy", "colour": "#102040"}],
        "marking": {"division": "S8+obi"},
        "layers": layers or [{"name": name, "technique": "band", "where": at, "rows": "1 navy"} for name, at in RINGS],
    }
    made: Any = json.loads(json.dumps(raw))
    made["layers"][-1]["crossings"] = list(crossings)
    return build(read(json.dumps(made)))


def choice(made: Build, k: int, at: str = "this crossing") -> dict[str, Any]:
    """The entry that turns crossing ``k`` over."""
    laid, crossings = made.laid, made.crossings
    own, other = int(crossings.second[k]), int(crossings.first[k])
    first = np.searchsorted(laid.span_row, np.arange(len(laid.row_layer)))

    def named(arc: int) -> tuple[str, int, int, str]:
        row = laid.arc_row[arc]
        layer = int(laid.row_layer[row])
        motif = next(m for m in made.motifs if (m.layer, m.number - 1) == (layer, laid.row_motif[row]))
        return (
            motif.place,
            int(laid.row_number[row]),
            int(laid.arc_span[arc] - first[row] + 1),
            made.design.layers[layer].name,
        )

    place, row, leg, _ = named(own)
    other_place, other_row, other_leg, layer = named(other)
    return {
        "place": place,
        "row": row,
        "leg": leg,
        "other": layer,
        "other_place": other_place,
        "other_row": other_row,
        "other_leg": other_leg,
        "lies": "under" if made.over[k] else "over",
        "at": at,
    }


def petals(rows: int = 2) -> list[dict[str, Any]]:
    return [{"name": "p", "technique": "uwagake", "where": "N and S", "rows": f"{rows} navy"}]


def test_a_choice_turns_one_crossing_and_no_other() -> None:
    before = ball(layers=petals())
    for k in (0, len(before.crossings) // 2, len(before.crossings) - 1):
        after = ball(choice(before, k), layers=petals())
        assert np.flatnonzero(before.over != after.over).tolist() == [k]


def test_a_choice_stays_with_its_threads_on_another_ball_and_with_more_rows() -> None:
    before = ball(layers=petals())
    k = len(before.crossings) // 2
    entry = choice(before, k)
    for after, plain in (
        (ball(entry, layers=petals(), around="31 cm"), ball(layers=petals(), around="31 cm")),
        (ball(entry, layers=petals(4)), ball(layers=petals(4))),
    ):
        turned = np.flatnonzero(plain.over != after.over)
        assert len(turned) == 1
        gap = np.linalg.norm(after.crossings.point[turned[0]] - before.crossings.point[k])
        assert gap < 0.1


def test_like_places_are_a_whole_orbit_of_the_turns() -> None:
    """The 16 turns of eight lines and a circle: an orbit's size divides their number (Lagrange)."""
    before = ball(layers=petals())
    for k in range(0, len(before.crossings), 5):
        after = ball(choice(before, k, "every like place"), layers=petals())
        turned = np.flatnonzero(before.over != after.over)
        met = after.by_hand[0].crossing
        assert k in met
        assert 16 % len(met) == 0
        assert k in turned
        height = np.abs(after.crossings.point[met][:, 2])
        assert np.ptp(height) < 0.005


def test_a_ring_of_over_and_under_is_told_with_its_proof() -> None:
    """Over and under as a directed graph of rows: networkx says whether any order lays them without a needle."""
    plain = ball()
    k = int(np.flatnonzero(plain.laid.row_layer[plain.laid.arc_row[plain.crossings.first]] == 0)[-1])
    made = ball(choice(plain, k))
    graph = nx.DiGraph()
    for one, two, over in zip(made.crossings.first, made.crossings.second, made.over):
        pair = (int(made.laid.arc_row[one]), int(made.laid.arc_row[two]))
        graph.add_edge(*(pair if over else pair[::-1]))
    said = " ".join(finding.sentence for finding in needle_work(made))
    assert said
    assert ("No order spares it" in said) == (not nx.is_directed_acyclic_graph(graph))


def test_a_choice_that_finds_nothing_says_so_and_can_be_taken_out() -> None:
    entry = {**choice(ball(), 0), "row": 9}
    found = list(lost_choices(ball(entry)))
    assert [finding.remedy for finding in found] == [{"path": "layers[2].crossings[0]", "value": None}]
    assert "do not cross" in found[0].sentence


def test_a_choice_names_a_layer_that_is_there() -> None:
    with pytest.raises(DesignError, match="earlier layer") as told:
        ball({**choice(ball(), 0), "other": "moon"})
    assert told.value.where == "layers[2].crossings[0].other"
