"""The ball under the stitches, and what friction does not hold."""

from typing import Any

import numpy as np
import pytest
from scipy.spatial import cKDTree

from polestitch.checks import findings
from polestitch.checks.findings import GRAVITY
from polestitch.marking.address import address
from polestitch.marking.pins import pin_plan
from tests.builds import KIKU, SQUARE, estimated
from tests.checks.found import built, cured, kinds, of_kind, one_of

OBI = {"technique": "band", "where": "obi", "params": {"side": "left"}}


def ball(*pole_to_pole: str) -> dict[str, Any]:
    return {"around": "250 mm", "colour": "#8a8f98", "measured": {"pole_to_pole": list(pole_to_pole)}}


def test_a_ball_out_of_round_by_more_than_the_promised_gap_breaks_the_promise() -> None:
    until: dict[str, Any] = {**KIKU, "rows": "until 3 mm from obi: 1 navy"}
    round_enough, oval = built(until, ball=ball("250 mm", "252 mm")), built(until, ball=ball("235 mm", "265 mm"))
    assert "out of round" not in kinds(round_enough)
    finding = one_of(oval, "out of round")
    # Quarter of the way round on the longer reading is 66.25 mm, planned 62.5: 3.75 mm out, and 3 to 5 mm promised.
    assert "3.8 mm" in finding.sentence
    assert finding.severity == ("care" if finding.layer == 0 else "note")


@pytest.mark.parametrize(("until", "severity"), [("0 mm from obi", "care"), ("12 mm from obi", "note")])
def test_how_grave_it_is_depends_on_what_was_promised(until: str, severity: str) -> None:
    layer: dict[str, Any] = {**KIKU, "rows": f"until {until}: 1 navy"}
    assert one_of(built(layer, ball=ball("235 mm", "265 mm")), "out of round").severity == severity


def test_a_bite_wider_than_two_millimetres_is_noted() -> None:
    # Published limit: temarikai.com/HowToPages/ToolKit/kagari.html.
    maker = {"bite": "3 mm"}
    finding = one_of(built(SQUARE, maker=maker), "wide bite")
    assert finding.remedy == {"path": "maker.bite", "value": "2 mm"}
    assert not of_kind(cured(finding, SQUARE, maker=maker), "wide bite")


@pytest.mark.parametrize(("division", "fine"), [("S16+obi", False), ("S48+obi", False), ("S51+obi", True)])
def test_pins_closer_than_five_millimetres_are_a_fine_division(division: str, fine: bool) -> None:
    # C / n on a 250 mm ball: 5.2 mm for 48 lines, 4.9 mm for 51.
    assert (
        "fine division"
        in kinds(built(SQUARE if division != "S51+obi" else OBI | {"rows": "1 navy"}, division=division))
    ) == fine


@pytest.mark.parametrize("division", ["S51+obi", "C10/162"])
def test_the_nearest_pins_are_told_as_far_apart_as_a_k_d_tree_says(division: str) -> None:
    layer = OBI | {"rows": "1 navy"} if division.startswith("S") else {**SQUARE, "params": {"corners": 5, "at": "3 mm"}}
    made = built(layer, division=division, ball={"around": "120 mm" if division.startswith("C") else "250 mm"})
    finding = one_of(made, "fine division")
    pins = [pin.point for pin in pin_plan(made.marking, made.ball)]
    spots = np.stack([address(made.marking, pin, made.ball).at for pin in pins])
    chord = cKDTree(spots).query(spots, k=2)[0][:, 1].min()
    nearest = 2 * np.arcsin(chord / 2) * made.ball.radius_mm
    assert f"{nearest:.1f}".removesuffix(".0") in finding.sentence
    assert finding.at == pytest.approx(spots[pins.index(str(finding.address))], abs=1e-6)


def test_points_that_carry_no_pin_are_no_fine_division() -> None:
    # Corners of rings 4.5 mm apart only help to place stitches; the pins of S8 on 180 mm stand 22.5 mm apart.
    rings = [{"name": name, "around": "N", "at": at, "corners": 8} for name, at in (("a", "20 mm"), ("b", "24.5 mm"))]
    lines = {"name": "leaf", "between": ["a", "b"], "step": 1}
    marking = {"division": "S8+obi", "support": [*rings, lines]}
    made = built(OBI | {"rows": "1 navy"}, marking=marking, ball={"around": "180 mm"})
    assert "fine division" not in kinds(made)


def test_a_c10_on_a_small_ball_is_noted() -> None:
    star = {"technique": "star", "where": "N", "rows": "1 navy"}
    assert "small ball" in kinds(built(star, division="C10", ball={"around": "160 mm"}))
    assert "small ball" not in kinds(built(star, division="C10"))


def test_turns_far_from_their_line_slip_and_say_where_keeper_pins_go() -> None:
    # tan(latitude) > friction: at 0.3 the limit is 16.70 degrees, 11.6 mm on a 250 mm ball, 16 turns of 0.714 mm.
    held, slipping = {**OBI, "rows": "16 navy"}, {**OBI, "rows": "20 navy"}
    assert "band slips" not in kinds(built(held))
    finding = one_of(built(slipping), "band slips")
    assert finding.severity == "care"
    latitude = np.degrees(np.arctan(0.3))
    assert finding.row == int(np.ceil((latitude * 250 / 360) / (10 / 14) + 0.5))
    assert "keeper pins" in finding.sentence
    assert "nothing stitched later" in finding.sentence


def test_turns_that_later_stitches_lock_need_pins_only_until_then() -> None:
    wide = {**OBI, "rows": "20 navy"}
    lock = {
        "technique": "zigzag",
        "where": "obi",
        "rows": "1 white",
        "params": {"height": "16 mm", "bites": 16, "double": True},
    }
    finding = one_of(built(wide, {**lock, "name": "net"}), "band slips")
    assert finding.severity == "note"
    assert "until net is stitched across" in finding.sentence


def test_a_rougher_wrap_holds_more_turns() -> None:
    wide = {**OBI, "rows": "20 navy"}
    assert "band slips" not in kinds(built(wide, maker={"friction": 0.5}))


def test_the_gravest_comes_first_and_every_finding_says_what_to_do() -> None:
    worst = {**KIKU, "rows": "30 navy"}
    made = built(worst, maker={"bite": "3 mm", "stretch": "2 mm"}, ball={"around": "250 mm", "colour": "#26336a"})
    found = findings(made, estimated(made).needed_mm)
    assert len(found) >= 3
    assert [GRAVITY[finding.severity] for finding in found] == sorted(GRAVITY[finding.severity] for finding in found)
    for finding in found:
        assert finding.sentence.endswith(".")
        assert "  " not in finding.sentence
        assert len(finding.sentence) < 420
    facts = [(finding.kind, finding.layer, finding.address) for finding in found]
    assert len(set(facts)) == len(facts)


def test_a_sound_ball_has_nothing_to_say() -> None:
    assert kinds(built({**KIKU, "where": "N and S", "rows": "4 navy, 1 white"}, {**OBI, "rows": "4 white"})) == set()
