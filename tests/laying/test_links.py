"""Which rings hold which: linking numbers by the Gauss integral and by a knot library, and links known by name."""

import numpy as np
import pytest
import spherogram
from hypothesis import given, settings
from hypothesis import strategies as st

from polestitch.laying.alexander import holds_together
from polestitch.laying.crossings import Crossings, crossings
from polestitch.laying.diagram import Diagram, diagram
from polestitch.laying.laid import Laid
from polestitch.laying.links import leading_rings, links
from polestitch.laying.weave import UnderRule, over
from polestitch.sphere.arcs import Points, unit
from tests.builds import built
from tests.laying.hand_laid import Hand, scattered
from tests.laying.test_weave import CUBE, SIX

WEAVE = (UnderRule(0, 0, "woven"),)
CORNERS = [(1, 0, 0), (0, 1, 0), (0, 0, 1)]


def bands(normals: Points) -> Laid:
    """A whole turn on every great circle, all of one layer."""
    hand = Hand()
    for normal in normals:
        hand.turn(normal)
    return hand.laid()


def woven(normals: Points) -> tuple[Laid, Crossings, np.ndarray]:
    laid = bands(normals)
    met = crossings(laid)
    return laid, met, over(laid, met, WEAVE)


def lifted(laid: Laid, met: Crossings, flags: np.ndarray, row: int, points: int = 1500) -> Points:
    """A row as a closed curve in space, raised at its overs and lowered at its unders."""
    (arc,) = np.flatnonzero(laid.arc_row == row)
    t = 2 * np.pi * np.arange(points) / points
    height = np.zeros(points)
    for side, upper in ((met.first, ~flags), (met.second, flags)):
        for k in np.flatnonzero(side == arc):
            at = laid.t_of(side[k : k + 1], met.point[k : k + 1])[0]
            gap = (t - at + np.pi) % (2 * np.pi) - np.pi
            height += (0.02 if upper[k] else -0.02) * np.exp(-((gap / 0.03) ** 2))
    return np.asarray(laid.at(np.full(points, arc, dtype=np.int32), t) * (1 + height)[:, None])


def gauss(one: Points, two: Points) -> float:
    """Gauss's double integral over two closed polygons, summed edge by edge as solid angles.

    Formula for two straight edges: Klenin and Langowski 2000, method 1a (from memory).
    """
    a, b = one[:, None], np.roll(one, -1, axis=0)[:, None]
    c, d = two[None], np.roll(two, -1, axis=0)[None]
    r13, r14, r23, r24 = c - a, d - a, c - b, d - b
    faces = [np.cross(r13, r14), np.cross(r14, r24), np.cross(r24, r23), np.cross(r23, r13)]
    faces = [face / np.maximum(np.linalg.norm(face, axis=2), 1e-300)[..., None] for face in faces]
    angles = sum(np.arcsin(np.clip(np.einsum("ijk,ijk->ij", faces[k], faces[(k + 1) % 4]), -1, 1)) for k in range(4))
    turning = np.sign(np.einsum("ijk,ijk->ij", np.cross(d - c, b - a), r13))
    return float((angles * turning).sum() / (4 * np.pi))


def link_of(drawn: Diagram) -> spherogram.Link:
    """The same diagram in a knot library, as its planar diagram code."""
    strand, number = {}, 0
    for ring in range(drawn.count):
        at = sorted([*drawn.upper_at[drawn.upper == ring].tolist(), *drawn.lower_at[drawn.lower == ring].tolist()])
        for k, place in enumerate(at):
            strand[place] = (number + (k - 1) % len(at), number + k)
        number += len(at)
    code = []
    for sign, top, below in zip(drawn.sign.tolist(), drawn.upper_at.tolist(), drawn.lower_at.tolist()):
        (into, out), (above_in, above_out) = strand[below], strand[top]
        # Anticlockwise from the strand that comes in below; at a positive crossing the upper one comes from the right.
        code.append([into, above_in, out, above_out] if sign < 0 else [into, above_out, out, above_in])
    return spherogram.Link([tuple(entry) for entry in code])


NAMED = {"two": np.eye(3)[:2], "three": np.eye(3), "four": CUBE, "six": SIX}


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMED)
def test_linking_numbers_are_those_of_the_gauss_integral(name: str) -> None:
    laid, met, flags = woven(NAMED[name])
    found = links(laid, met, flags)
    curves = [lifted(laid, met, flags, row, 360) for row in found.rings[:4]]
    for one in range(len(curves)):
        for two in range(one):
            assert gauss(curves[one], curves[two]) == pytest.approx(found.numbers[one, two], abs=2e-3)


@pytest.mark.slow
@settings(max_examples=20, deadline=None)
@given(st.integers(0, 2**31 - 1), st.integers(3, 6))
def test_linking_numbers_are_those_of_a_knot_library(seed: int, count: int) -> None:
    laid = bands(scattered(count, seed))
    met = crossings(laid)
    flags = np.random.default_rng(seed).random(len(met)) < 0.5
    drawn = diagram(laid, met, flags, range(count))
    library = np.sort(np.abs(np.array(link_of(drawn).linking_matrix())).ravel())
    assert np.array_equal(np.sort(np.abs(links(laid, met, flags, range(count)).numbers).ravel()), library)


