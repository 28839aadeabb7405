"""Steps of threads that travel, and of turns that are woven."""

import re
from typing import Any

from polestitch.document.design import Design
from polestitch.pipeline import build
from polestitch.steps.layer import layer_lines


def told(technique: str, place: tuple[str, str], rows: str, params: dict[str, Any], hand: str = "right") -> list[str]:
    """What the booklet says of a ball with one layer; ``place`` is the division and where on it."""
    division, where = place
    layer = {"name": "one", "technique": technique, "where": where, "rows": rows, "params": params}
    design = {
        "name": "told",
        "ball": {"around": "240 mm"},
        "maker": {"hand": hand},
        "threads": [{"name": name, "colour": "#eee"} for name in ("navy", "gold")],
        "marking": {"division": division},
        "layers": [layer],
    }
    return [line.text for line in layer_lines(build(Design.model_validate(design)), 0)]


def test_her_path_is_told_spot_by_spot_in_her_own_words() -> None:
    path = ["line 1, 1/2", {"at": "line 3, 2/3", "pass": "ou"}, {"at": "line 5, 1/2", "take": "pin"}, "obi 7"]
    lines = told("own_path", ("S8", "ball"), "2 navy", {"path": path})
    journey = [line for line in lines if line.startswith("Lay the thread to")]
    assert journey == [
        "Lay the thread to line 3, 2/3 and take a bite. Take what you meet on the way: over and under, and so on.",
        "Lay the thread to line 5, 1/2, past its pin.",
        "Lay the thread to obi 7 and take a bite.",
        "Lay the thread to line 1, 1/2 and take a bite.",
    ]


def test_one_stroke_tells_every_star_twice_down_and_up() -> None:
    lines = told("one_stroke", ("C10", "ball"), "2 x (1 navy, 1 gold)", {})
    down, up = ([line for line in lines if line.startswith(f"{way}, star")] for way in ("Down", "Up"))
    assert len(down) == len(up) == 32
    bites = [sum(int(re.findall(r"over (\d+) inner", line)[0]) for line in way) for way in (down, up)]
    assert sum(bites) == 12 * 5 + 20 * 6  # every inner bite of every star once


def test_a_left_hander_goes_round_the_other_way() -> None:
    right, left = (told("one_stroke", ("C8", "ball"), "1 navy, 1 gold", {}, hand) for hand in ("right", "left"))
    first = [next(line for line in lines if line.startswith("Down, star 1,")) for lines in (right, left)]
    assert "to the right" in first[0]
    assert "to the left" in first[1]


def test_each_band_is_told_under_which_it_goes() -> None:
    lines = told("cube_weave", ("S6", "ball"), "1 navy, 1 gold, 1 navy", {"bands": 6, "threads": 2})
    under = [line for line in lines if "go under" in line]
    assert under[0] == "Rows 13 and 14: go under rows 1 and 2 and rows 7 and 8, and over all else."
    assert len(under) == 12


def test_woven_strands_are_told_where_they_go_under() -> None:
    lines = told("basket", ("C10", "ball"), "1 navy, 1 gold", {})
    under = [line for line in lines if "go under" in line]
    assert len(under) == 5
    assert sum(line.count("near diamond") for line in under) == 15  # half of the 30 crossings


def test_turns_through_spindles_take_turns_at_beginning_over_and_under() -> None:
    lines = told("woven_spindle", ("S10+obi", "obi"), "5 navy, 3 gold", {"turns": 3})
    turns = [line for line in lines if "once round the ball" in line]
    assert [line.split()[-1] for line in turns] == ["over.", "under.", "over."]
