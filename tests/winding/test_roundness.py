"""Roundness against exact perimeters of ellipses, the volume of ellipsoids, and tables of chi-squared."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipe

from polestitch.ball.measured import Roundness
from polestitch.errors import DesignError
from polestitch.winding.round_told import roundness_json
from polestitch.winding.roundness import Shape, shape
from tests.test_summary import DOCS, keys

# Slightly out of round: semi-axes of an ellipsoid in mm, and the turn of its wide side.
AXES = st.tuples(st.floats(38, 42), st.floats(38, 42), st.floats(38, 42), st.floats(0, math.pi))


def perimeter(a: float, b: float) -> float:
    """Way round an ellipse, exactly: 4 a E(m); scipy's own page checks 4 * 3.5 * ellipe(...) = 17.868899204378693."""
    high, low = max(a, b), min(a, b)
    return 4 * high * float(ellipe(1 - (low / high) ** 2))


def test_the_perimeter_is_the_published_one() -> None:
    assert perimeter(3.5, 2.1) == pytest.approx(17.868899204378693, rel=1e-14)


def readings(axes: tuple[float, float, float, float], ways: int) -> tuple[tuple[float, ...], float]:
    """Exact ways round an ellipsoid: over the poles in ``ways`` directions, and round the obi."""
    a, b, c, turn = axes
    side = (math.pi * k / ways - turn for k in range(ways))
    radii = [a * b / math.hypot(b * math.cos(at), a * math.sin(at)) for at in side]
    return tuple(perimeter(radius, c) for radius in radii), perimeter(a, b)


def measured(over_poles: tuple[float, ...], *obi: float) -> Roundness:
    both = (*over_poles, *obi)
    return Roundness(250, sum(both) / len(both) if both else 250, over_poles, obi)


def found(axes: tuple[float, float, float, float], ways: int, off_by_mm: float = 1.0) -> Shape:
    over_poles, obi = readings(axes, ways)
    return shape(measured(over_poles, obi), off_by_mm)


@given(AXES, st.integers(3, 6))
@settings(max_examples=60)
def test_the_shape_of_an_ellipsoid_comes_back(axes: tuple[float, float, float, float], ways: int) -> None:
    """Right but for second order in how far it is out, which at 3 % is 0.03 mm, and 0.25 mm at 10 %."""
    out = max(axes[:3]) - min(axes[:3])
    second = 0.6 * out**2 / 40 + 0.005
    told = found(axes, ways)
    assert told.out_mm.likely == pytest.approx(out, abs=second)
    assert max(spot.add_mm for spot in told.spots) == pytest.approx(told.out_mm.likely)
    assert min(spot.add_mm for spot in told.spots) == pytest.approx(0)
    poles = told.spots[0]
    assert poles.name == "N and S"
    assert told.radius_mm + poles.off_mm == pytest.approx(axes[2], abs=second)


@given(AXES)
@settings(max_examples=40)
def test_what_lacks_is_the_ball_less_the_ellipsoid(axes: tuple[float, float, float, float]) -> None:
    """4/3 pi (r³ - abc), to second order in how far it is out."""
    a, b, c, _ = axes
    lacks = 4 / 3 * math.pi * (max(a, b, c) ** 3 - a * b * c) / 1000
    told = found(axes, 4)
    assert told.lacking_cm3 == pytest.approx(lacks, abs=max(3.5, 0.13 * lacks))


def test_where_it_is_wide_is_found() -> None:
    told = found((41, 39, 40, math.radians(25)), 3)
    assert told.turn is not None
    assert math.degrees(told.turn) == pytest.approx(25, abs=1.5)
    assert "25° right of line 1" in told.spots[1].name or "24° right" in told.spots[1].name
    # Two ways only know line 1 and the way across it.
    across = found((41, 39, 40, 0.0), 2)
    assert [spot.name for spot in across.spots] == [
        "N and S",
        "the obi on line 1, and opposite",
        "the obi 90° right of line 1, and opposite",
    ]


def test_a_spheroid_is_told_by_one_way_and_the_obi() -> None:
    over, obi = perimeter(40, 38), perimeter(40, 40)
    told = shape(measured((over,), obi))
    assert [spot.name for spot in told.spots] == ["N and S", "the obi all round"]
    assert told.spots[0].add_mm == pytest.approx(2, abs=0.03)


@given(AXES, st.permutations(range(3)))
@settings(max_examples=30)
def test_turning_the_first_line_turns_the_answer_and_nothing_else(
    axes: tuple[float, float, float, float], order: list[int]
) -> None:
    one, other = found(axes, 3), found((*axes[:3], (axes[3] + math.pi * order[0] / 3) % math.pi), 3)
    assert other.out_mm.likely == pytest.approx(one.out_mm.likely)
    assert other.lacking_cm3 == pytest.approx(one.lacking_cm3)


