"""Thread widths and weights, held against published figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.document.colours import Colour
from polestitch.document.design import Thread
from polestitch.document.threads import (
    PEIRCE_MM,
    SIZES,
    TEX_FROM_NE,
    diameter_mm,
    pitch_mm,
    tex_of,
)
from polestitch.errors import DesignError


def thread(size: str = "pearl 5", rows_per_cm: float | None = None, tex: float | None = None) -> Thread:
    return Thread(name="navy", colour=Colour("#1d2b45"), size=size, rows_per_cm=rows_per_cm, tex=tex)


def test_her_own_measure_comes_before_tex_and_tex_before_size() -> None:
    assert pitch_mm(thread("pearl 3", 12.5, 200)).mm == pytest.approx(0.8)
    assert pitch_mm(thread("pearl 3", None, 100)).mm == pytest.approx(0.374241, abs=1e-6)
    assert "measured" in pitch_mm(thread("pearl 3", 12.5, 200)).source


def test_published_gauges_of_pearl_cotton() -> None:
    # Published thread gauges, temarikai.com/ResourcesPages/threadgauges.html: 7 threads of size 5 in 0.5 cm,
    # 2 of size 8 in 1 mm.  Another maker's rule, sudukc.wordpress.com: one round of 3 is about two of 5.
    assert pitch_mm(thread("pearl 5")).mm == pytest.approx(5 / 7)
    assert pitch_mm(thread("pearl 8")).mm == pytest.approx(1 / 2)
    assert pitch_mm(thread("pearl 3")).mm == pytest.approx(2 * 5 / 7)


def test_published_gauges_of_floss_and_metallic() -> None:
    # The same page: 3 strands of floss in 1 mm, one thick metallic in 1 mm.
    assert pitch_mm(thread("floss 3 strands")).mm == pytest.approx(1)
    assert pitch_mm(thread("thick metallic")).mm == pytest.approx(1)


def test_a_size_without_a_source_says_so() -> None:
    assert pitch_mm(thread("fine metallic")).source == "common practice, no source"


@pytest.mark.parametrize("spelling", ["Pearl 5", "perle 5", "pearl cotton 5", "pearl cotton no. 5", " PEARL  size 5 "])
def test_pearl_cotton_is_known_by_all_its_names(spelling: str) -> None:
    assert pitch_mm(thread(spelling)) == SIZES["pearl 5"]


def test_every_size_says_where_its_width_comes_from() -> None:
    assert all(pitch.source and 0.1 < pitch.mm < 3 for pitch in SIZES.values())


# Peirce, "The geometry of cloth structure", J. Textile Inst. 28 (1937) T45 (paper not seen): with a specific
# volume of 1.1 cm3/g, d[mm] = 0.0374241 sqrt(tex); rounded by him to d = 1/28 inch over sqrt(Ne).
def test_the_constant_of_peirce_is_the_published_one() -> None:
    assert pytest.approx(0.0374241, abs=5e-8) == PEIRCE_MM


def test_peirce_in_inches_is_one_28th_within_a_quarter_per_cent() -> None:
    assert diameter_mm(TEX_FROM_NE) == pytest.approx(25.4 / 28, rel=0.003)


# Diameters at packing 0.6 and 1.52 g/cm3 (cotton, from memory), recomputed to two decimals.
@pytest.mark.parametrize(("tex", "mm"), [(333, 0.68), (200, 0.53), (125, 0.42), (83, 0.34), (27, 0.19)])
def test_diameters_agree_with_the_packing_model(tex: float, mm: float) -> None:
    assert diameter_mm(tex) == pytest.approx(mm, abs=0.006)


# tex = den/9 = dtex/10 = 1000/Nm = 590.54/Ne, a thread maker's technical bulletin on thread numbering
# (coats.com, Bulletin 05); a plied count is the count of one ply over the plies (same bulletin).
@pytest.mark.parametrize(
    ("size", "tex"),
    [
        ("tex 27", 27),
        ("27 tex", 27),
        ("270 dtex", 27),
        ("240 den", 26.6667),
        ("240 denier", 26.6667),
        ("Nm 40", 25),
        ("Nm 80/2", 25),
        ("Nm 30/2", 66.6667),
        ("Ne 1", 590.5412),
        ("Ne 5/2", 236.2165),
        ("Ne 8/2", 147.6353),
        ("ne 12/2", 98.4235),
    ],
)
def test_thread_counts_turn_into_tex(size: str, tex: float) -> None:
    assert tex_of(size) == pytest.approx(tex, abs=6e-5)
    assert pitch_mm(thread(size)).mm == pytest.approx(diameter_mm(tex), rel=1e-5)


def test_the_cotton_count_is_exact() -> None:
    # One pound is 453.59237 g and a yard 0.9144 m by definition; a hank of cotton is 840 yd.
    assert pytest.approx(590.5412474482, abs=1e-9) == TEX_FROM_NE


@pytest.mark.parametrize("size", ["pearl", "tex", "tex 0", "Ne 0/2", "Nm 5/", "tex 9999999", "5/2", "", "Ne 0.0000001"])
def test_what_is_no_count_has_no_tex(size: str) -> None:
    assert tex_of(size) is None


def test_an_unknown_size_lists_the_known_ones_and_the_remedy() -> None:
    with pytest.raises(DesignError) as caught:
        pitch_mm(thread("pearl 55"), "threads[0].size")
    assert caught.value.where == "threads[0].size"
    assert "did you mean pearl 5" in caught.value.what
    assert "pearl 12" in caught.value.what
    assert "count the threads in one centimetre" in caught.value.what


@given(st.floats(1, 2000), st.floats(1.01, 4))
def test_a_heavier_thread_is_wider_by_the_root(tex: float, times: float) -> None:
    assert diameter_mm(tex * times) == pytest.approx(diameter_mm(tex) * times**0.5)
