"""A plan put into a design: the same ball in other colours, thread for thread and crossing for crossing."""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from polestitch.document.codec import read
from polestitch.document.rows import row_list
from polestitch.errors import DesignError
from polestitch.picture.render import image
from polestitch.picture.subject import subject
from polestitch.picture.view import view_of
from polestitch.pipeline import Build, build
from polestitch.recolouring.applied import applied
from polestitch.recolouring.dozen import dozen
from polestitch.recolouring.faithful import differences
from polestitch.recolouring.parting import crossing_motifs, parted
from polestitch.recolouring.pictures import FRONT, look, pictures
from polestitch.recolouring.rowtext import row_text
from polestitch.recolouring.splitting import grouped, in_order
from polestitch.recolouring.wishes import Wishes
from tests.builds import document

Raw = dict[str, Any]
EXAMPLES = Path(__file__).parents[2] / "examples"
COLOURS = {"navy": "#1d2b5a", "white": "#f4f1ea", "rust": "#b5472b", "teal": "#2f7f86", "gold": "#d9b24a"}
THREADS = [{"name": name, "colour": colour, "rows_per_cm": 14} for name, colour in COLOURS.items()]
# Squares so large that neighbours on the cube's faces cross each other.
SQUARES = {
    "technique": "polygon",
    "where": "all centres",
    "rows": "2 navy, 1 white",
    "params": {"corners": 4, "at": "34 mm"},
}


def design(*layers: Raw, division: str = "C8", **rest: Any) -> Raw:
    return document(*layers, division=division, format=1, threads=THREADS, **rest)


def wishes(*names: str, **more: Any) -> Wishes:
    return Wishes.model_validate({"layer": "layer 1", "threads": [{"name": name} for name in names], **more})


def made_of(raw: Raw) -> Build:
    return build(read(json.dumps(raw)))


def recoloured(raw: Raw, asked: Wishes, number: int = 1) -> tuple[Build, Raw, Build, Any]:
    made = made_of(raw)
    plans = dozen(made, asked)
    new = applied(raw, made, plans, number)
    return made, new.document, made_of(new.document), (plans, new)


@pytest.mark.slow
@pytest.mark.parametrize("more", [{}, {"combine": "layered"}, {"together": "both"}])
def test_motifs_that_cross_keep_their_over_and_under(more: Raw) -> None:
    other = {**SQUARES, "rows": "2 white", "start": "line 2", **({"together": "both"} if "together" in more else {})}
    made, raw, new, (plans, told) = recoloured(design({**SQUARES, **more}, other), wishes("navy", "rust", "teal"))
    assert told.changed == 0
    assert any("only the colours are new" in sentence for sentence in told.said)
    assert len(new.laid.row_thread) == len(made.laid.row_thread)
    assert len(new.crossings) == len(made.crossings)
    names = [thread.name for thread in plans.threads]
    wanted = {place: names[colour] for place, colour in zip(plans.plans.spots, plans.plans.plans[0])}
    for layer in raw["layers"][: len(raw["layers"]) - 1]:
        for place in layer["where"]:
            assert wanted[place] in row_list(layer["rows"]).threads


def test_one_layer_a_colour_would_change_what_lies_on_top_and_that_is_noticed() -> None:
    """Three pairs of faces, laid N and S first, then in the order of their numbers."""
    made = made_of(design(SQUARES))
    plan = [0, 1, 0, 1, 0, 1]
    touching = crossing_motifs(made, 0)
    few, strict = grouped(plan, touching), in_order(plan)
    assert 2 < len(few) <= len(strict) == 6
    raw = design(SQUARES)

    def changed(parts: list[tuple[int, ...]]) -> int:
        names = ["rust", "teal"]
        new = parted(raw, made, 0, [(names[plan[p[0]]], p) for p in parts], "navy")
        return differences(made, made_of(new), 0, parts)

    assert changed([group.motifs for group in few]) == 0
    assert changed([group.motifs for group in strict]) == 0
    naive = changed([(0, 2, 4), (1, 3, 5)])
    assert 0 < naive < len(made.crossings)


def test_motifs_that_touch_nothing_make_one_layer_a_colour() -> None:
    small = {**SQUARES, "params": {"corners": 4, "at": "12 mm"}}
    _, raw, _, (plans, _) = recoloured(design(small), wishes("navy", "rust", "teal"))
    assert len(raw["layers"]) == 3
    assert plans.plans.proven


def test_rules_of_over_and_under_follow_into_the_parts() -> None:
    """A later layer woven under the squares still goes under all of them; and the squares hold among themselves."""
    band = {"technique": "band", "where": "obi", "rows": "2 white", "under": [{"layer": "layer 1", "rule": "all"}]}
    squares = {**SQUARES, "under": [{"layer": "layer 1", "rule": "all"}]}
    _, raw, _, (_, told) = recoloured(design(squares, band), wishes("navy", "rust", "teal"))
    parts = [layer["name"] for layer in raw["layers"][:-1]]
    assert [rule["layer"] for rule in raw["layers"][-1]["under"]] == parts
    assert told.changed == 0


