"""A terminal, and the designs of the examples."""

from pathlib import Path

import pytest

from tests.cli.terminal import Terminal

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def terminal(capsys: pytest.CaptureFixture[str]) -> Terminal:
    return Terminal(capsys)


@pytest.fixture
def design() -> Path:
    """A demo design that builds."""
    return EXAMPLES / "quay-lamps.json"


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A design of one short layer, quick to build."""
    path = tmp_path / "buoy.json"
    path.write_text(
        """{"format": 1, "name": "Buoy", "ball": {"around": "200 mm"},
        "threads": [{"name": "red", "colour": "#b33"}], "marking": {"division": "S4"},
        "layers": [{"name": "square", "technique": "polygon", "where": "N", "rows": "2 red"}]}""",
        encoding="utf-8",
    )
    return path
