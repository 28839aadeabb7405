"""One law of contact, asked of nothing but what ``thread --json`` prints.

The law is that of the project's own decision 0010: like legs of neighbouring rows of one strand keep one thread
from each other wherever no bite is near.  The measure is held against circles whose distance is known.
"""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from polestitch.families.family import family, family_names
from polestitch.sphere.arcs import unit
from tests.cli.conftest import EXAMPLES
from tests.reference.side_by_side import Pair, distances, finely, pairs, sides, table, thread_of

LEAST = 0.97  # pitches
SIZES = ("18cm", "27.3cm", "40cm")
RADIUS = 40.0
# Whose like legs meet by the way they are worked, not by how the thread settles.
CROSS = {
    "both_poles": "each row runs past the same pins on the other side of the row before",
    "one_stroke": "the ways from star to star cross the row before",
    "zigzag": "tips grow upward and downward, so that legs cross on the circle between them",
}
LIE_ON = {"swirl": "each bite is taken on the thread of the round before"}
BALLS = [*sorted(EXAMPLES.glob("harbour-lights/balls/*.json")), EXAMPLES / "harbour-lights" / "mooring-star.json"]


def too_near(found: list[Pair], technique: dict[str, str]) -> list[Pair]:
    """Pairs of legs that come too near, but for those that meet by their technique."""
    return [
        pair
        for pair in found
        if pair.nearest < LEAST
        and technique[pair.layer] not in LIE_ON
        and not (pair.crosses and technique[pair.layer] in CROSS)
    ]


def techniques(document: dict[str, Any]) -> dict[str, str]:
    return {layer["name"]: layer["technique"] for layer in document["layers"]}


@pytest.mark.slow
@pytest.mark.parametrize("path", BALLS, ids=lambda path: path.stem)
def test_like_legs_of_neighbouring_rows_keep_their_distance(path: Path) -> None:
    found = list(pairs(thread_of(str(path))))
    assert found
    assert too_near(found, techniques(json.loads(path.read_text(encoding="utf-8")))) == []


@pytest.mark.slow
@pytest.mark.parametrize("around", SIZES)
@pytest.mark.parametrize("name", family_names())
def test_like_legs_of_neighbouring_rows_keep_their_distance_in_every_family(name: str, around: str) -> None:
    found = list(pairs(first_and_last(thread_of(f"{name}@{around}"))))
    assert too_near(found, techniques(family(name).design)) == []


def first_and_last(thread: dict[str, Any]) -> dict[str, Any]:
    """The thread of each layer's first and last motif: those between are the same rows at other places."""
    kept: dict[str, list[str]] = {}
    for leg in thread["legs"]:
        motifs = kept.setdefault(leg["layer"], [leg["motif"], leg["motif"]])
        motifs[1] = leg["motif"]
    return {**thread, "legs": [leg for leg in thread["legs"] if leg["motif"] in kept[leg["layer"]]]}


def ring(latitude: float, row: int, pitch_mm: float, span: float = 2.0) -> dict[str, Any]:
    """A leg along a parallel, ``latitude`` radians up, from longitude 0 on."""
    turn = np.linspace(0, span, 400)
    level = np.full_like(turn, np.sin(latitude))
    points = np.stack([np.cos(latitude) * np.cos(turn), np.cos(latitude) * np.sin(turn), level], axis=1)
    whose = {"layer": "rings", "motif": "N", "row": row}
    return {**whose, "strand": 1, "leg": 1, "pitch_mm": pitch_mm, "points": points.tolist()}


def told(*legs: dict[str, Any], half_mm: float = 0.5) -> dict[str, Any]:
    """Legs of rows that each begin and end at a bite."""
    bites = [
        {"layer": leg["layer"], "motif": leg["motif"], "row": leg["row"], "at": leg["points"][end], "half_mm": half_mm}
        for leg in legs
        for end in (0, -1)
    ]
    return {"ball": {"radius_mm": RADIUS}, "legs": list(legs), "bites": bites}


