"""Her own path."""

from typing import Any

import numpy as np
import pytest

from polestitch.document.design import Design
from polestitch.errors import DesignError
from polestitch.pipeline import Build, build
from polestitch.sphere.arcs import arc_angle


def ball(params: dict[str, Any], **changes: Any) -> Build:
    """A ball with one layer of the path, on S8 unless told otherwise."""
    layer = {"name": "path", "technique": "own_path", "where": "ball", "rows": "3 navy", "params": params}
    design = {
        "name": "path",
        "ball": {"around": "250 mm"},
        "threads": [{"name": "navy", "colour": "#123"}],
        "marking": {"division": changes.pop("division", "S8")},
        "maker": {"hand": changes.pop("hand", "right")},
        "layers": [{**layer, **changes}],
    }
    return build(Design.model_validate(design))


KIKU = [
    {"at": f"line {k}, {'1/3 from obi' if k % 2 else '6 mm'}", "take": "bite" if k % 2 else "wide bite"}
    for k in range(1, 9)
]


def test_a_kiku_written_as_a_path_is_the_kiku_of_the_technique() -> None:
    ours = ball({"path": KIKU})
    theirs = ball({}, technique="uwagake", where="N")
    for mine, known in zip(ours.motifs[0].rows, theirs.motifs[0].rows, strict=True):
        assert mine.places == pytest.approx(known.places @ theirs.motifs[0].frame.T, abs=1e-9)
        assert mine.half == pytest.approx(known.half, abs=1e-9)
        assert mine.narrow.tolist() == known.narrow.tolist()
    assert ours.laid.length.sum() == pytest.approx(theirs.laid.length.sum())


def test_the_next_row_lies_on_the_side_asked_for_by_either_hand() -> None:
    path = [f"line {k}, 1/2" for k in range(1, 9)]  # round N to the right: left is nearer to N
    away = {
        (side, hand): ball({"path": path, "side": side}, hand=hand).motifs[0]
        for side in ("left", "right")
        for hand in ("left", "right")
    }
    for (side, _), motif in away.items():
        first, last = (np.arccos((motif.rows[k].places @ motif.frame.T)[:, 2]) for k in (0, -1))
        assert np.all(last > first) == (side == "right")


def test_a_visit_that_may_not_step_keeps_its_spot() -> None:
    path = [{"at": "line 1, 1/2", "step": False}, *(f"line {k}, 1/2" for k in range(2, 9))]
    rows = ball({"path": path}).motifs[0].rows
    moved = arc_angle(rows[0].places, rows[-1].places)
    assert moved[0] == pytest.approx(0.0, abs=1e-12)
    assert np.all(moved[1:] > 0.01)


def test_a_mark_sends_the_thread_under_what_it_meets_on_the_way() -> None:
    star = ["line 1, 1/2", "line 4, 1/2", "line 7, 1/2", "line 2, 1/2", "line 5, 1/2", "line 8, 1/2", "line 3, 1/2"]
    plain = ball({"path": star}, rows="1 navy")
    marked = ball({"path": [*star[:3], {"at": star[3], "pass": "u"}, *star[4:]]}, rows="1 navy")
    met = marked.laid.arc_span[marked.crossings.second] == 2  # from the third spot to the fourth
    assert met.any()
    assert plain.over[met].all()
    assert marked.over.tolist() == (plain.over & ~met).tolist()


def test_over_and_under_by_turns_follow_the_thread() -> None:
    comb = [spot for k in range(1, 4) for spot in (f"line {k}, 1/3", f"line {k}, 2/3")]
    across = [*comb, {"at": "line 16, 1/2"}, {"at": "line 4, 1/2", "pass": "ou"}]
    made = ball({"path": across, "closed": False}, rows="1 navy", division="S16")
    span = int(made.laid.arc_span.max())
    mine = np.flatnonzero(made.laid.arc_span[made.crossings.second] == span)
    along = mine[np.argsort(made.crossings.t_second[mine])]
    assert len(along) >= 4
    assert made.over[along].tolist() == [k % 2 == 0 for k in range(len(along))]


def test_an_open_path_ends_at_its_last_spot() -> None:
    path = ["N", "line 1, 1/2", "obi 3"]
    rows = ball({"path": path, "closed": False, "side": "stay"}, rows="2 navy")
    assert len(rows.laid.span_row) == 2 * 2


def test_the_last_leg_of_an_open_path_lies_over_its_first() -> None:
    path = ["line 1, 3/4", "line 5, 1/2", "line 8, 3/4", "line 3, 3/4"]
    for closed in (False, True):
        made = ball({"path": path, "closed": closed}, rows="1 navy")
        first, last = made.laid.arc_span[made.crossings.first] == 0, made.laid.arc_span[made.crossings.second]
        met = first & (last == made.laid.arc_span.max())
        assert met.any()
        assert made.over[met].all() != closed  # the leg that closes a row is drawn in under its first


def test_a_pin_leads_the_thread_and_takes_no_bite() -> None:
    path = ["line 1, 1/2", {"at": "line 3, 3/4", "take": "pin"}, "line 5, 1/2", "line 7, 1/2"]
    made = ball({"path": path}, rows="1 navy")
    assert len(made.motifs[0].rows[0].places) == 3
    led = made.laid.start[made.laid.arc_span == 0]
    assert len(led) == 2
    assert np.arccos(led[1][2]) == pytest.approx(0.75 * np.pi / 2)


def test_a_path_repeats_at_like_places_and_is_told_for_the_first() -> None:
    path = [f"line {k} of centre 1, 1/2" for k in (1, 3, 5, 7, 9)]
    made = ball({"path": path}, division="C10", where="all centres", rows="1 navy")
    assert len(made.motifs) == 12
    spots = np.concatenate([motif.rows[0].places @ motif.frame.T for motif in made.motifs])
    assert len(np.unique(np.round(spots, 6), axis=0)) == 60


def test_every_turn_of_the_marking_works_a_lopsided_path_sixty_times() -> None:
    path = ["centre 1 to triangle 1, 1/3", "triangle 1", "diamond 1"]
    made = ball({"path": path}, division="C10", where="every turn", rows="1 navy")
    assert len(made.motifs) == 60


# A pentagon round a centre of C10 comes home after a fifth of a turn: 60 turns leave 12 of it.
# A triangle round a six-way point: 20.
@pytest.mark.parametrize(
    ("path", "left"),
    [
        ([f"line {k} of centre 1, 1/2" for k in (1, 3, 5, 7, 9)], 12),
        ([f"line {k} of triangle 1, 1/2" for k in (1, 3, 5)], 20),
    ],
)
def test_a_symmetric_path_is_worked_once_at_each_place(path: list[str], left: int) -> None:
    made = ball({"path": path}, division="C10", where="every turn", rows="2 navy")
    assert [motif.number for motif in made.motifs] == list(range(1, left + 1))
    spots = np.concatenate([motif.rows[0].places @ motif.frame.T for motif in made.motifs])
    assert len(np.unique(np.round(spots, 6), axis=0)) == len(spots)


@pytest.mark.parametrize(
    ("path", "told"),
    [
        (["N", "N"], "are one spot"),
        (["N", "S"], "lie opposite"),
        (["N", {"at": "obi 1", "take": "pin"}], "two bites"),
        (["N", "quay 7"], "nothing is called"),
    ],
)
def test_a_path_that_cannot_be_laid_is_refused(path: list[Any], told: str) -> None:
    with pytest.raises(DesignError, match=told):
        ball({"path": path})