def test_a_crossing_settled_by_hand_stays_settled() -> None:
    made = made_of(design(SQUARES))
    one, other = made.laid.arc_row[made.crossings.first], made.laid.arc_row[made.crossings.second]
    laid = made.laid
    k = next(k for k in range(len(one)) if laid.row_motif[one[k]] != laid.row_motif[other[k]])
    start = np.searchsorted(laid.span_row, laid.span_row)

    def leg(arc: int) -> int:
        span = int(laid.arc_span[arc])
        return span - int(start[span]) + 1

    places = [motif.place for motif in made.motifs]
    chosen = {
        "place": places[laid.row_motif[other[k]]],
        "row": int(laid.row_number[other[k]]),
        "leg": leg(made.crossings.second[k]),
        "other": "layer 1",
        "other_place": places[laid.row_motif[one[k]]],
        "other_row": int(laid.row_number[one[k]]),
        "other_leg": leg(made.crossings.first[k]),
        "lies": "under",
    }
    raw = design({**SQUARES, "crossings": [chosen]})
    before, _, after, (_, told) = recoloured(raw, wishes("navy", "rust", "teal"))
    assert len(before.by_hand) == len(after.by_hand) == 1
    assert told.changed == 0


@pytest.mark.slow
def test_rows_until_neighbours_are_counted_before_they_part() -> None:
    raw = json.loads((EXAMPLES / "winter-beacons.json").read_text())
    asked = Wishes.model_validate(
        {"layer": "beacons", "threads": [{"name": n} for n in ("snow", "ice", "lamp red", "gold")]}
    )
    made = made_of(raw)
    plans = dozen(made, asked)
    assert plans.plans.different == 4  # four threads on twelve faces, neighbours differ: 240 colourings over 60 turns
    new = applied(raw, made, plans, 1)
    assert all("until" not in layer["rows"] for layer in new.document["layers"][:-1])
    assert any("0.3 mm" in sentence for sentence in new.said)  # gold is finer than what it takes the place of


@pytest.mark.slow
@pytest.mark.parametrize("by", ["stripes", "rows"])
def test_stripes_look_in_the_picture_as_they_will_be(by: str) -> None:
    """The recoloured picture is byte for byte that of the new design."""
    raw = design({**SQUARES, "rows": "2 navy, 1 white, 2 navy"})
    made = made_of(raw)
    plans = dozen(made, wishes("navy", "rust", "teal", by=by))
    shown = pictures(made, plans, 64)
    new = made_of(applied(raw, made, plans, 2).document)
    picture = image(subject(new), view_of(FRONT), 64, 480)
    assert np.array_equal(shown[1].front, picture)
    assert not np.array_equal(shown[0].front, picture)


@pytest.mark.slow
def test_motifs_look_in_the_picture_as_they_will_be() -> None:
    """But for the grain of each arc, which goes by the order of work."""
    raw = design(SQUARES)
    made = made_of(raw)
    plans = dozen(made, wishes("rust", "teal", "gold"))
    shown = pictures(made, plans, 96)[0]
    picture = image(subject(made_of(applied(raw, made, plans, 1).document)), view_of(-FRONT), 96, 480)
    off = np.abs(shown.back.astype(float) - picture)
    assert off.mean() < 1
    assert np.quantile(off, 0.99) < 8


def test_layers_get_threads_by_who_meets_whom() -> None:
    raw = design(SQUARES, {**SQUARES, "start": "line 2"}, {"technique": "band", "where": "obi", "rows": "1 gold"})
    asked = Wishes.model_validate({"by": "layers", "threads": [{"name": "rust"}, {"name": "teal"}, {"name": "white"}]})
    made, _, new, (plans, _) = recoloured(raw, asked)
    assert plans.plans.different == 6  # all three meet
    used = [row_list(layer.rows).threads[0] for layer in new.design.layers]
    assert sorted(used) == ["rust", "teal", "white"]
    rows, _ = look(made, plans, plans.plans.plans[0])
    assert rows[made.laid.row_layer == 2].tolist() == new.laid.row_thread[new.laid.row_layer == 2].tolist()


def test_a_thread_from_outside_the_design_comes_with_its_plan() -> None:
    new_thread = {"name": "kelp", "colour": "#1d4d3a", "rows_per_cm": 14}
    threads = [{"name": "navy"}, {"name": "rust"}, {"name": "kelp", "new": new_thread}]
    asked = Wishes.model_validate({"layer": "layer 1", "threads": threads})
    _, raw, new, _ = recoloured(design(SQUARES), asked)
    assert raw["threads"][-1]["name"] == "kelp"
    assert [thread.colour for thread in new.design.threads][-1] == "#1d4d3a"


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"layer": "nowhere"}, "there is no layer"),
        ({"threads": [{"name": "navy"}, {"name": "navy"}]}, "named twice"),
        ({"threads": [{"name": "puce"}, {"name": "navy"}]}, "is no thread of this design"),
        ({"threads": [{"name": "navy", "least": 3, "most": 1}]}, "the first number must be the smaller"),
        ({"instead_of": "gold"}, "is in no row"),
        ({"order": "graded"}, "no line to be graded along"),
        ({"by": "layers"}, "fewer than two"),
        ({"threads": [{"name": "navy", "new": {"name": "navy", "colour": "#000000"}}]}, "another navy already"),
    ],
)
def test_what_cannot_be_planned_is_told_plainly(asked: Raw, words: str) -> None:
    made = made_of(design(SQUARES))
    base = {"layer": "layer 1", "threads": [{"name": "navy"}, {"name": "rust"}, {"name": "teal"}]}
    with pytest.raises(DesignError, match=words):
        dozen(made, Wishes.model_validate({**base, **asked}))


def test_there_is_no_thirteenth_plan() -> None:
    with pytest.raises(DesignError, match="there is no plan 13"):
        recoloured(design(SQUARES), wishes("navy", "rust", "teal"), 13)


@pytest.mark.parametrize("text", ["2 navy, 1 white", "3 x (1 navy, 1 white)", "4 navy", "until obi: 2 navy, 1 white"])
def test_row_lists_read_back_as_they_were(text: str) -> None:
    rows = row_list(text)
    assert row_list(row_text(rows.threads, rows.until)) == rows
    assert row_text(rows.threads, rows.until) == text