def test_parallels_are_as_far_apart_as_their_latitudes() -> None:
    # The nearest way between two parallels is along a meridian: the difference of latitudes, on any ball.
    (pair,) = pairs(told(ring(0.5, 1, 0.7), ring(0.5 + 0.8 / RADIUS, 2, 0.9)))
    assert (pair.earlier, pair.later, pair.crosses) == (1, 2, False)
    assert pair.nearest == pytest.approx(1.0, abs=1e-3)
    assert pair.middle == pytest.approx(1.0, abs=1e-3)


def test_a_row_laid_on_half_a_thread_is_seen() -> None:
    found = list(pairs(told(ring(0.5, 1, 0.7), ring(0.5 + 0.35 / RADIUS, 2, 0.7))))
    assert found[0].nearest == pytest.approx(0.5, abs=1e-3)
    assert too_near(found, {"rings": "polygon"}) == found
    assert too_near(found, {"rings": "zigzag"}) == found, "a leg that does not cross is no exception"
    assert too_near(found, {"rings": "swirl"}) == []


def test_what_is_near_a_bite_is_left_out() -> None:
    # The later leg comes to the earlier one at its end, half a bite and a thread before which nothing is asked.
    leg = ring(0.5 + 0.7 / RADIUS, 2, 0.7)
    leg["points"][-1] = ring(0.5, 1, 0.7)["points"][-1]
    (near,) = pairs(told(ring(0.5, 1, 0.7), leg, half_mm=0.5))
    assert near.nearest == pytest.approx(1.0, abs=1e-3)
    (far,) = pairs(told(ring(0.5, 1, 0.7), leg, half_mm=-0.7))
    assert far.nearest < 0.3  # the last place asked but the end itself, a quarter of a thread before it


def test_a_leg_that_crosses_is_known_by_its_two_sides() -> None:
    leg = ring(0.5, 2, 0.7)
    tilt = np.linspace(-0.05, 0.05, len(leg["points"]))[:, None] * np.array([0.0, 0.0, 1.0])
    leg["points"] = unit(np.array(leg["points"]) + tilt).tolist()
    (pair,) = pairs(told(ring(0.5, 1, 0.7), leg))
    assert pair.crosses
    assert pair.nearest < 0.05


def test_rows_are_compared_strand_by_strand_and_motif_by_motif() -> None:
    rows = [ring(0.5 + 0.7 * k / RADIUS, k + 1, 0.7) for k in range(4)]
    odd = [{**leg, "strand": 1 + k % 2} for k, leg in enumerate(rows)]
    assert [(pair.earlier, pair.later) for pair in pairs(told(*rows))] == [(1, 2), (2, 3), (3, 4)]
    assert [(pair.earlier, pair.later) for pair in pairs(told(*odd))] == [(1, 3), (2, 4)]
    means = [side.middle for side in sides(list(pairs(told(*odd))))["rings", 1].values()]
    assert means == pytest.approx([2.0], abs=1e-3)


def test_points_between_points_stay_on_the_ball() -> None:
    line = RADIUS * np.array(ring(0.0, 1, 0.7)["points"])[::20]
    fine = finely(line, 0.1)
    assert np.linalg.norm(fine, axis=1) == pytest.approx(RADIUS)
    assert np.linalg.norm(np.diff(fine, axis=0), axis=1).max() <= 0.1 + 1e-4
    assert np.abs(distances(line, fine)).max() < 1e-9


@pytest.mark.slow
def test_the_table_has_a_line_a_strand_with_a_figure_a_pair() -> None:
    *_, line = table([str(EXAMPLES / "harbour-lights" / "mooring-star.json")])
    cells = [cell.strip() for cell in line.strip("|").split("|")]
    assert cells[0] == "mooring-star"
    assert all(0.5 < float(figure) < 20 for figure in cells[3].split())
