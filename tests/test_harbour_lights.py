"""The balls of the demonstration show: each can be made as it stands."""

from pathlib import Path

import pytest

from polestitch.document.codec import read
from polestitch.pipeline import build
from polestitch.showing.exhibition import Exhibition
from polestitch.workup import workup

EXAMPLES = Path(__file__).parents[1] / "examples"
BALLS = sorted((EXAMPLES / "harbour-lights" / "balls").glob("*.json"))


def test_the_show_has_at_least_nine_balls_those_of_the_shelf_among_them() -> None:
    assert len(BALLS) >= 9
    for path in EXAMPLES.glob("*.json"):
        assert (EXAMPLES / "harbour-lights" / "balls" / path.name).read_bytes() == path.read_bytes()


def test_each_ball_of_the_show_has_a_record_and_a_place() -> None:
    show = Exhibition.model_validate_json((EXAMPLES / "harbour-lights" / "show.json").read_bytes())
    assert sorted(str(record.design) for record in show.records) == [f"balls/{path.name}" for path in BALLS]
    assert [shown.number for shown in show.shown if not shown.case] == []


@pytest.mark.slow
@pytest.mark.parametrize("path", BALLS, ids=lambda path: path.stem)
def test_nothing_stands_in_the_way_of_a_ball_of_the_show(path: Path) -> None:
    known = workup(build(read(path.read_text(encoding="utf-8"))))
    assert [finding.sentence for finding in known.findings if finding.severity != "note"] == []
    assert all(thread.total_mm > 0 for thread in known.estimate.threads)
