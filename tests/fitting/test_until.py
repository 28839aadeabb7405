"""What "until" means: at every like place its own like target, and never a row more or less than fits."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from polestitch import fit
from polestitch.checks.uneven import uneven_rows
from polestitch.document.design import Design
from polestitch.errors import DesignError
from polestitch.fit import clearance
from polestitch.laying.settle import Settled, settled
from polestitch.pipeline import Build, build
from polestitch.sphere.arcs import Points, between
from polestitch.stitching.motifs import Motif
from polestitch.stitching.seats import Seat

STAR = {"technique": "star", "params": {"points": 5, "step": 2, "at": "1/2 from centre"}}
SQUARE = {"technique": "polygon", "params": {"corners": 4, "at": "8 mm"}}
TRIANGLE = {"technique": "polygon", "params": {"corners": 3, "at": "3 mm"}}
PENTAGON = {"technique": "polygon", "params": {"corners": 5, "at": "5 mm"}}


def made(layer: dict[str, Any], division: str = "C10", around: str = "250 mm") -> Build:
    """One layer on a ball."""
    told = {
        "name": "until",
        "ball": {"around": around},
        "threads": [{"name": "navy", "colour": "#234"}],
        "marking": {"division": division},
        "layers": [{"name": "one", **layer}],
    }
    return build(Design.model_validate(told))


@pytest.mark.parametrize("layer", [STAR, PENTAGON])
@pytest.mark.parametrize("start", ["line 1", "line 2"])
def test_every_like_place_runs_until_its_own_like_target(layer: dict[str, Any], start: str) -> None:
    # By the symmetry of the icosahedron every centre has a centre as far from it as centre 2 is from N.
    ball = made({**layer, "where": "all centres", "rows": "until centre 2: 1 navy", "start": start})
    assert len(ball.motifs) == 12
    assert len({len(motif.rows) for motif in ball.motifs}) == 1


def test_the_last_row_ends_before_the_target_and_one_more_would_not() -> None:
    ball = made({**STAR, "where": "all centres", "rows": "until centre 2: 1 navy"})
    rows = ball.motifs[0].rows
    reach = [float(np.arccos(row.places[:, 2].min())) for row in rows]
    target = np.arctan(2)  # vertex to vertex of the icosahedron (Coxeter, Regular Polytopes, from memory)
    assert reach[-1] <= target < reach[-1] + (reach[-1] - reach[-2])


def test_unlike_places_are_refused_with_what_was_probably_meant() -> None:
    words = r'rows: "until centre 2" means 44\.1 mm at N and 55\.0 mm at triangle 2.*"until 44\.1 mm from centre"'
    with pytest.raises(DesignError, match=words):
        made({**TRIANGLE, "where": ["N", "triangle 2"], "rows": "until centre 2: 1 navy"})


def test_the_meant_words_are_understood() -> None:
    plain = made({**STAR, "where": "all centres", "rows": "until 44.05 mm from centre: 1 navy"})
    assert len({len(motif.rows) for motif in plain.motifs}) == 1


@pytest.mark.parametrize("shape", [SQUARE, {"technique": "spindle", "params": {"at": "1/3 from centre"}}])
def test_until_neighbours_takes_every_row_that_fits_and_no_other(shape: dict[str, Any]) -> None:
    # Brute force: densely sampled thread against the plane or line midway, row after row.
    where = "all centres" if shape is SQUARE else "all lines"
    ball = made({**shape, "where": where, "rows": "until neighbours: 1 navy"}, "C8" if shape is SQUARE else "S8+obi")
    motif, others = ball.motifs[0], ball.motifs[1:]
    longer = made({**shape, "where": where, "rows": f"{len(motif.rows) + 1} navy"}, ball.marking.division).motifs[0]
    left = []
    for row, thread in zip(longer.rows, settled(longer.rows)):
        parts = [between(chain[:-1], chain[1:], share) for chain in thread.chains for share in np.linspace(0, 1, 200)]
        points = np.concatenate(parts) @ longer.frame.T
        left.append(_room(points, longer, others) - row.pitch / 2)
    assert all(room >= -1e-9 for room in left[:-1])
    assert left[-1] < 0


def _room(points: Points, motif: Motif, others: Sequence[Motif]) -> float:
    """Least distance to where a neighbour is as near as the motif's own middle, or its own line."""
    if motif.site.kind == "arc":
        own = np.arcsin(np.abs(points @ motif.frame[:, 1]))
        beside = [np.arcsin(np.abs(points @ other.frame[:, 1])) for other in others]
        near = [np.where(points @ other.middle > 0, one, 9.0) for one, other in zip(beside, others)]
        return float((np.min(near, axis=0) - own).min() / 2)
    normals = np.stack([motif.middle - other.middle for other in others])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    return float(np.arcsin(points @ normals.T).min())


def test_threads_round_the_whole_ball_have_no_until() -> None:
    with pytest.raises(DesignError, match='"until edge" means nothing where every thread goes round the whole ball'):
        made({"technique": "basket", "where": "ball", "rows": "until edge: 1 navy"}, around="400 mm")


def test_like_places_with_unlike_counts_are_a_finding_that_names_them() -> None:
    ball = made({**SQUARE, "where": "all centres", "rows": "6 navy"}, "C8")
    assert not list(uneven_rows(ball))
    odd = [ball.motifs[0], *ball.motifs[1:]]
    shorter = [*odd[:3], _cut(odd[3], 3), *odd[4:]]
    (finding,) = uneven_rows(_with(ball, tuple(shorter)))
    assert finding.address == odd[3].place
    assert "6 rows at most of its like places and 3 rows" in finding.sentence
    assert not list(uneven_rows(_with(ball, (*odd[:3], _cut(odd[3], 5), *odd[4:]))))


def _cut(motif: Motif, rows: int) -> Motif:
    return replace(motif, rows=motif.rows[:rows], threads=motif.threads[:rows])


def _with(ball: Build, motifs: tuple[Motif, ...]) -> Build:
    return replace(ball, motifs=motifs)


def test_each_row_is_asked_once(monkeypatch: pytest.MonkeyPatch) -> None:
    # The search stitches 8, 16, 32 … rows, but lays and asks each of them once, and none after the first that is over.
    asked: list[float] = []

    def counted(seat: Seat, others: Sequence[Seat], thread: Settled) -> float:
        asked.append(clearance(seat, others, thread))
        return asked[-1]

    monkeypatch.setattr(fit, "clearance", counted)
    ball = made({**SQUARE, "where": "N and S", "rows": "until neighbours: 1 navy"}, "S8+obi")
    # N and S number their lines apart, so each is a sort of place of its own.
    assert len(asked) == 2 * (len(ball.motifs[0].rows) + 1)
    assert len(ball.motifs[0].rows) > 16


def test_rows_that_go_inward_never_step_over_their_middle() -> None:
    # The target is nearer to the middle than one step, so a row could come to lie beyond both.
    params = {"corners": 3, "at": "18 mm", "grow": "inward"}
    for target in ("0.3 mm", "0.5 mm", "0.8 mm"):
        layer = {"technique": "polygon", "where": "all triangles", "params": params}
        ball = made({**layer, "rows": f"until {target} from centre: 1 navy"}, "C8")
        distance = [float(np.arccos(row.places[0][2])) for row in ball.motifs[0].rows]
        assert all(np.diff(distance) < 0)
        assert len(distance) < 40
