"""The Drawer: threads written down, lists of three spreadsheets' habits, and whether there is enough."""

import colorsys
import io
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Browser, FilePayload, Page, expect

from tests.e2e.hands import until
from tests.e2e.studio import Studio
from tests.e2e.test_rooms import AXE, WCAG

# The habits of three programs that write CSV: RFC 4180 with commas; semicolons, decimal commas and a BOM as where the
# comma is the decimal sign; tabs in UTF-16.  From memory of what each writes.
HABITS = {
    "commas.csv": b'name,colour,size,left\r\n"Kelp, deep",#1d4d3a,pearl 5,"12.5 m"\r\n',
    "semicolons.csv": "\ufeffsize;left;name;colour\r\npearl 5;12,5 m;Rust, old;#8a3b1e\r\n".encode(),
    "tabs.txt": "name\tcolour\tleft\tshelf\r\nFoam\t#e8eef0\t\tB2\r\n".encode("utf-16"),
}
NAMES = {"commas.csv": "Kelp, deep", "semicolons.csv": "Rust, old", "tabs.txt": "Foam"}


def drawer(page: Page, studio: Studio) -> Page:
    page.goto(f"{studio.address}#/drawer")
    page.get_by_role("button", name="Add a thread").first.wait_for()
    return page


def threads(studio: Studio) -> dict[str, dict[str, Any]]:
    """What lies in the Drawer, by name."""
    return {thread["name"]: thread for thread in studio.ask("/threads")["threads"]}


def axe(page: Page) -> None:
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("tags => axe.run({runOnly: tags})", WCAG)["violations"]
    assert [(each["id"], [node["target"] for node in each["nodes"]]) for each in found] == []


def choose(page: Page, name: str, content: bytes) -> None:
    """A list chosen in the file window."""
    file: FilePayload = {"name": name, "mimeType": "text/csv", "buffer": content}
    page.locator("main input[type=file]").set_input_files(file)
    page.get_by_role("dialog").wait_for()


def test_a_thread_is_written_down_with_a_colour_from_a_photo(page: Page, studio: Studio) -> None:
    photo = io.BytesIO()
    rgb = tuple(round(255 * part) for part in colorsys.hsv_to_rgb(0.58, 0.7, 0.5))
    Image.new("RGB", (60, 60), rgb).save(photo, "PNG")
    drawer(page, studio).get_by_role("button", name="Add a thread").first.click()
    axe(page)
    page.get_by_role("dialog").get_by_label("Name").fill("Harbour blue")
    wool: FilePayload = {"name": "wool.png", "mimeType": "image/png", "buffer": photo.getvalue()}
    page.get_by_role("dialog").locator("input[type=file]").set_input_files(wool)
    page.get_by_role("button", name="Take #").first.click()
    page.get_by_label("Left").fill("12,5 m")
    page.get_by_role("dialog").get_by_label("Shelf").fill("A1")
    page.get_by_role("button", name="Keep it in the Drawer").click()
    expect(page.get_by_role("article")).to_contain_text("12.5 m left")
    kept = threads(studio)["Harbour blue"]
    assert kept["left_mm"] == pytest.approx(12_500)
    # One flat colour has one dye, give or take the photo's own reduction.
    found = [int(kept["colour"][k : k + 2], 16) for k in (1, 3, 5)]
    assert max(abs(a - b) for a, b in zip(found, rgb)) <= 4


@pytest.mark.parametrize("name", HABITS)
def test_a_list_is_looked_at_before_it_is_taken(page: Page, studio: Studio, name: str) -> None:
    drawer(page, studio)
    choose(page, name, HABITS[name])
    expect(page.get_by_role("dialog").get_by_role("row").nth(1)).to_contain_text("new")
    assert NAMES[name] not in threads(studio)
    page.get_by_role("button", name="Take 1 thread").click()
    until(lambda: NAMES[name] in threads(studio), "taken")
    page.get_by_role("dialog").wait_for(state="hidden")
    if name != "tabs.txt":
        assert threads(studio)[NAMES[name]]["left_mm"] == pytest.approx(12_500)
    choose(page, name, HABITS[name])
    expect(page.get_by_role("button", name="Nothing new in it")).to_be_disabled()


def test_what_is_wrong_in_a_list_is_said_by_its_line(page: Page, studio: Studio) -> None:
    drawer(page, studio)
    choose(page, "wrong.csv", b"name,colour,left\nSlate,#445566,5 m\nMoss,green?,3 m\n")
    expect(page.get_by_role("dialog")).to_contain_text("Line 3")
    axe(page)


def test_enough_or_not_and_put_away_with_a_way_back(browser: Browser, studio: Studio) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, color_scheme="dark")
    page = context.new_page()
    page.set_default_timeout(20_000)
    studio.ask("/threads", {"name": "Buoy red", "colour": "#c0392b", "left_mm": 5000})
    drawer(page, studio)
    page.get_by_text("Buoy red").wait_for()
    axe(page)
    page.get_by_role("button", name="Put Buoy red away").tap()
    expect(page.get_by_role("article").filter(has_text="Buoy red")).to_have_count(0)
    page.get_by_role("button", name="Bring back").tap()
    expect(page.get_by_role("article").filter(has_text="Buoy red")).to_have_count(1)
    page.get_by_role("button", name="Is there enough?").tap()
    page.get_by_label("For").select_option(label="Quay lamps")
    dialog = page.get_by_role("dialog")
    expect(dialog.get_by_role("status")).to_contain_text("short", timeout=30_000)
    expect(dialog).to_contain_text("The nearest you own is")
    axe(page)
    context.close()
