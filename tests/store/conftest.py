"""A store in a temporary folder, and a clock that stands still until it is told to go on."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from polestitch.store.store import Store, opened


class Clock:
    def __init__(self) -> None:
        self.time = datetime(2026, 12, 6, 9, 30, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.time += timedelta(microseconds=1)
        return self.time


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def store(tmp_path: Path, clock: Clock) -> Iterator[Store]:
    made = opened(tmp_path / "data", clock)
    yield made
    made.close()


@pytest.fixture
def lamp() -> dict[str, Any]:
    return {
        "format": 1,
        "name": "Lamp",
        "ball": {"around": "24 cm"},
        "threads": [{"name": "amber", "colour": "#e0952f"}],
        "marking": {"division": "S8"},
        "layers": [],
    }
