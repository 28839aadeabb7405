"""A class is planned on the screen: what fits is told, a measured ball is planned anew, steps are shown large."""

from typing import Any

import pdfplumber
from playwright.sync_api import Page, expect

from tests.e2e.hands import until
from tests.e2e.studio import Studio
from tests.e2e.test_rooms import AXE, WCAG

# A kiku at each pole, as in a first class.
STAR = {
    "name": "star",
    "technique": "uwagake",
    "where": "N and S",
    "rows": "3 cream, 2 rust, 1 cream",
    "params": {"outer": "1/3 from obi", "inner": "6 mm"},
}
WORKED = 20_000  # ms until a fresh worker has started and worked a class out on a busy machine


def axe(page: Page) -> None:
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("tags => axe.run({runOnly: tags})", WCAG)["violations"]
    assert [(each["id"], [node["target"] for node in each["nodes"]]) for each in found] == []


def kept(studio: Studio, title: str) -> dict[str, Any]:
    """The class of this title as the studio has it."""
    (card,) = [card for card in studio.ask("/classes")["classes"] if card["title"] == title]
    return dict(studio.ask(f"/classes/{card['id']}"))


def test_a_class_is_planned_and_kept_as_it_is_typed(page: Page, studio: Studio) -> None:
    studio.new("Class lamps", marking={"division": "S8+obi", "thread": "gold"}, layers=[STAR])
    page.goto(f"{studio.address}#/classes")
    page.get_by_role("button", name="Plan a class").click()
    page.get_by_role("dialog").get_by_label("Design").select_option(label="Class lamps, 250 mm")
    page.get_by_label("What the class is called").fill("Net loft evenings")
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.locator(".verdict")).to_contain_text("Only a quick hand finishes", timeout=WORKED)
    page.get_by_role("button", name="One more session").click()
    page.get_by_label("The balls are wound").check()
    expect(page.locator(".verdict")).to_contain_text("It fits", timeout=WORKED)
    page.get_by_label("Name of student 1").fill("Oda")
    page.get_by_label("Ball of student 1, mm round").fill("238")
    page.get_by_label("Ball of student 1, mm round").press("Tab")
    expect(page.get_by_role("rowheader", name="1 Oda")).to_contain_text("238 mm round", timeout=WORKED)
    until(
        lambda: kept(studio, "Net loft evenings")["document"]["named"] == [{"name": "Oda", "around": "238 mm"}], "kept"
    )
    axe(page)


def test_steps_are_shown_large_and_a_paper_is_made(page: Page, studio: Studio) -> None:
    design = studio.new("Shown lamps")
    made = studio.ask("/classes", {"design": design, "title": "To show"})
    page.goto(f"{studio.address}#/classes/{made['card']['id']}")
    page.get_by_role("button", name="First bite of amber petals").click()
    teach = page.get_by_role("dialog")
    first = teach.locator("#teach-say").inner_text()
    page.keyboard.press("ArrowRight")
    expect(teach.locator("#teach-say")).not_to_have_text(first)
    page.keyboard.press("ArrowLeft")
    expect(teach.locator("#teach-say")).to_have_text(first)
    page.keyboard.press("Escape")
    expect(teach).to_be_hidden()
    page.get_by_label("Which paper").select_option("kit-list")
    page.get_by_role("button", name="Make the kit list").click()
    with page.expect_download() as saved:
        page.get_by_role("link", name="Save the kit list").click()
    with pdfplumber.open(saved.value.path()) as file:
        assert "Pins with white heads" in file.pages[0].extract_text()


def test_put_away_and_brought_back(page: Page, studio: Studio) -> None:
    studio.ask("/classes", {"design": studio.new("Away lamps"), "title": "Not this year"})
    page.goto(f"{studio.address}#/classes")
    page.get_by_role("button", name="Put away Not this year").click()
    expect(page.get_by_role("link", name="Not this year")).to_be_hidden()
    page.get_by_role("button", name="Bring back").click()
    expect(page.get_by_role("link", name="Not this year")).to_be_visible()
    axe(page)
