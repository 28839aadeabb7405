"""What ``thread --json`` tells a stranger: every leg as it lies, and every bite, in figures that hold each other up."""

import json
import re
from collections import Counter, defaultdict
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from polestitch.document.codec import read
from polestitch.laying.laid import Laid
from polestitch.pipeline import Build, build
from polestitch.thread import lines, motif_names
from tests.builds import SQUARE, built
from tests.cli.conftest import EXAMPLES
from tests.cli.terminal import Terminal
from tests.laying.hand_laid import Hand
from tests.reference.side_by_side import bites_of, distances, printed, thread_of
from tests.test_summary import DOCS, keys

PROMISED_MM = 0.01
A_THOUSANDTH = 0.001 + 1e-9  # mm: figures are rounded to a thousandth, and so is the radius they are measured with
PER_MILLION = 1e-6
# A chord is shorter than its arc by t squared over 24: 0.00008 of it where its sagitta is 0.01 mm on 40 mm.
ONE_IN_TEN_THOUSAND = 1e-4
EVERY = sorted(
    {path.name: path for path in [*EXAMPLES.glob("harbour-lights/**/*.json"), *EXAMPLES.glob("*.json")]}.items()
)
DESIGNS = [path for _, path in EVERY if '"layers"' in path.read_text(encoding="utf-8")]
Points = NDArray[np.float64]

every_design = pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
pytestmark = pytest.mark.slow


@cache
def thread(path: Path) -> dict[str, Any]:
    return thread_of(str(path))


@cache
def work(path: Path) -> dict[str, Any]:
    figures: dict[str, Any] = json.loads(printed("work", str(path), "--json"))
    return figures


def legs_of(path: Path) -> dict[tuple[str, str, int], list[dict[str, Any]]]:
    """The legs of every row, in their order."""
    found = defaultdict(list)
    for leg in thread(path)["legs"]:
        found[leg["layer"], leg["motif"], leg["row"]].append(leg)
    return found


def densely(laid: Laid, span: int, radius_mm: float) -> Points:
    """(n, 3) mm: the span every thousandth of a radian, by turning each arc's start about its axis."""
    parts = []
    for arc in np.flatnonzero(laid.arc_span == span):
        count = int(np.ceil(laid.sweep[arc] / 0.001)) + 1
        turn = np.linspace(0, laid.sweep[arc], count)[:, None] * laid.normal[arc]
        parts.append(radius_mm * Rotation.from_rotvec(turn).apply(laid.start[arc].copy()))
    return np.concatenate(parts)


def strayed_mm(laid: Laid, told: list[Points], radius_mm: float, every: int = 1) -> float:
    """How far the thread gets from the chords told of it, and their ends from the thread, at the worst."""
    worst = 0.0
    for span in range(0, len(told), every):
        exact, chords = densely(laid, span, radius_mm), radius_mm * told[span]
        there = np.abs(distances(exact, chords)).max()
        back = np.abs(distances(chords, exact)).max()
        worst = max(worst, float(there), float(back))
    return worst


def made(path: Path) -> Build:
    return build(read(path.read_text(encoding="utf-8")))


def test_every_example_is_among_those_tried() -> None:
    assert {"quay-lamps", "salt-squares", "winter-beacons", "mooring-star"} < {path.stem for path in DESIGNS}
    assert len(DESIGNS) == len({path.stem for path in EXAMPLES.glob("harbour-lights/balls/*.json")}) + 1


@every_design
def test_chords_lie_within_a_hundredth_of_a_millimetre_of_the_thread(path: Path) -> None:
    ball, told = made(path), [np.array(leg["points"]) for leg in thread(path)["legs"]]
    assert len(told) == len(ball.laid.span_row)
    every = 1 + len(told) // 100  # a hundred legs from first to last
    assert strayed_mm(ball.laid, told, ball.ball.radius_mm, every) <= PROMISED_MM


