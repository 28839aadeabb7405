"""Rose: 2k lines, figures by turns, each just outside the sides of the one before."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.stitching.techniques.rose import Params, stitch
from tests.stitching.sites import site


@pytest.mark.parametrize("corners", [3, 4, 5, 6])
def test_a_figure_of_k_corners_needs_two_k_lines(corners: int) -> None:
    # Published: 6 lines for triangles, 8 squares, 10 pentagons, 12 hexagons
    # (http://www.temarimath.info/investigations/rosegarden/rosegarden.html).
    rows = list(stitch(site("centre", 250.0, 2 * corners), Params(corners=corners), [0.01] * 8))
    assert [len(row.spokes) for row in rows] == [corners] * 8
    assert {row.spokes[0] % 2 for row in rows[:4]} == {1}
    assert {row.spokes[0] % 2 for row in rows[4:]} == {0}
    with pytest.raises(DesignError, match=f"{corners} need {2 * corners} lines"):
        list(stitch(site("centre", 250.0, corners), Params(corners=corners), [0.01]))


def test_the_next_figure_starts_one_thread_outside_the_former_ones_sides() -> None:
    pitch = 0.01
    rows = list(stitch(site("centre", 250.0, 8), Params(), [pitch] * 5))
    corner = np.arccos(rows[3].places[0, 2])
    # Side of a regular spherical polygon: tan(inradius) = tan(circumradius) cos(pi / k), Napier.
    side = np.arctan(np.tan(corner) * np.cos(np.pi / 4))
    assert np.arccos(rows[4].places[:, 2]) == pytest.approx(side + pitch)


def test_it_may_start_inside_and_overlap() -> None:
    pitch = 0.01
    plain, tucked = (
        list(stitch(site("centre", 250.0, 8), Params(inside=k), [pitch] * 5))[4].places[0, 2] for k in (0, 1)
    )
    assert np.arccos(plain) - np.arccos(tucked) == pytest.approx(pitch)


def test_rows_of_each_figure_follow_the_list_and_its_last_number_goes_on() -> None:
    # Published counts 3, 4, 6, then 8 a layer (lilyashesemporium.blogspot.com, rose garden).
    rows = list(stitch(site("centre", 250.0, 8), Params(rows_each=(3, 4, 6, 8)), [0.004] * 29))
    assert np.bincount([row.strand for row in rows]).tolist() == [3, 4, 6, 8, 8]
    assert [row.number for row in rows] == list(range(1, 30))
