"""A real studio, and Debian's Chromium with WebGL in software and nothing sent to the outside."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from tests.e2e.studio import Studio

CHROMIUM = "/usr/bin/chromium"
SOFTWARE_WEBGL = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
QUIET = [
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-default-apps",
]
BUILT = Path(__file__).parents[2] / "src/polestitch/studio/static/index.html"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Every story is slow."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.slow)


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, Any]:
    return {"executable_path": CHROMIUM, "args": [*SOFTWARE_WEBGL, *QUIET]}


@pytest.fixture(scope="session")
def browser_context_args() -> dict[str, Any]:
    return {"viewport": {"width": 1440, "height": 900}, "locale": "en-GB"}


@pytest.fixture(scope="session")
def studio(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Studio]:
    """One studio for all stories that leave it running."""
    assert BUILT.is_file(), "the front end is not built; run npm ci and npm run build in web/"
    running = Studio(tmp_path_factory.mktemp("data")).start()
    yield running
    running.stop()


@pytest.fixture
def page(page: Page) -> Iterator[Page]:
    """A page on which no mistake in a script goes unseen."""
    mistakes: list[str] = []
    page.on("pageerror", lambda error: mistakes.append(str(error)))
    page.set_default_timeout(20_000)
    yield page
    assert mistakes == []