def test_the_range_is_as_wide_as_the_scatter_of_many_balls() -> None:
    """Readings off at random: the standard deviation told is that of what is found (numpy's own generator)."""
    import numpy as np

    chance = np.random.default_rng(7)
    over, obi = readings((40.5, 39.5, 38.5, 0.3), 3)
    told = shape(measured(over, obi))
    outs = []
    for _ in range(400):
        off = chance.normal(0, 1, 4)
        shaken = tuple(mm + by for mm, by in zip(over, off[:3].tolist(), strict=True))
        outs.append(shape(measured(shaken, obi + float(off[3]))).out_mm.likely)
    told_deviation = (told.out_mm.high - told.out_mm.likely) / 2
    assert float(np.std(outs)) == pytest.approx(told_deviation, rel=0.15)


def test_what_reading_alone_can_make_is_not_called_out_of_round() -> None:
    """Chi-squared at 95 %: 3.841 for one degree of freedom, 7.815 for three (any printed table, from memory)."""
    pair, four = math.sqrt(2 * 3.841), math.sqrt(7.815)
    for off_by in (0.5, 1.0, 2.0):
        for factor, certain in ((0.999, False), (1.001, True)):
            assert shape(measured((250.0,), 250.0 + pair * factor * off_by), off_by).certain is certain
            side = four * factor * off_by / 2
            told = shape(measured((250 + side, 250 - side, 250 + side), 250 - side), off_by)
            assert told.certain is certain


def test_a_round_ball_needs_nothing_and_a_doubtful_one_is_measured_again() -> None:
    told = roundness_json(shape(measured((250.0, 250.5, 250.0), 250.5)))
    assert (told["verdict"], told["add"]) == ("round", None)
    doubtful = roundness_json(shape(measured((250.0, 251.0), 253.0), 2.0))
    assert (doubtful["verdict"], doubtful["add"]) == ("unsure", None)
    assert "once more" in " ".join(doubtful["said"])
    lone = roundness_json(shape(measured((250.0,))))
    assert lone["verdict"] == "too few"


def test_what_is_added_is_weighed_and_the_design_is_asked() -> None:
    told = roundness_json(shape(measured((252.0, 248.0, 250.0), 244.0)), [("petals", "before the obi", 0.5)])
    assert told["verdict"] == "pad"
    assert not told["bears"]["holds"]
    assert '"petals"' in told["bears"]["said"]
    assert told["add"]["material"] == "thin yarn"
    assert told["add"]["grams"]["likely"] == pytest.approx(0.36 * told["add"]["cm3"], rel=0.01)
    fine = roundness_json(shape(measured((252.0, 248.0, 250.0), 244.0)), [("petals", "before the obi", 5.0)])
    assert fine["bears"]["holds"]


def test_the_mean_of_the_model_is_the_mean_of_the_ball() -> None:
    """Integrated over the ball, what the poles have more the obi has less: the shape adds no volume of its own."""
    told = found((41, 39, 38, 0.7), 4)
    poles = told.spots[0].off_mm
    over, _ = quad(lambda z: poles * (3 * z * z - 1) / 2, -1, 1)
    assert over == pytest.approx(0, abs=1e-12)
    assert sum(spot.off_mm for spot in told.spots) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("readings_", [((250.0,), ()), ((), (250.0, 258.0))])
def test_one_way_however_often_says_nothing_of_roundness(
    readings_: tuple[tuple[float, ...], tuple[float, ...]],
) -> None:
    over, obi = readings_
    told = roundness_json(shape(measured(over, *obi)))
    assert (told["verdict"], told["add"]) == ("too few", None)
    assert "two directions" in told["said"][0]


def test_readings_that_contradict_each_other_are_told() -> None:
    told = roundness_json(shape(measured((256.0, 250.0), 246.0, 252.0)))
    # Least squares put the obi at the mean of its two readings: each is 3 mm off it, and one reading is to spare.
    assert told["left_mm"] == pytest.approx(math.sqrt(18), abs=0.01)
    assert "contradict" in " ".join(told["said"])
    assert "contradict" not in " ".join(roundness_json(shape(measured((256.0, 250.0), 249.0, 249.5)))["said"])


def test_nothing_measured_is_told() -> None:
    with pytest.raises(DesignError, match="measure round the ball first"):
        shape(measured(()))


def test_the_docs_name_every_key() -> None:
    part = next(part for part in DOCS.read_text(encoding="utf-8").split("\n## ") if "roundness DESIGN" in part)
    told = roundness_json(shape(measured((252.0, 248.0, 250.0), 244.0, 243.0)), [("petals", "before the obi", 0.5)])
    assert set(keys(told)) == set(re.findall(r"^\| `([^`]+)` \|", part, re.MULTILINE))
