"""The pin survey in the studio: a newcomer with a strip, a ball whose pins are off, and what the page tells her."""

import numpy as np
from playwright.sync_api import FilePayload, Page, expect

from tests.e2e.hands import kept, until
from tests.e2e.studio import Studio
from tests.e2e.test_drawer import axe
from tests.survey.balls import Set, pinned


def at_survey(page: Page, studio: Studio, design: str) -> Page:
    page.goto(f"{studio.address}#/bench/{design}/survey")
    page.wait_for_selector("canvas[data-revision]")
    expect(page.get_by_text("By the plan it is about")).to_be_visible()
    return page


def strip(ball: Set, page: Page, luck: np.random.Generator) -> str:
    """What her strip reads between the two pins the page asks for, to half a millimetre."""
    expect(page.get_by_role("combobox", name="To")).not_to_have_value("")
    first, second = (page.get_by_role("combobox", name=end).input_value() for end in ("From", "To"))
    read = ball.read(ball.names.index(first), ball.names.index(second), luck.normal(0, 0.3))
    return f"{round(read.mm * 2) / 2:g}".replace(".", ",")


def test_a_newcomer_reads_her_pins_and_is_told_which_to_move(page: Page, studio: Studio) -> None:
    luck = np.random.default_rng(21)
    ball = pinned("S3+obi", 1.5, luck)
    design = studio.new("Quay lamps to survey", marking={"division": "S3+obi"}, layers=[])
    at_survey(page, studio, design)
    distance = page.get_by_label("Distance")
    for _ in range(9):
        distance.fill(strip(ball, page, luck))
        distance.press("Enter")
    told = page.get_by_role("region", name="What the readings tell")
    until(lambda: told.get_attribute("aria-busy") == "false", "answered")
    expect(told.get_by_text("Move the pin of").first).to_be_visible()
    until(lambda: len(studio.ask(f"/designs/{design}/survey")["survey"]["readings"]) == 9, "kept")
    assert int(page.locator("canvas").get_attribute("data-arrows") or 0) >= 1
    told.get_by_role("checkbox").first.check()
    expect(told.get_by_role("button", name="Set them aside")).to_be_visible()
    kept(page)
    axe(page)
    page.reload()
    expect(page.get_by_role("region", name="Your readings").get_by_role("listitem")).to_have_count(9)
    expect(told.get_by_role("checkbox").first).to_be_checked()


def test_two_pins_are_tapped_and_a_mistake_is_told_by_its_line(page: Page, studio: Studio) -> None:
    design = studio.new("Tapped pins", layers=[])
    at_survey(page, studio, design)
    page.get_by_role("button", name="obi 1", exact=True).click()
    page.get_by_role("button", name="N", exact=True).click()
    distance = page.get_by_label("Distance")
    expect(distance).to_be_focused()
    page.keyboard.type("6.25 cm")
    page.keyboard.press("Enter")
    readings = page.get_by_role("region", name="Your readings")
    expect(readings).to_contain_text("obi 1 – N")
    readings.get_by_label("Reading 1, obi 1 to N").fill("62 feet")
    readings.get_by_label("Reading 1, obi 1 to N").press("Tab")
    expect(readings).to_contain_text('"62 feet" is no distance between pins')
    page.get_by_role("button", name="Undo").click()
    expect(readings.get_by_label("Reading 1, obi 1 to N")).to_have_value("6.25 cm")
    page.get_by_text("Readings from a table").click()
    wrong: FilePayload = {
        "name": "pins.csv",
        "mimeType": "text/csv",
        "buffer": b"from;to;mm\r\nN;obi 2;62,5\r\nN;obi 3;far\r\n",
    }
    page.locator("main input[type=file]").set_input_files(wrong)
    expect(page.get_by_role("alert")).to_contain_text("line 3")
    page.get_by_label("Or paste it here").fill("to\tfrom\tdistance\nobi 2\tN\t62,5\n")
    page.get_by_role("button", name="Take these readings").click()
    expect(page.get_by_text("1 reading was added.")).to_be_visible()
    expect(readings.get_by_role("listitem")).to_have_count(2)
