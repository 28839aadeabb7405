"""Net: rings of zigzag that overlap."""

import numpy as np
import pytest

from polestitch.document.design import Maker
from polestitch.pipeline import build
from polestitch.stitching.techniques.net import Params, stitch
from tests.stitching.crafts import design_of
from tests.stitching.sites import site


def test_each_row_overlaps_the_former_one_by_the_share_asked() -> None:
    # Published: rows of zigzag, each overlapping the former (temarikai.com glossary, on net).
    mm = 250.0 / (2 * np.pi)
    one, two = ([*np.arccos(row.places[:, 2]) * mm] for row in stitch(site("centre", 250.0, 12), Params(), [0.01] * 2))
    assert max(one) - min(two) == pytest.approx(8.0 / 3)


def test_a_rows_inner_bites_stand_where_the_former_had_its_outer_ones() -> None:
    one, two = stitch(site("centre", 250.0, 12), Params(), [0.01] * 2)
    far, near = np.arccos(one.places[:, 2]), np.arccos(two.places[:, 2])
    assert np.array_equal(far > far.mean(), near < near.mean())


def test_every_mesh_is_closed() -> None:
    # On each of twelve lines a tip of one row and a tip of the next make one mesh: their legs cross twice.
    design = design_of("net", "S12", rows="2 white")
    fine = design.model_copy(update={"maker": Maker.model_validate({"bite": "0.5 mm"})})
    made = build(fine)
    rows = made.laid.arc_row
    between = rows[made.crossings.first] != rows[made.crossings.second]
    assert np.count_nonzero(between) == 2 * 12
