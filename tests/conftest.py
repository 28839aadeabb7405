"""What every test shares: Hypothesis profiles and the ``--update-golden`` switch."""

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# Two cores may be shared with other work, so a slow example says nothing about the code.
settings.register_profile("dev", deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", settings.get_profile("dev"), derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "dev")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update-golden", action="store_true", help="write golden files anew instead of comparing")


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> "Golden":
    """Compares text with a readable file under ``tests/golden/``."""
    return Golden(request.config.getoption("--update-golden"))


class Golden:
    """One switch for all golden files: compare, or write anew."""

    folder = Path(__file__).parent / "golden"

    def __init__(self, update: bool) -> None:
        self.update = update

    def check(self, name: str, text: str) -> None:
        """Compare ``text`` with the golden file called ``name``."""
        path = self.folder / name
        if self.update:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        assert path.exists(), f"no golden file {name}; make it with: make golden"
        assert text == path.read_text(encoding="utf-8")
