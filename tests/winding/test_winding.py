"""The winding plan against published balls, and what her own balls teach it."""

import itertools
import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from polestitch.errors import DesignError
from polestitch.winding import (
    CORES,
    NOISES,
    WRAPS,
    Entry,
    Had,
    Parts,
    entries_of,
    learned,
    made_of,
    outcome,
    parts_of,
    winding,
)
from polestitch.winding.care import cautions, order_said
from polestitch.winding.plan import TURN, capsule_mm, shell_cm3
from polestitch.winding.told import outcome_json, winding_json
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
    plan = winding(math.pi * (63.5 + 12), made_of("foam", math.pi * 63.5))
    thread = plan.stops[-1]
    assert thread.metres is not None
    assert thread.metres.low <= 250 * YARD_M <= thread.metres.high


@pytest.mark.parametrize(("across_mm", "cup_ml"), [(38, 50), (180, 4000)])
def test_hulls_by_the_cup(across_mm: float, cup_ml: float) -> None:
    """50 ml for a ball of 3.8 cm and 4,000 ml for 18 cm (two Japanese makers' pages): within a third either way."""
    wraps = ("sewing thread",) if across_mm < 50 else ("thick yarn", "thin yarn", "sewing thread")
    core = math.pi * (across_mm - (2 if across_mm < 50 else 12.5))
    plan = winding(math.pi * across_mm, made_of("hulls", core, wraps))
    assert plan.core_ml is not None
    assert 2 / 3 <= plan.core_ml / cup_ml <= 4 / 3


@given(wanted=st.floats(150, 600), share=st.floats(0.3, 0.75))
@settings(max_examples=50)
def test_shells_fill_the_ball(wanted: float, share: float) -> None:
    plan = winding(wanted, made_of("soft", wanted * share))
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
        winding(250, made_of("foam", 245))
    with pytest.raises(DesignError, match="hulls, paper hulls, foam"):
        winding(250, made_of("lead"))


def test_her_own_balls_narrow_the_estimate() -> None:
    true = 0.40
    wound = ((180, 215), (200, 240), (170, 215), (190, 230))
    entries = [Entry("thick yarn", a, b, true * shell_cm3(a, b)) for a, b in wound]
    first, known = WRAPS["thick yarn"].density, learned(entries)["thick yarn"].density
    assert abs(math.log(known.likely / true)) < abs(math.log(first.likely / true)) / 3
    assert known.high / known.low < first.high / first.low
    assert known.low < true < known.high
    few = learned(entries[:1])["thick yarn"].density
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
    wrong = {
        "lead,1,2,3,": "lead",
        "thin yarn,200,180,3,": "must be more",
        "thin yarn,180,200,,": "neither",
        "thin yarn,180,200,900,": "never is",
    }
    for row, part in wrong.items():
        with pytest.raises(DesignError, match=part):
            entries_of(f"material,before,after,grams,metres\n{row}\n".encode(), "log")


def test_the_unit_over_a_column_counts_and_separators_are_free() -> None:
    rows = "Metres\tAfter (cm)\tMaterial\tBefore (cm)\tGrams\n\t20,4\tThin  Yarn\t19\t14.5\n\t\t\t\t\n"
    (one,) = entries_of(rows.encode("utf-16"), "log")
    assert (one.material, one.before_mm, one.after_mm, one.grams) == ("thin yarn", 190, 204, 14.5)
    assert entries_of(b"material,before,after,grams\nhulls,,18 cm,30\n", "log")[0].before_mm == 0


def test_it_says_how_sure_it_is_with_her_balls_and_without() -> None:
    known = learned([Entry("thin yarn", 190, 204, 14.5), Entry("thin yarn", 200, 214, 16.0)])["thin yarn"]
    assert known.unsure_percent < known.guess_percent
    assert f"{known.guess_percent:.0f} %" in known.said
    assert "2 of your balls" in known.said


def test_small_balls_and_hulls_carry_their_cautions() -> None:
    said = " ".join(cautions(100, CORES["hulls"], NOISES["bell"]))
    for word in ("fingers", "heat", "small lots", "qualified", "rules for toys", "choke", "swallow"):
        assert word in said
    assert "choke" not in " ".join(cautions(250, CORES["foam"], None))