@every_design
def test_corners_of_a_leg_that_leans_are_kept(path: Path) -> None:
    ball, told = made(path), [np.array(leg["points"]) for leg in thread(path)["legs"]]
    for start, span in zip(ball.laid.start, ball.laid.arc_span):
        assert np.abs(told[span] - start).max(axis=1).min() <= PER_MILLION


@pytest.mark.parametrize("offset", [-0.999, -0.6, 0.0, 0.3, 0.9999])
@pytest.mark.parametrize("radius_mm", [5.0, 40.0, 477.0])
def test_small_circles_and_any_ball_keep_the_promise(offset: float, radius_mm: float) -> None:
    axis = np.array([0.3, -0.5, 0.8])
    laid = Hand().turn(axis, offset).row(np.array([[1.0, 0, 0], [0, 1, 0], [0, 0, 1]]), chain=True).laid()
    told = [np.round(line, 6) for line in lines(laid, radius_mm)]
    assert strayed_mm(laid, told, radius_mm) <= PROMISED_MM
    assert np.array_equal(told[0][0], told[0][-1])
    # No more than it takes: half as many points would stray four times as far.
    if radius_mm > 20 and abs(offset) < 0.9:
        coarse = [line[::2] if len(line) % 2 else np.concatenate([line[::2], line[-1:]]) for line in told]
        assert strayed_mm(laid, coarse, radius_mm) > 2 * PROMISED_MM


@every_design
def test_points_lie_on_the_unit_ball_and_every_leg_runs_somewhere(path: Path) -> None:
    for leg in thread(path)["legs"]:
        points = np.array(leg["points"])
        assert np.abs(np.linalg.norm(points, axis=1) - 1).max() <= 2 * PER_MILLION
        assert len(points) >= 2
        assert np.ptp(points, axis=0).max() > 0


@every_design
def test_legs_run_from_bite_to_bite(path: Path) -> None:
    told, radius = thread(path), thread(path)["ball"]["radius_mm"]
    bites = bites_of(told)
    for row, legs in legs_of(path).items():
        assert [leg["leg"] for leg in legs] == list(range(1, len(legs) + 1))
        if row not in bites:
            assert [leg["points"][0] for leg in legs] == [leg["points"][-1] for leg in legs], "a turn is closed"
            continue
        assert len(legs) in (len(bites[row]), len(bites[row]) - 1)
        for k, leg in enumerate(legs):
            for end, bite in ((0, bites[row][k]), (-1, bites[row][(k + 1) % len(bites[row])])):
                chord = np.linalg.norm(np.subtract(leg["points"][end], bite["at"]))
                off = 2 * radius * np.arcsin(chord / 2)
                assert off == pytest.approx(bite["half_mm"], abs=2 * A_THOUSANDTH)


@every_design
def test_lengths_are_those_of_work(path: Path) -> None:
    mm: dict[str, float] = defaultdict(float)
    for leg in thread(path)["legs"]:
        chords = np.linalg.norm(np.diff(np.array(leg["points"]), axis=0), axis=1)
        mm[leg["thread"]] += float(thread(path)["ball"]["radius_mm"] * chords.sum())
    for one in work(path)["threads"]:
        assert mm[one["id"]] == pytest.approx(one["laid_mm"], rel=ONE_IN_TEN_THOUSAND)
    assert thread(path)["ball"]["radius_mm"] == work(path)["ball"]["radius_mm"]


@every_design
def test_counts_are_those_of_work(path: Path) -> None:
    told = thread(path)
    assert len({(leg["layer"], leg["motif"], leg["row"], leg["leg"]) for leg in told["legs"]}) == len(told["legs"])
    for layer in work(path)["layers"]:
        legs = [leg for leg in told["legs"] if leg["layer"] == layer["name"]]
        assert len(legs) == layer["spans"]
        assert len({leg["motif"] for leg in legs}) == layer["motifs"]
        assert sum(bite["layer"] == layer["name"] for bite in told["bites"]) == layer["bites"]
        assert {leg["thread"] for leg in legs} == set(layer["laid_mm"])


