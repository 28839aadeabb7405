"""The winding plan against published balls, and what her own balls teach it."""

import itertools
import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from polestitch.errors import DesignError
from polestitch.winding import CORES, WRAPS, Entry, entries_of, learned, winding
from polestitch.winding.plan import TURN, shell_cm3
from polestitch.winding.told import winding_json
from tests.test_summary import DOCS, keys

YARD_M = 0.9144  # exact


def test_hulls_weigh_a_pound_a_gallon() -> None:
    """http://www.temarikai.com/HowToPages/ricehulls.html: 1 lb is about 1 US gallon, loose."""
    loose = 453.59237 / 3785.411784
    core = CORES["hulls"]
    assert core.loose is not None
    assert core.density.low <= loose * core.loose <= core.density.high


@pytest.mark.parametrize(("across_mm", "grams"), [(80, 80), (100, 110)])
def test_balls_weigh_what_is_published(across_mm: float, grams: float) -> None:
    """8 cm: 80 g, 10 cm: 110 g, hull and cotton cores (http://temari-cat.blogspot.com/, 2008 and 2009)."""
    plan = winding(math.pi * across_mm)
    assert plan.grams.low <= grams <= plan.grams.high


def test_thread_for_a_small_foam_ball_is_about_what_is_published() -> None:
    """250 yd of sewing thread on a 2.5 in foam ball over yarn; others say one to two spools."""
    plan = winding(math.pi * (63.5 + 12), "foam", math.pi * 63.5)
    thread = plan.stops[-1]
    assert thread.metres is not None
    assert thread.metres.low <= 250 * YARD_M <= thread.metres.high


@pytest.mark.parametrize(("across_mm", "cup_ml"), [(38, 50), (180, 4000)])
def test_hulls_by_the_cup(across_mm: float, cup_ml: float) -> None:
    """50 ml for a ball of 3.8 cm and 4,000 ml for 18 cm (two Japanese makers' pages): within a third either way."""
    wraps = ("sewing thread",) if across_mm < 50 else ("thick yarn", "thin yarn", "sewing thread")
    core = math.pi * (across_mm - (2 if across_mm < 50 else 12.5))
    plan = winding(math.pi * across_mm, "hulls", core, wraps)
    assert plan.core_ml is not None
    assert 2 / 3 <= plan.core_ml / cup_ml <= 4 / 3


@given(wanted=st.floats(150, 600), share=st.floats(0.3, 0.75))
@settings(max_examples=50)
def test_shells_fill_the_ball(wanted: float, share: float) -> None:
    plan = winding(wanted, "soft", wanted * share)
    edges = [plan.core_mm, *(stop.around_mm for stop in plan.stops)]
    assert edges == sorted(edges)
    assert edges[-1] == pytest.approx(wanted)
    whole = sum(shell_cm3(a, b) for a, b in itertools.pairwise(edges)) + shell_cm3(0, plan.core_mm)
    assert whole == pytest.approx(4 / 3 * math.pi * (wanted / TURN / 10) ** 3)
    assert all(stop.thickness_mm >= stop.material.least_mm - 1e-9 for stop in plan.stops)
    assert all(stop.metres.likely * stop.material.tex / 1000 == pytest.approx(stop.grams.likely)
               for stop in plan.stops if stop.metres and stop.material.tex)  # fmt: skip


def test_a_core_too_large_is_refused_with_what_would_fit() -> None:
    with pytest.raises(DesignError, match="at most 224 mm round"):
        winding(250, "foam", 245)
    with pytest.raises(DesignError, match="hulls, foam"):
        winding(250, "lead")


def test_her_own_balls_narrow_the_estimate() -> None:
    true = 0.40
    wound = ((180, 215), (200, 240), (170, 215), (190, 230))
    entries = [Entry("thick yarn", a, b, true * shell_cm3(a, b)) for a, b in wound]
    first, known = WRAPS["thick yarn"].density, learned(entries)["thick yarn"]
    assert abs(math.log(known.likely / true)) < abs(math.log(first.likely / true)) / 3
    assert known.high / known.low < first.high / first.low
    assert known.low < true < known.high
    few = learned(entries[:1])["thick yarn"]
    assert known.high / known.low < few.high / few.low


def test_a_log_in_any_habit_is_read_and_mistakes_have_a_place() -> None:
    head, *rows = (
        "\ufeffMaterial;After;Before;Metres;Grams",
        "thin yarn;20,4 cm;190;;14,5",
        "Sewing thread;250;244;300;",
    )
    one, other = entries_of("\r\n".join([head, *rows]).encode(), "log")
    assert (one.before_mm, one.after_mm, one.grams) == (190, 204, 14.5)
    assert other.grams == pytest.approx(300 * 27 / 1000)
    wrong = {"lead,1,2,3,": "lead", "thin yarn,200,180,3,": "must be more", "thin yarn,180,200,,": "neither"}
    for row, part in wrong.items():
        with pytest.raises(DesignError, match=part):
            entries_of(f"material,before,after,grams,metres\n{row}\n".encode(), "log")


def test_small_balls_and_hulls_carry_their_cautions() -> None:
    said = " ".join(winding(100, "hulls", 60, ("thin yarn", "sewing thread")).cautions)
    assert "fingers" in said
    assert "heat" in said
    assert "rules for toys" in said


def test_the_docs_name_every_key() -> None:
    part = next(part for part in DOCS.read_text(encoding="utf-8").split("\n## ") if "winding --around" in part)
    assert set(keys(winding_json(winding(250)))) == set(re.findall(r"^\| `([^`]+)` \|", part, re.MULTILINE))
