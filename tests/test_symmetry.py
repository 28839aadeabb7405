"""The fourteen kinds of symmetry, made from groups of a general library and found again from laid thread."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from polestitch.laying.laid import Laid
from polestitch.sphere.arcs import Points, unit
from polestitch.sphere.orbifold import cost
from polestitch.symmetry import Tops, symmetry
from tests.builds import BAND, KIKU, SQUARE, built
from tests.laying.hand_laid import Hand

ONE, INVERSION = np.eye(3), -np.eye(3)
LEVEL, UPRIGHT, HALF_TURN = np.diag([1.0, 1, -1]), np.diag([-1.0, 1, 1]), np.diag([1.0, -1, -1])
# A row that has no symmetry of its own.
HOOK = unit(np.array([[0.5, 0.2, 0.8], [0.6, 0.35, 0.6], [0.45, 0.5, 0.7]]))


def turns_of(name: str) -> Points:
    """A rotation group of scipy: T, O, I, C5, D5 …"""
    return np.asarray(Rotation.create_group(name).as_matrix())


def turn(n: int) -> Points:
    return np.asarray(Rotation.from_euler("z", 360 / n, degrees=True).as_matrix())


def doubled(group: Points, flip: Points) -> Points:
    """``group`` and its images under one mirroring."""
    return np.concatenate([group, group @ flip])


def worked(group: Points, threads: int = 1, tilt: int = 4) -> Laid:
    """The hook at every place of a group, the whole ball turned at random; threads by turns."""
    hand, turned = Hand(), Rotation.random(random_state=tilt).as_matrix()
    for k, place in enumerate(group):
        hand.row(HOOK @ (turned @ place).T, thread=k % threads)
    return hand.laid()


def families(n: int) -> dict[str, Points]:
    """The seven families about one axis, as groups for this n."""
    c, d, level_turn = turns_of(f"C{n}"), turns_of(f"D{n}"), turn(2 * n) @ LEVEL
    # scipy's dihedral groups turn over about x, as HALF_TURN does; between its axes lie the mirrors of 2*N.
    between = turn(4 * n) @ UPRIGHT @ turn(4 * n).T if n % 2 == 0 else INVERSION
    return {
        "{n}{n}": c,
        "22{n}": d,
        "{n}*": doubled(c, LEVEL),
        "{n}x": doubled(c, level_turn),
        "*{n}{n}": doubled(c, UPRIGHT),
        "2*{n}": doubled(d, between),
        "*22{n}": doubled(d, LEVEL),
    }


SEVEN = {
    "332": turns_of("T"),
    "432": turns_of("O"),
    "532": turns_of("I"),
    "3*2": doubled(turns_of("T"), INVERSION),
    "*332": doubled(turns_of("T"), turn(4) @ LEVEL),
    "*432": doubled(turns_of("O"), INVERSION),
    "*532": doubled(turns_of("I"), INVERSION),
}
# Order 2/(2 - cost): Conway's rule; the names seen in moebiuscurve.com/notes/spherical-symmetry-patterns.
ORDERS = {"332": 12, "432": 24, "532": 60, "3*2": 24, "*332": 24, "*432": 48, "*532": 120}


@pytest.mark.parametrize("name", SEVEN)
def test_the_seven_single_kinds_are_found(name: str) -> None:
    found = symmetry(worked(SEVEN[name]))
    assert found.orbifold == name
    assert found.order == ORDERS[name] == len(SEVEN[name]) == 2 / (2 - cost(name))
    assert found.mirrored == ("*" in name)


@pytest.mark.parametrize("n", [2, 3, 4, 5, 8, 10])
@pytest.mark.parametrize("family", ["{n}{n}", "22{n}", "{n}*", "{n}x", "*{n}{n}", "2*{n}", "*22{n}"])
def test_the_seven_families_are_found(family: str, n: int) -> None:
    group = families(n)[family]
    found = symmetry(worked(group))
    assert found.orbifold == family.format(n=n if n < 10 else f"({n})")
    assert found.order == len(group) == 2 / (2 - cost(found.orbifold))


def test_lone_mirrorings_and_nothing_at_all_have_names_too() -> None:
    for flip, name in ((LEVEL, "*"), (INVERSION, "x")):
        found = symmetry(worked(doubled(ONE[None], flip)))
        assert (found.orbifold, found.turns, found.mirrored) == (name, 1, True)
    assert symmetry(worked(ONE[None])).orbifold == "1"


@given(st.integers(0, 2**31 - 1), st.sampled_from(["332", "3*2", "*332", "*432"]))
def test_it_does_not_matter_how_the_ball_is_held(seed: int, name: str) -> None:
    assert symmetry(worked(SEVEN[name], tilt=seed)).orbifold == name


def test_colours_leave_what_they_share() -> None:
    # Every second place about a ten-fold axis in another colour: five ways are left.
    laid = worked(turns_of("C10"), threads=2)
    assert symmetry(laid, colours=False).orbifold == "(10)(10)"
    assert symmetry(laid).orbifold == "55"


@pytest.mark.parametrize("off", [1e-7, 1e-2])
def test_only_what_an_eye_can_see_counts(off: float) -> None:
    hand = Hand()
    for k, place in enumerate(turns_of("C6")):
        hand.row(unit(HOOK + (off * UPRIGHT[0] if k == 3 else 0.0)) @ place.T)
    assert symmetry(hand.laid()).orbifold == ("66" if off < 1e-4 else "1")


def test_bands_turn_as_their_circles_do() -> None:
    bare, obi, cross = Hand().laid(), Hand().turn(ONE[2]), Hand()
    for axis in ONE:
        cross.turn(axis, 0.02).turn(axis, -0.02)
    assert symmetry(bare).orbifold == "*∞∞∞"
    assert symmetry(obi.laid()).orbifold == "*22∞"
    assert symmetry(Hand().turn(ONE[2], 0.1).laid()).orbifold == "*∞∞"
    assert symmetry(cross.laid()).orbifold == "*432"
    tilted = unit(ONE[2] + ONE[0])
    assert symmetry(obi.turn(tilted).laid()).orbifold == "*222"
    assert symmetry(obi.turn(ONE[2], 0.2).laid()).orbifold == "*"


def test_stitched_balls_have_the_symmetry_of_their_marking() -> None:
    kiku = built(KIKU)  # four petals round N on eight lines
    assert symmetry(kiku.laid).orbifold == "*44"
    both = built({**KIKU, "where": "N and S"}, BAND)
    assert symmetry(both.laid, colours=False).order == 16
    squares = built({**SQUARE, "where": "all centres"}, division="C8")
    found = symmetry(squares.laid)
    assert (found.orbifold, found.plain) == ("*432", "turns onto itself in 24 ways, and is its own mirror image")


def test_who_lies_on_top_can_tell_a_ball_from_its_mirror_image() -> None:
    kiku = built(KIKU)  # at every bite the right leg lies over the left one
    found = symmetry(kiku.laid, tops=Tops(kiku.crossings, kiku.over))
    assert (found.turns, found.mirrored) == (4, False)
    assert found.plain == "turns onto itself in 4 ways, mirror images differ"