def test_a_small_ball_is_what_the_rule_says() -> None:
    """16 CFR 1500.19(a)(2): a hole of 1.75 in (44.4 mm); a sphere of 44.45 mm is 139.6 mm round."""
    core = CORES["foam"]
    assert any("small ball" in each for each in cautions(139.4, core, None))
    assert not any("small ball" in each for each in cautions(139.7, core, None))


CRAFT = "hulls, paper hulls, foam, soft, lint, scraps, fibrefill, chips, wadding, sawdust, sponge, fern fluff"


def test_every_core_makers_use_is_there() -> None:
    """What pages on the craft name as cores, old and new (temarikai.com, japanesetemari.com and others)."""
    assert set(CRAFT.split(", ")) == set(CORES)
    assert {"bell", "rice", "seeds", "nuts", "wish"} <= set(NOISES)
    assert all(each.low < each.likely < each.high for each in (n.grams for n in NOISES.values()))


def test_a_spoonful_of_rice_weighs_what_rice_weighs() -> None:
    """185 g a cup of 236.6 ml, raw (a national food table, from memory); the capsule is half filled."""
    rice = NOISES["rice"]
    assert rice.grams.low <= rice.capsule_ml / 2 * 185 / 236.6 <= rice.grams.high


def test_what_sounds_takes_the_cores_room_and_lies_at_the_middle() -> None:
    plain, loud = winding(250), winding(250, made_of(noise="nuts"))
    bulk = CORES["hulls"].density.likely * NOISES["nuts"].capsule_ml
    assert plain.core_grams.likely - loud.core_grams.likely == pytest.approx(bulk)
    told = winding_json(loud)["noise"]
    assert told["buried_mm"] + told["capsule_mm"] / 2 == pytest.approx(250 / TURN, abs=0.1)
    # A round capsule of 15 ml is 30.6 mm across: (6 V / pi) ** (1/3).
    assert capsule_mm(NOISES["nuts"]) == pytest.approx((6 * 15_000 / math.pi) ** (1 / 3))
    with pytest.raises(DesignError, match="more than half"):
        winding(150, made_of(noise="nuts"))


@pytest.mark.parametrize("dip", [0.3, 1.0, 2.5])
def test_the_thread_lies_as_deep_as_the_needle_goes(dip: float) -> None:
    plan = winding(250, made_of(), dip_mm=dip)
    assert plan.stops[-1].thickness_mm == pytest.approx(max(dip, WRAPS["sewing thread"].least_mm))
    assert winding_json(plan)["bite"]["holds"]


def test_too_thin_a_thread_is_told() -> None:
    told = outcome_json(outcome(parts_of("foam 180mm, thick yarn 40 g, sewing thread 40 m", "--core")), dip_mm=1.0)
    assert not told["bite"]["holds"]
    assert "pull up" in told["bite"]["said"]
    bare = outcome_json(outcome(parts_of("foam 180mm, sewing thread 40 m", "--core")), dip_mm=1.0)
    assert "strikes the core" in bare["bite"]["said"]


@given(wanted=st.floats(150, 600), share=st.floats(0.3, 0.75))
@settings(max_examples=50)
def test_what_a_plan_asks_for_makes_the_ball_it_plans(wanted: float, share: float) -> None:
    """There and back: the likely amounts wound on the same core come out at the wanted size, and inside the range."""
    plan = winding(wanted, made_of("soft", wanted * share))
    wraps = tuple(Had(stop.material, stop.grams.likely) for stop in plan.stops)
    made = outcome(Parts(plan.core, wraps, plan.core_mm))
    assert made.around_mm.likely == pytest.approx(wanted)
    assert made.around_mm.low < wanted < made.around_mm.high
    assert [each.thickness_mm for each in made.reached] == pytest.approx([stop.thickness_mm for stop in plan.stops])


