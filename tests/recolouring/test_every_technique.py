"""Every technique can be coloured by its rows, and by its motifs where it has several."""

import json
from typing import Any

import numpy as np
import pytest

from polestitch.document.codec import read
from polestitch.errors import DesignError
from polestitch.pipeline import Build, build
from polestitch.recolouring.applied import applied
from polestitch.recolouring.coloured import NOBODY
from polestitch.recolouring.dozen import Dozen, dozen
from polestitch.recolouring.pictures import look
from polestitch.recolouring.wishes import Wishes
from polestitch.stitching.technique import names, technique
from tests.builds import document

THREADS = [
    {"name": name, "colour": colour, "rows_per_cm": 14}
    for name, colour in (("navy", "#1d2b5a"), ("white", "#f4f1ea"), ("gold", "#d9b24a"), ("rust", "#b5472b"))
]
Raw = dict[str, Any]


def example(name: str) -> Raw:
    """A ball with nothing but the technique's own example, on a ground no thread looks like."""
    raw = dict(technique(name).EXAMPLE)
    division, support = raw.pop("division"), raw.pop("support", [])
    rest = {key: raw.pop(key) for key in list(raw) if key not in _LAYER}
    assert not rest, f"an example says {rest}"
    marking = {"division": division, "support": support}
    return document({"technique": name, **raw}, division=division, format=1, threads=THREADS, marking=marking)


_LAYER = {"where", "rows", "params", "start", "direction", "combine", "under"}


def planned(raw: Raw, by: str) -> tuple[Build, Dozen] | None:
    """Plans in white and rust; ``None`` where there is one part only."""
    made = build(read(json.dumps(raw)))
    wishes = {"by": by, "layer": "layer 1", "neighbours_differ": False}
    threads = [{"name": "white", "least": 0}, {"name": "rust", "least": 1}]
    try:
        return made, dozen(made, Wishes.model_validate({**wishes, "threads": threads}))
    except DesignError as error:
        if "needs several" not in error.what:
            raise
        return None


@pytest.mark.slow
@pytest.mark.parametrize("name", names())
def test_rows_have_the_threads_the_picture_shows(name: str) -> None:
    raw = example(name)
    found = planned(raw, "rows")
    if found is None:
        return
    made, plans = found
    rows, _ = look(made, plans, plans.plans.plans[0])
    new = build(read(json.dumps(applied(raw, made, plans, 1).document)))
    assert np.array_equal(new.laid.row_thread, rows)
    assert (plans.coloured.rows != NOBODY).all()  # no row is forgotten


@pytest.mark.slow
@pytest.mark.parametrize("name", names())
def test_motifs_keep_every_crossing(name: str) -> None:
    raw = example(name)
    if len(build(read(json.dumps(raw))).motifs) < 2 and technique(name).PLACE == "centre":
        raw["layers"][0]["where"] = "N and S"
    found = planned(raw, "motifs")
    if found is None:
        return
    made, plans = found
    new = applied(raw, made, plans, 1)
    again = build(read(json.dumps(new.document)))
    assert new.changed == 0
    assert len(again.crossings) == len(made.crossings)
    rows, _ = look(made, plans, plans.plans.plans[0])
    assert np.array_equal(np.bincount(rows, minlength=4), np.bincount(again.laid.row_thread, minlength=4))
