"""The balls of the demonstration show: each can be made as it stands."""

from pathlib import Path

import pytest

from polestitch.document.codec import read
from polestitch.pipeline import build
from polestitch.workup import workup

BALLS = sorted((Path(__file__).parents[1] / "examples" / "harbour-lights" / "balls").glob("*.json"))


def test_the_show_has_at_least_nine_balls_with_those_of_the_shelf() -> None:
    assert len(BALLS) + 3 >= 9


@pytest.mark.slow
@pytest.mark.parametrize("path", BALLS, ids=lambda path: path.stem)
def test_nothing_stands_in_the_way_of_a_ball_of_the_show(path: Path) -> None:
    known = workup(build(read(path.read_text(encoding="utf-8"))))
    assert [finding.sentence for finding in known.findings if finding.severity != "note"] == []
    assert all(thread.total_mm > 0 for thread in known.estimate.threads)