@every_design
def test_legs_come_in_the_order_they_are_stitched_in(path: Path) -> None:
    ball = made(path)
    names = [layer.name for layer in ball.design.layers]
    order = [(ball.motifs[work.motif], ball.motifs[work.motif].rows[work.row]) for work in ball.order]
    stitched = [(names[motif.layer], motif.place, row.number) for motif, row in order]
    assert list(legs_of(path)) == stitched
    assert list(dict.fromkeys(bites_of(thread(path)))) == [
        whose for whose, (_, row) in zip(stitched, order) if len(row.half)
    ]


def test_a_row_is_as_wide_as_its_thread(terminal: Terminal, small: Path) -> None:
    text = small.read_text(encoding="utf-8").replace('"#b33"', '"#b33", "rows_per_cm": 8')
    small.write_text(text, encoding="utf-8")
    legs = json.loads(terminal.run("thread", small, "--json").out)["legs"]
    assert {(leg["width_mm"], leg["pitch_mm"]) for leg in legs} == {(1.25, 1.25)}


def test_a_square_is_told_leg_by_leg(terminal: Terminal, small: Path) -> None:
    # Two rows of four legs at N, each beside the one before it: rows grow outward, so the second is longer.
    told = json.loads(terminal.run("thread", small, "--json").out)
    assert [(leg["row"], leg["leg"]) for leg in told["legs"]] == [(row, leg) for row in (1, 2) for leg in (1, 2, 3, 4)]
    assert {(leg["layer"], leg["motif"], leg["strand"], leg["thread"]) for leg in told["legs"]} == {
        ("square", "N", 1, "red")
    }
    assert all(leg["points"][0][2] > 0 for leg in told["legs"])
    assert told["legs"][4]["points"][0][2] < told["legs"][0]["points"][0][2]


def test_a_measured_ball_takes_the_place_of_the_planned_one(terminal: Terminal, small: Path) -> None:
    told = json.loads(terminal.run("thread", small, "--around", "22 cm", "--json").out)
    assert told["ball"]["radius_mm"] == pytest.approx(220 / (2 * np.pi), abs=A_THOUSANDTH)


def test_a_ball_without_stitches_has_no_legs(terminal: Terminal, small: Path) -> None:
    raw = json.loads(small.read_text(encoding="utf-8"))
    small.write_text(json.dumps({**raw, "layers": []}), encoding="utf-8")
    told = json.loads(terminal.run("thread", small, "--json").out)
    assert (told["legs"], told["bites"]) == ([], [])
    assert terminal.run("thread", small).status == 0


def test_the_table_tells_legs_and_metres(terminal: Terminal, design: Path) -> None:
    said = terminal.run("thread", design)
    assert said.status == 0
    legs = Counter(leg["thread"] for leg in thread(design)["legs"])
    for name, count in legs.items():
        assert re.search(rf"^ *{re.escape(name)} +{count} +[\d.]+ m", said.out, re.MULTILINE)


def test_two_motifs_of_one_place_have_two_names() -> None:
    first = built(SQUARE).motifs[0]
    twice = [first, replace(first, number=2), replace(first, layer=1), replace(first, number=3, place="S")]
    assert motif_names(twice) == {(0, 0): "N (1)", (0, 1): "N (2)", (1, 0): "N", (0, 2): "S"}


def test_the_docs_name_every_key_and_no_other(design: Path) -> None:
    parts = DOCS.read_text(encoding="utf-8").split("\n## ")
    (mine,) = [part for part in parts if part.startswith("`polestitch thread DESIGN --json`")]
    assert set(re.findall(r"^\| `([^`]+)`", mine, re.MULTILINE)) == set(keys(thread(design)))
    assert list(thread(design)["legs"][0]) == [
        "layer", "motif", "row", "strand", "leg", "thread", "width_mm", "pitch_mm", "points",
    ]  # fmt: skip
