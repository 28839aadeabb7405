"""Rules that hold for every technique there is, and for every one that will be added."""

from math import gcd
from typing import Any

import numpy as np
import pytest
from pydantic import ValidationError

from polestitch.document.design import Design
from polestitch.errors import DesignError
from polestitch.fit import rows_until
from polestitch.laying.laid import Laid
from polestitch.laying.lay import lay
from polestitch.marking.divisions import marked
from polestitch.sphere.arcs import Points
from polestitch.stitching.motifs import Motif, motifs
from polestitch.stitching.schedule import schedule
from polestitch.stitching.stitches import Row
from polestitch.stitching.technique import Technique, names, technique
from tests.laying.balls import AROUND_MM, ball_of_design

A_ROUNDING = 1e-12
COARSE_AND_FINE = {
    "centre": (["S3", "S64", "C6", "C10"], "N"),
    "arc": (["S2", "S64", "C4", "C10"], "line 1"),
    "circle": (["S2+obi", "S64", "C4", "C10"], "obi"),
    "poles": (["S3", "S64", "C6", "C10"], "N"),
    "ball": (["S3", "S64", "C6", "C10"], "ball"),
}


def design(name: str, division: str, where: str, **changes: Any) -> Design:
    """A ball with the technique's own example, on another division if asked."""
    example = technique(name).EXAMPLE
    layer = {"name": "one", "technique": name, "where": where, "rows": example["rows"], "params": example["params"]}
    return Design.model_validate(
        {
            "name": "example",
            "ball": {"around": f"{AROUND_MM} mm"},
            "threads": [{"name": n, "colour": "#345"} for n in ("navy", "white", "gold")],
            "marking": {"division": division},
            "layers": [{**layer, **changes}],
        }
    )


def stitched(made: Design) -> tuple[tuple[Motif, ...], Laid]:
    """Motifs and their laid thread."""
    marking = marked(made.marking.division)
    worked = motifs(made, marking, ball_of_design(made), rows_until)
    return worked, lay(worked, schedule(made.layers, worked))


@pytest.fixture(params=names())
def name(request: pytest.FixtureRequest) -> str:
    """Every technique in turn."""
    return str(request.param)


@pytest.fixture
def craft(name: str) -> Technique:
    """Its module."""
    return technique(name)


def test_it_says_what_it_is_in_one_sentence(craft: Technique) -> None:
    first = craft.__doc__.split("\n\n")[0].replace("\n", " ")
    assert first.endswith(".")
    assert len(first) < 140


def test_every_parameter_has_a_description_and_a_default(craft: Technique) -> None:
    for field in craft.Params.model_fields.values():
        assert field.description
        assert not field.is_required()


def test_its_params_refuse_words_they_do_not_know(craft: Technique) -> None:
    with pytest.raises(ValidationError):
        craft.Params.model_validate({"no such word": 1})


def test_the_example_is_laid_on_the_ball(name: str, craft: Technique) -> None:
    worked, laid = stitched(design(name, craft.EXAMPLE["division"], craft.EXAMPLE["where"]))
    assert len(worked) == 1
    assert np.linalg.norm(laid.start, axis=1) == pytest.approx(1.0)
    assert np.all(laid.sweep > 0)
    assert np.all(np.isfinite(laid.normal))


def test_no_row_is_empty_and_rows_count_from_one(name: str, craft: Technique) -> None:
    (motif,), laid = stitched(design(name, craft.EXAMPLE["division"], craft.EXAMPLE["where"]))
    assert [row.number for row in motif.rows] == list(range(1, len(motif.rows) + 1))
    assert np.all(np.bincount(laid.arc_row, minlength=len(motif.rows)) > 0)


def test_every_row_closes(name: str, craft: Technique) -> None:
    (motif,), laid = stitched(design(name, craft.EXAMPLE["division"], craft.EXAMPLE["where"]))
    for index, row in enumerate(motif.rows):
        starts, ends = ends_of_legs(laid, index)
        if row.turn is not None:
            assert ends == pytest.approx(starts, abs=A_ROUNDING)
            continue
        legs = len(row.places) if row.closed else len(row.places) - 1
        assert len(row.spokes) == len(row.places) >= (2 if row.up is None else 1)
        assert starts == pytest.approx(row.leaves[:legs] @ motif.frame.T, abs=A_ROUNDING)
        # Each leg ends where the next bite goes in, the last one at the bite the row began with.
        assert ends == pytest.approx(np.roll(row.enters, -1, axis=0)[:legs] @ motif.frame.T, abs=A_ROUNDING)


