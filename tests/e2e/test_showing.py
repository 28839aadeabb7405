"""Pieces and shows: a record is kept as she writes, a show is opened, its case set up and its papers written."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.e2e.studio import Studio
from tests.e2e.test_rooms import AXE, WCAG


@pytest.fixture(scope="module")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Studio]:
    """A studio whose pieces and shows are this file's alone."""
    running = Studio(tmp_path_factory.mktemp("showing")).start()
    yield running
    running.stop()


def axe(page: Page) -> None:
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("tags => axe.run({runOnly: tags})", WCAG)["violations"]
    assert [(each["id"], [node["target"] for node in each["nodes"]]) for each in found] == []


def record(studio: Studio, number: str) -> dict[str, Any]:
    """The record with this number, as it is kept."""
    (card,) = [card for card in studio.ask("/records")["records"] if card["number"] == number]
    return dict(studio.ask(f"/records/{card['id']}")["record"])


def test_a_record_is_kept_as_she_writes_and_one_wrong_field_keeps_nothing_else_back(page: Page, fresh: Studio) -> None:
    page.goto(f"{fresh.address}#/pieces")
    page.get_by_role("button", name="New piece").first.click()
    axe(page)
    page.get_by_role("dialog").get_by_role("button", name="Quay lamps").click()
    expect(page.get_by_label("Division")).to_have_value("S16+obi")
    page.get_by_label("Title", exact=True).fill("Lamps on the quay")
    page.get_by_label("Price", exact=True).fill("240")
    page.get_by_label("Text", exact=True).fill("Sixteen lamps, and the water doubles them.")
    expect(page.get_by_text("Not kept: '240' is no amount of money")).to_be_visible()
    expect(page.get_by_role("figure")).to_contain_text("and the water doubles them")
    expect(page.get_by_text("Kept, but for one field")).to_be_visible()
    assert (record(fresh, "01")["title"], record(fresh, "01")["price"]) == ("Lamps on the quay", None)
    axe(page)
    page.get_by_label("Price", exact=True).fill("240 eur")
    expect(page.get_by_text("✓ Kept")).to_be_visible()
    assert record(fresh, "01")["price"] == "240 EUR"
    page.reload()
    expect(page.get_by_label("Text", exact=True)).to_have_value("Sixteen lamps, and the water doubles them.")
    page.get_by_role("button", name="Put away").click()
    expect(page.get_by_role("button", name="Bring back")).to_be_visible()


def test_a_case_is_set_up_and_its_papers_are_written(page: Page, fresh: Studio) -> None:
    # Drawing ten balls takes longer than the whole story.
    page.route("**/api/records/*/picture*", lambda route: route.abort())
    page.goto(f"{fresh.address}#/shows")
    page.get_by_role("button", name="Open the Harbour Lights show").click()
    expect(page.get_by_role("heading", name="Harbour Lights")).to_be_visible()
    ball = page.get_by_role("slider", name="HL-09")
    expect(ball).to_have_attribute("aria-valuenow", "300")
    ball.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    expect(ball).to_have_attribute("aria-valuenow", "306")
    box, other = ball.bounding_box(), page.get_by_role("slider", name="HL-10").bounding_box()
    assert box is not None
    assert other is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["width"] / 2)
    page.mouse.down()
    page.mouse.move(other["x"], other["y"] + other["height"] / 2, steps=4)
    page.mouse.up()
    expect(page.get_by_text("HL-09 and HL-10 on shelf 1 would overlap").first).to_be_visible()
    page.get_by_role("button", name="HL-02 earlier").click()
    expect(page.get_by_role("listitem").filter(has=page.get_by_role("button", name="HL-02 later"))).to_contain_text("1")
    axe(page)
    page.get_by_role("button", name="Text to be read aloud").click()
    with page.expect_download() as saving:
        page.get_by_role("link", name="Save harbour-lights-reading-text.txt").click()
    words = saving.value.path().read_text(encoding="utf-8")
    assert words.index("Quay Lamps") < words.index("First Ferry")
    (card,) = fresh.ask("/shows")["shows"]
    shown = fresh.ask(f"/shows/{card['id']}")["show"]["shown"]
    assert [each["number"] for each in shown[:2]] == ["HL-02", "HL-01"]
