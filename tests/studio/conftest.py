"""The app in this process, against a store in a temporary folder; workers are real processes."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from polestitch.store.store import Store, opened
from polestitch.studio.app import application
from polestitch.studio.examples import example
from polestitch.studio.studio import Studio, studio_of

HERE = "http://127.0.0.1:8647"
PAGE = "<!doctype html><title>Polestitch</title>"


def front_end(folder: Path) -> Path:
    """A front end of one page and one script."""
    (folder / "assets").mkdir(parents=True)
    (folder / "index.html").write_text(PAGE)
    (folder / "assets" / "main-abc123.js").write_text("export {}")
    return folder


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    made = opened(tmp_path / "data")
    yield made
    made.close()


@pytest.fixture
def studio(store: Store, tmp_path: Path) -> Studio:
    return studio_of(store, front_end(tmp_path / "static"))


@pytest.fixture
def client(studio: Studio) -> Iterator[TestClient]:
    with TestClient(application(studio), base_url=HERE) as made:
        yield made


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """One app for a whole module: starting a worker takes a second."""
    folder = tmp_path_factory.mktemp("bench")
    store = opened(folder / "data")
    with TestClient(application(studio_of(store, front_end(folder / "static"))), base_url=HERE) as made:
        yield made
    store.close()


@pytest.fixture
def lamps() -> dict[str, Any]:
    raw = example("quay-lamps")
    assert raw is not None
    return raw


@pytest.fixture
def bare() -> dict[str, Any]:
    """A ball with one small layer."""
    return {
        "format": 1,
        "name": "Buoy",
        "ball": {"around": "20 cm"},
        "threads": [{"name": "red", "colour": "#b5472b"}],
        "marking": {"division": "S6"},
        "layers": [{"name": "petals", "technique": "uwagake", "where": "N", "rows": "2 red"}],
    }
