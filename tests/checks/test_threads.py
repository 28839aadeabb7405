"""Threads: enough, seen, and of a known width."""

import csv
from pathlib import Path

import pytest

from polestitch.checks.threads import MELTING, PLAIN_STEP, colour_difference, tonal_step
from polestitch.document.colours import Colour
from tests.builds import KIKU, SQUARE, THREADS, estimated
from tests.checks.found import built, cured, kinds, of_kind, one_of

REFERENCE = Path(__file__).parent.parent / "reference" / "ciede2000.csv"
ONE_TEN_THOUSANDTH = 1e-4


def pairs() -> list[dict[str, str]]:
    with REFERENCE.open(encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


@pytest.mark.parametrize("pair", pairs(), ids=lambda pair: f"pair {pair['pair']}")
def test_colour_difference_is_ciede2000(pair: dict[str, str]) -> None:
    # Sharma, Wu and Dalal, Color Research & Application 30 (2005) 21-30, Table 1: all 34 pairs.
    one, other = (f"color(--lab-d65 {pair[f'L{k}']} {pair[f'a{k}']} {pair[f'b{k}']})" for k in (1, 2))
    assert colour_difference(one, other) == pytest.approx(float(pair["delta_e_00"]), abs=ONE_TEN_THOUSANDTH)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#777777", "#ffffff", 4.4781),
        ("#767676", "#ffffff", 4.5422),
        ("#949494", "#ffffff", 3.0335),
        ("#ff0000", "#ffffff", 3.9985),
        ("#0000ff", "#ffffff", 8.5925),
        ("#008000", "#ffffff", 5.1374),
    ],
)
def test_the_tonal_step_is_the_contrast_ratio_of_wcag(one: str, other: str, ratio: float) -> None:
    # WCAG 2.2, relative luminance and contrast ratio; 4.48 and 4.54 are the well-known greys either side of AA.
    assert tonal_step(Colour(one).rgb, Colour(other).rgb) == pytest.approx(ratio, abs=5e-4)


@pytest.mark.parametrize("colour", ["#000000", "#23262d", "#5b1020", "#2b4c7e", "#a93d29", "#d5b15e", "#f4f1ea"])
def test_a_plain_tonal_step_never_melts_whatever_the_colour(colour: str) -> None:
    # So colours need no looking at where lightness alone tells them apart: greys at exactly that step.
    for level in range(256):
        grey = f"#{level:02x}{level:02x}{level:02x}"
        if tonal_step(Colour(colour).rgb, Colour(grey).rgb) >= PLAIN_STEP:
            break
    assert level == 255 or colour_difference(colour, grey) > MELTING


def test_a_thread_like_the_ground_is_faint() -> None:
    threads = [{**THREADS[0], "colour": "#858a94"}, THREADS[1]]
    finding = one_of(built(SQUARE, threads=threads), "low contrast")
    assert finding.address == "navy"
    assert finding.severity == "care"


def test_threads_of_another_lightness_or_another_colour_are_seen() -> None:
    assert "low contrast" not in kinds(built(SQUARE))
    red_on_green = [{**THREADS[0], "colour": "#c0392b"}, THREADS[1]]
    ground = {"around": "250 mm", "colour": "#3c7a4e"}
    assert "low contrast" not in kinds(built(SQUARE, threads=red_on_green, ball=ground))


def test_only_stitched_threads_are_looked_at() -> None:
    # An invisible marking is often meant.
    threads = [THREADS[0], {**THREADS[1], "colour": "#8a8f98"}]
    assert "low contrast" not in kinds(built(SQUARE, threads=threads, marking={"division": "S8", "thread": "white"}))


def test_a_short_thread_stops_the_work_and_says_by_how_much() -> None:
    needed = estimated(built(KIKU)).needed_mm["navy"]
    threads = [{**THREADS[0], "have": f"{needed - 200:.3f} mm"}, THREADS[1]]
    finding = one_of(built(KIKU, threads=threads), "thread short")
    assert finding.severity == "stop"
    assert "200 mm before the end" in finding.sentence
    enough = [{**THREADS[0], "have": f"{needed + 1:.3f} mm"}, THREADS[1]]
    assert not of_kind(built(KIKU, threads=enough), "thread short")


def test_a_width_from_weight_is_uncertain_and_told_once() -> None:
    by_weight = [
        {"name": "navy", "colour": "#1d2b5a", "tex": 200},
        {"name": "white", "colour": "#f4f1ea", "size": "tex 125"},
    ]
    rows = {**KIKU, "rows": "5 navy, 5 white"}
    finding = one_of(built(rows, threads=by_weight), "width uncertain")
    assert "navy, white" in finding.sentence
    assert "2 rows too early or too late" in finding.sentence  # a fifth of ten rows
    assert "width uncertain" not in kinds(built(rows))


def test_following_a_remedy_leaves_the_rest_of_the_document_alone() -> None:
    layer = {**KIKU, "rows": "20 navy"}
    finding = one_of(built(layer), "overrun")
    assert cured(finding, layer).design.layers[0].params == built(layer).design.layers[0].params
