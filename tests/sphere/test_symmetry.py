import math

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from polestitch.sphere.arcs import arc_angle
from polestitch.sphere.symmetry import all_mirrors, fixed_order, group_rotations, mirror_crossings, triangle_mirrors

# Order of the rotation group (spglib and Coxeter agree on 12, 24, 60), mirrors 3h/2 with Coxeter number h = 4, 6, 10.
GROUPS = {(3, 3, 2): ("T", 12, 6), (4, 2, 3): ("O", 24, 9), (5, 2, 3): ("I", 60, 15)}
ROUNDING = 1e-12


@pytest.mark.parametrize("corners", GROUPS)
def test_mirrors_and_rotations_are_as_many_as_the_group_has(corners: tuple[int, int, int]) -> None:
    _, order, mirrors = GROUPS[corners]
    found = all_mirrors(triangle_mirrors(*corners))
    assert len(found) == mirrors
    assert len(group_rotations(found)) == order


@pytest.mark.parametrize("corners", GROUPS)
def test_the_rotations_turn_by_the_same_angles_as_those_of_scipy(corners: tuple[int, int, int]) -> None:
    ours = Rotation.from_matrix(group_rotations(all_mirrors(triangle_mirrors(*corners))))
    theirs = Rotation.create_group(GROUPS[corners][0])
    assert np.sort(ours.magnitude()) == pytest.approx(np.sort(theirs.magnitude()), abs=1e-9)


@pytest.mark.parametrize("corners", GROUPS)
def test_a_point_s_orbit_and_stabiliser_multiply_to_the_order(corners: tuple[int, int, int]) -> None:
    mirrors = all_mirrors(triangle_mirrors(*corners))
    turns, points = group_rotations(mirrors), mirror_crossings(mirrors)
    for point in points:
        orbit = np.unique(np.round(turns @ point, 6) + 0.0, axis=0)
        assert len(orbit) * fixed_order(turns, point) == len(turns)
        assert all(arc_angle(points, image).min() < 1e-6 for image in orbit)


@pytest.mark.parametrize("corners", [(2, 2, 2), *GROUPS, (7, 2, 2)])
def test_three_mirrors_meet_at_the_angles_asked_for(corners: tuple[int, int, int]) -> None:
    top, along, beside = corners
    first, second, third = triangle_mirrors(*corners)
    assert arc_angle(first, -second) == pytest.approx(math.pi / top, abs=ROUNDING)
    assert arc_angle(first, -third) == pytest.approx(math.pi / along, abs=ROUNDING)
    assert arc_angle(second, -third) == pytest.approx(math.pi / beside, abs=ROUNDING)


def test_every_mirror_maps_the_mirrors_onto_themselves() -> None:
    mirrors = all_mirrors(triangle_mirrors(5, 2, 3))
    for mirror in mirrors:
        images = mirrors - 2 * np.outer(mirrors @ mirror, mirror)
        assert np.abs(images @ mirrors.T).max(axis=1) == pytest.approx(1, abs=ROUNDING)
