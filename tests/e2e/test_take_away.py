"""Taking work away: each kind is a file of its kind, and what takes long can be stopped."""

import io
import re
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import FilePayload, Page, expect

from tests.e2e.hands import at_bench, kept, panel, until
from tests.e2e.studio import Studio

# First bytes: PDF 2.0 section 7.5.2; PNG section 5.2; glTF 2.0 section 4.4.2 (from memory)
KINDS = {
    "Measuring strip": b"%PDF-",
    "Charts": b"%PDF-",
    "Picture": b"\x89PNG\r\n\x1a\n",
    "3D model": b"glTF",
    "Design document": b"{",
}


@pytest.mark.parametrize("kind", KINDS)
def test_a_file_of_its_kind_comes(page: Page, studio: Studio, kind: str) -> None:
    at_bench(page, studio, studio.new(f"Taken as {kind}"))
    page.get_by_role("button", name="Take away").click()
    page.get_by_role("dialog").get_by_role("button", name=re.compile(f"^{kind}")).click()
    page.get_by_role("button", name="Make it").click()
    with page.expect_download(timeout=120_000) as coming:
        page.get_by_role("link", name=re.compile("^Save ")).click(timeout=120_000)
    data = Path(coming.value.path()).read_bytes()
    assert data.startswith(KINDS[kind])
    assert len(data) > 500


def test_what_takes_long_is_stopped(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Stopped"))
    page.get_by_role("button", name="Take away").click()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("^Turning picture")).click()
    page.get_by_role("button", name="Make it").click()
    page.get_by_role("button", name="Stop").click()
    expect(page.get_by_text("Nothing was made")).to_be_visible()
    expect(page.get_by_role("button", name="Make it")).to_be_visible()


def test_a_photo_gives_its_colours(page: Page, studio: Studio) -> None:
    photo = Image.new("RGB", (240, 80), (200, 30, 40))
    photo.paste((20, 60, 160), (0, 0, 120, 80))
    data = io.BytesIO()
    photo.save(data, "PNG")
    at_bench(page, studio, studio.new("From a photo"))
    hand = panel(page, "Colours")
    file: FilePayload = {"name": "quay.png", "mimeType": "image/png", "buffer": data.getvalue()}
    hand.locator("input[type=file]").set_input_files(file)
    hand.get_by_role("button", name="Use them in this order").click()
    kept(page)

    def near(colour: str, wanted: tuple[int, int, int]) -> bool:
        channels = [int(colour[k : k + 2], 16) for k in (1, 3, 5)]
        return max(abs(a - b) for a, b in zip(channels, wanted)) < 24

    def taken() -> bool:
        dyes = [thread["colour"] for thread in studio.document("From a photo")["threads"]][:2]
        return all(any(near(dye, wanted) for dye in dyes) for wanted in ((200, 30, 40), (20, 60, 160)))

    until(taken, "the first two threads have the photo's colours")