def ends_of_legs(laid: Laid, row: int) -> tuple[Points, Points]:
    """(s, 3) where the legs of a row start and end on the ball."""
    spans = np.flatnonzero(laid.span_row == row)
    first, last = (np.searchsorted(laid.arc_span, spans, side=side) for side in ("left", "right"))
    arc = (last - 1).astype(np.int32)
    return laid.start[first], laid.at(arc, laid.sweep[arc])


def turned(row: Row) -> float:
    """How often a row goes round its middle to the right before it is back at its first bite."""
    azimuth = np.arctan2(row.places[:, 1], row.places[:, 0])
    return float(np.mod(np.roll(azimuth, -1) - azimuth, 2 * np.pi).sum() / (2 * np.pi))


def test_every_row_comes_home_after_its_laps_and_not_before(name: str, craft: Technique) -> None:
    (motif,), _ = stitched(design(name, craft.EXAMPLE["division"], craft.EXAMPLE["where"]))
    for row in motif.rows:
        # Strokes begin anew each time; two bites lead there and back; a path over the ball has no middle.
        if row.closed and row.up is None and len(row.places) > 2 and craft.PLACE in ("centre", "poles", "circle"):
            assert turned(row) == pytest.approx(row.laps)
            assert len(np.unique(np.round(row.places, 6), axis=0)) == len(row.places)


STEPPED = [(k, s) for k in (5, 6, 7, 8, 9, 10, 12, 15) for s in (1, 2, 3, 4) if 2 * s < k]


@pytest.mark.parametrize("name", ["star", "sakasa", "uwagake"])
@pytest.mark.parametrize(("marks", "step"), STEPPED)
def test_laps_go_by_the_greatest_common_divisor(name: str, marks: int, step: int) -> None:
    # Number theory: a step of s among k marks is back after k / gcd(k, s) of them, in s / gcd(k, s) rounds.
    craft = technique(name)
    given = {"star": {"points": marks, "step": step}, "sakasa": {"corners": marks, "step": step}}
    params = {**craft.EXAMPLE["params"], **given.get(name, {"step": step})}
    asked = design(name, f"S{marks}", "N", params=params)
    if name == "star" and step == 1:
        with pytest.raises(DesignError, match="step"):
            stitched(asked)
        return
    (motif,), _ = stitched(asked)
    visits, rounds = marks // gcd(marks, step), step // gcd(marks, step)
    # Uwagake takes an outer bite and an inner one by turns: an odd number of visits asks for as many rounds again.
    twice = 2 if name == "uwagake" and visits % 2 else 1
    for row in motif.rows:
        assert (len(row.places), row.laps) == (twice * visits, twice * rounds)
        assert turned(row) == pytest.approx(twice * rounds)


def test_it_is_laid_the_same_way_twice(name: str, craft: Technique) -> None:
    one, two = (stitched(design(name, craft.EXAMPLE["division"], craft.EXAMPLE["where"]))[1] for _ in range(2))
    assert one.start.tobytes() == two.start.tobytes()
    assert one.sweep.tobytes() == two.sweep.tobytes()


def test_it_survives_the_coarsest_and_the_finest_division_or_says_why_not(name: str, craft: Technique) -> None:
    divisions, where = COARSE_AND_FINE[craft.PLACE]
    for division in divisions:
        try:
            stitched(design(name, division, where))
        except DesignError as error:
            refusal = error
        else:
            continue
        assert refusal.where.startswith("layers[0].")
        assert "divide" in refusal.what or "off the guideline" in refusal.what


def test_a_wrong_parameter_is_a_design_error_with_its_path(name: str, craft: Technique) -> None:
    with pytest.raises(DesignError) as caught:
        stitched(design(name, craft.EXAMPLE["division"], craft.EXAMPLE["where"], params={"colour": "red"}))
    assert caught.value.where == "layers[0].params.colour"
    assert "it has" in caught.value.what


def test_a_left_handers_work_is_the_mirror_image(name: str, craft: Technique) -> None:
    right = design(name, craft.EXAMPLE["division"], craft.EXAMPLE["where"])
    left = right.model_copy(update={"maker": right.maker.model_copy(update={"hand": "left"})})
    ours, theirs = stitched(right)[1], stitched(left)[1]
    mirror = np.diag([1.0, -1.0, 1.0])
    if craft.PLACE == "centre":
        assert theirs.start == pytest.approx(ours.start @ mirror, abs=1e-12)
    assert theirs.length.sum() == pytest.approx(ours.length.sum())


def test_an_unknown_technique_is_refused_with_the_nearest_names() -> None:
    with pytest.raises(DesignError, match="did you mean spindle"):
        technique("spindel")