@pytest.mark.slow
@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**31 - 1), st.integers(2, 4))
def test_what_holds_together_is_never_parted_by_a_knot_library(seed: int, count: int) -> None:
    # The library takes a diagram apart by Reidemeister moves, as hands would.
    laid = bands(scattered(count, seed))
    met = crossings(laid)
    flags = np.random.default_rng(seed + 1).random(len(met)) < 0.5
    drawn = diagram(laid, met, flags, range(count))
    link = link_of(drawn)
    link.simplify("global")
    parts = len(link.split_link_diagram()) + link.unlinked_unknot_components
    if holds_together(drawn):
        assert parts == 1
    elif count < 4:  # three great circles or fewer: where nothing holds, the library finds the way out
        assert parts > 1


def determinant(link: spherogram.Link) -> int:
    """|Alexander polynomial at -1| from a planar diagram code, by Fox's colouring equations."""
    code = np.array(link.PD_code())
    same = np.arange(code.max() + 1)
    for _, one, _, two in code:
        same[same == max(same[one], same[two])] = min(same[one], same[two])
    strands = np.unique(same)
    table = np.zeros((len(code), len(strands)))
    for k, (into, over_, out, _) in enumerate(np.searchsorted(strands, same[code])):
        table[k, over_] += 2
        table[k, into] -= 1
        table[k, out] -= 1
    return abs(round(float(np.linalg.det(table[1:, 1:]))))


def test_two_bands_woven_are_a_hopf_link_and_plain_ones_come_apart() -> None:
    laid, met, flags = woven(np.eye(3)[:2])
    found = links(laid, met, flags)
    assert (found.said, abs(found.numbers[0, 1])) == ("all one", 1)
    plain = links(laid, met, over(laid, met))
    assert (plain.said, plain.groups, plain.unsure) == ("separate", (), ())


def test_three_bands_woven_are_borromean() -> None:
    # Pairwise unlinked, yet inseparable; the Borromean rings, L6a4 of the tables, have determinant 16.
    laid, met, flags = woven(np.eye(3))
    found = links(laid, met, flags)
    assert not np.any(found.numbers)
    assert found.borromean == ((0, 1, 2),)
    assert found.said == "all one"
    drawn = diagram(laid, met, flags, (0, 1, 2))
    assert determinant(link_of(drawn)) == determinant(spherogram.Link("L6a4")) == 16
    for pair in ((0, 1), (0, 2), (1, 2)):
        assert links(laid, met, flags, pair).said == "separate"


@pytest.mark.parametrize("name", ["four", "six"])
def test_an_even_weave_links_every_band_with_every_other(name: str) -> None:
    # Over at one of its two crossings and under at the other: linking number 1, either way.
    laid, met, flags = woven(NAMED[name])
    found = links(laid, met, flags)
    assert np.array_equal(np.abs(found.numbers), 1 - np.eye(len(NAMED[name]), dtype=int))
    assert found.said == "all one"
    assert found.borromean == ()


def test_an_odd_weave_of_bands_is_full_of_borromean_threes() -> None:
    laid, met, flags = woven(scattered(5, 4))
    found = links(laid, met, flags)
    assert not np.any(found.numbers)
    assert found.said == "all one"
    assert found.borromean


def test_chains_are_told_from_what_lies_loose_on_them() -> None:
    # Two of four bands woven with each other, the others laid on top one after the other.
    laid = bands(np.concatenate([np.eye(3)[:2], scattered(2, 9)]))
    met = crossings(laid)
    flags = np.ones(len(met), dtype=bool)
    pair = np.flatnonzero((met.first == 0) & (met.second == 1))
    flags[pair[0]] = False
    found = links(laid, met, flags)
    assert (found.said, found.groups, found.unsure) == ("chained", ((0, 1),), ())


def test_interlocked_squares_hold_their_neighbours_like_rings() -> None:
    square = {"technique": "polygon", "where": "all centres", "rows": "2 navy", "params": {"corners": 4, "at": "40 mm"}}
    rule = {"under": [{"layer": "layer 1", "rule": "interlocked"}]}
    made = built({**square, **rule}, division="C8")
    found = links(made.laid, made.crossings, made.over)
    middles = np.stack([motif.middle for motif in made.motifs])
    beside = np.abs(middles @ middles.T) < 0.5  # on C8 each centre has four neighbours, a right angle away
    assert np.array_equal(found.numbers != 0, beside)
    assert len(set(found.numbers[beside].tolist())) == 1
    assert found.said == "all one"
    loose = built(square, division="C8")
    assert links(loose.laid, loose.crossings, loose.over).said == "separate"


def test_every_motif_has_one_ring_to_stand_for_it() -> None:
    made = built({"technique": "band", "where": "all equators", "rows": "2 navy"}, division="C10")
    rings = leading_rings(made.laid)
    assert len(rings) == 6
    assert made.laid.row_motif[list(rings)].tolist() == list(range(6))


def test_an_open_thread_is_no_ring() -> None:
    hand = Hand().row(unit(np.array(CORNERS, dtype=float)[:2] + 0.1)).turn(np.array([0.0, 0, 1]))
    assert leading_rings(hand.laid()) == (1,)