def test_what_comes_of_it_can_be_drawn_and_printed_as_a_plan() -> None:
    made = outcome(parts_of("foam 190mm, bell, thick yarn 30 g, sewing thread 300 m", "--core"))
    plan = made.plan(0.5)
    assert [stop.around_mm for stop in plan.stops] == [each.around_mm.likely for each in made.reached]
    assert plan.wanted_mm == made.around_mm.likely
    assert plan.grams == pytest.approx(made.grams)
    told = winding_json(plan)
    assert (told["bite"]["dip_mm"], told["noise"]["name"]) == (0.5, "bell")


def test_a_published_ball_comes_of_what_was_wound() -> None:
    """2 oz of yarn and two spools on a 2.5 in foam ball (published amounts); winding adds 1 to 1.5 cm, or up to 2.2."""
    made = outcome(parts_of(f"foam {math.pi * 63.5:.0f}mm, thick yarn 2oz, sewing thread 250yd", "--core"))
    assert made.around_mm.low <= math.pi * (63.5 + 22)
    assert made.around_mm.high >= math.pi * (63.5 + 15)


def test_parts_are_read_in_a_makers_words() -> None:
    parts = parts_of("Hulls 18,5 cm; bell; Thick Yarn 1,5 oz, sewing thread 250 yd", "--core")
    assert parts.core_mm == pytest.approx(185)
    assert parts.noise is NOISES["bell"]
    assert [had.grams for had in parts.wraps] == pytest.approx([42.524, 250 * YARD_M * 27 / 1000], abs=1e-3)
    assert [had.material.name for had in parts_of("foam", "--core").wraps] == [
        "thick yarn",
        "thin yarn",
        "sewing thread",
    ]


@pytest.mark.parametrize(
    ("words", "part"),
    [
        ("lead", "not known"),
        ("foam 3 mm", "way round a core"),
        ("foam 180 mm, batting 3 m", "weight"),
        ("foam, thick yarn 0 g", "up to"),
        ("foam, 40 g thick yarn", "cannot be read"),
        ("foam, bell, rice", "one thing"),
        ("foam 1.2.3 cm", "cannot be read"),
    ],
)
def test_parts_that_cannot_be_are_told(words: str, part: str) -> None:
    with pytest.raises(DesignError, match=part):
        parts_of(words, "--core")


@pytest.mark.parametrize("words", ["foam, thick yarn 40 g", "foam 180mm, thick yarn"])
def test_what_comes_of_it_needs_every_amount(words: str) -> None:
    with pytest.raises(DesignError, match="wanted size"):
        outcome(parts_of(words, "--core"))


@pytest.mark.parametrize(
    ("words", "part"),
    [
        ("hulls, thick yarn, sewing thread", "lumps"),
        ("hulls, thin yarn, thick yarn", "lumps"),
        ("hulls, thin yarn, batting, sewing thread", "batting on the core"),
        ("foam, sewing thread", "strike foam"),
        ("foam, batting, thick yarn, thin yarn, crochet thread, sewing thread", None),
    ],
)
def test_an_order_of_wraps_that_shows_or_strikes_is_told(words: str, part: str | None) -> None:
    """Last yarn thin, batting under it, no foam under bare thread: what pages on the craft agree on."""
    parts = parts_of(words, "--core")
    said = order_said(parts.core, [had.material for had in parts.wraps])
    assert (said == ()) if part is None else (part in " ".join(said))


def test_what_she_has_is_held_against_the_plan() -> None:
    told = winding_json(winding(250, parts_of("hulls, thick yarn 90 g, thin yarn 1 g, sewing thread 250 m", "--core")))
    assert [stop["enough"] for stop in told["stops"]] == ["yes", "no", "perhaps"]


def test_the_docs_name_every_key() -> None:
    part = next(part for part in DOCS.read_text(encoding="utf-8").split("\n## ") if "winding [--around" in part)
    parts = parts_of("hulls, bell, thick yarn, sewing thread", "--core")
    known = learned([Entry("thick yarn", 180, 215, 60.0)])
    told = winding_json(winding(250, parts, {name: each.density for name, each in known.items()}), known)
    assert set(keys(told)) == set(re.findall(r"^\| `([^`]+)` \|", part, re.MULTILINE))
    made = outcome_json(outcome(parts_of("hulls 190mm, bell, thick yarn 30g, sewing thread 9g", "--core")), known)
    assert set(keys(made)) <= set(keys(told))
