"""What a person does at the studio, in the words of the screen."""

import io
import re
import time
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from playwright.sync_api import Locator, Page, expect

from tests.e2e.studio import Studio

SHOWN = "canvas[data-revision]"


def at_bench(page: Page, studio: Studio, design: str) -> Page:
    """The Bench with the ball in sight and everything kept."""
    page.goto(f"{studio.address}#/bench/{design}")
    page.wait_for_selector(SHOWN)
    return page


def panel(page: Page, name: str) -> Locator:
    """The panel in hand called ``name``."""
    page.get_by_role("tab", name=re.compile(rf"^{name}\s*\d*$")).click()
    return page.get_by_role("tabpanel")


def write(page: Page, label: str, text: str) -> None:
    """Write over the field called ``label``, as one does: then go on with Tab."""
    field = page.get_by_role("tabpanel").get_by_label(label, exact=True)
    field.fill(text)
    field.press("Tab")


def kept(page: Page) -> None:
    """Wait until the studio says that everything is kept."""
    expect(page.locator(".kept")).to_have_text("Kept")


def until(holds: Callable[[], bool], what: str, seconds: float = 20) -> None:
    """Wait until ``holds``."""
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end, what
        time.sleep(0.05)


def rested(page: Page) -> None:
    """Wait until the ball stands still and is drawn sharp."""
    frames = ""
    while frames != (frames := page.locator(SHOWN).get_attribute("data-frames") or ""):
        page.wait_for_timeout(700)


def picture(page: Page) -> NDArray[np.float64]:
    """(h, w, 3) what is seen of the ball."""
    rested(page)
    return np.asarray(Image.open(io.BytesIO(page.locator("canvas").screenshot())).convert("RGB"), dtype=float)
