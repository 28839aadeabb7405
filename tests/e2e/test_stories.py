"""What a person does, from the first start to the printed booklet, in a real browser against the real studio."""

import io
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser, FilePayload, Page, expect
from pypdf import PdfReader

from tests.e2e.hands import SHOWN, at_bench, kept, panel, picture, rested, until, write
from tests.e2e.studio import Studio


def test_at_first_start_the_harbour_lights_lie_on_the_shelf(page: Page, studio: Studio) -> None:
    page.goto(studio.address)
    for name in ("Quay lamps", "Salt squares", "Winter beacons"):
        expect(page.get_by_role("link", name=name, exact=True).first).to_be_visible()
    wide = (
        "() => [...document.querySelectorAll('article img')].filter((i) => i.complete && i.naturalWidth > 200).length"
    )
    until(lambda: page.evaluate(wide) >= 3, "three real pictures")


def test_nothing_is_asked_of_any_other_machine(page: Page, studio: Studio) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(studio.address)
    page.get_by_role("link", name="Salt squares", exact=True).first.click()
    page.wait_for_selector(SHOWN)
    outside = [url for url in asked if not url.startswith((studio.address, "data:", f"blob:{studio.address}"))]
    assert len(asked) > 8
    assert outside == []


def test_a_ball_from_nothing_to_a_booklet(page: Page, studio: Studio) -> None:
    page.goto(studio.address)
    page.get_by_role("button", name="New ball").first.click()
    page.get_by_label("From the ball in your hand").fill("247 mm")
    page.get_by_role("button", name="Begin", exact=True).click()
    page.wait_for_selector(SHOWN)
    page.get_by_label("Name of the ball").fill("First light")
    page.get_by_label("Name of the ball").press("Tab")
    for technique in ("Uwagake", "Zigzag"):
        page.get_by_role("button", name="Add a layer").first.click()
        page.get_by_role("dialog").get_by_role("button", name=re.compile(f"^{technique}")).click()
        expect(page.get_by_role("dialog")).to_have_count(0)
    expect(page.locator("ol .name")).to_have_count(2)
    kept(page)
    page.get_by_role("button", name="Take away").click()
    page.get_by_role("button", name="Make it").click()
    with page.expect_download(timeout=120_000) as coming:
        page.get_by_role("link", name="Save booklet").click(timeout=120_000)
    booklet = PdfReader(io.BytesIO(Path(coming.value.path()).read_bytes()))
    assert len(booklet.pages) >= 4
    assert "First light" in "".join(page_.extract_text() for page_ in booklet.pages)
    assert studio.document("First light")["ball"]["around"] == "247 mm"


def test_the_ball_is_alive_and_its_picture_is_not_flat(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Alive"))
    alive = "c => { const gl = c.getContext('webgl2'); return gl !== null && !gl.isContextLost(); }"
    assert page.locator("canvas").evaluate(alive)
    seen = picture(page)
    middle = seen[seen.shape[0] // 4 : -seen.shape[0] // 4, seen.shape[1] // 4 : -seen.shape[1] // 4]
    assert middle.std(axis=(0, 1)).min() > 20
    assert int(page.locator("canvas").get_attribute("data-threads") or 0) > 500


def test_a_still_ball_draws_nothing(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Still"))
    rested(page)
    before = page.locator("canvas").get_attribute("data-frames")
    page.wait_for_timeout(1500)
    assert page.locator("canvas").get_attribute("data-frames") == before


@pytest.mark.parametrize("how", ["mouse", "keys"])
def test_the_ball_turns(page: Page, studio: Studio, how: str) -> None:
    at_bench(page, studio, studio.new(f"Turns by {how}"))
    before = picture(page)
    if how == "keys":
        page.locator("canvas").focus()
        for _ in range(4):
            page.keyboard.press("ArrowLeft")
    else:
        page.mouse.move(700, 400)
        page.mouse.down()
        page.mouse.move(610, 430, steps=6)
        page.mouse.up()
    assert np.abs(picture(page) - before).mean() > 3


def test_the_ruler_measures_a_quarter_of_the_ball(page: Page, studio: Studio) -> None:
    """From N to the obi it is a quarter of the way round: 62½ of 250 mm."""
    at_bench(page, studio, studio.new("Measured", ball={"around": "250 mm", "colour": "#16233a"}))
    rested(page)
    page.locator("body").press("n")
    page.locator("body").press("r")
    box = page.locator("canvas").bounding_box()
    assert box is not None
    for name in ("N", "obi 1"):
        label = page.locator(".mark-label", has_text=re.compile(f"^{name}$"))
        moved = re.findall(r"[-\d.]+(?=px)", label.evaluate("e => e.style.transform"))
        page.mouse.click(box["x"] + float(moved[0]), box["y"] + float(moved[1]))
    expect(page.locator(".mark-rule")).to_have_text("62½ mm")


def test_rows_are_laid_one_by_one(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Row by row"))
    whole = int(page.locator("canvas").get_attribute("data-threads") or 0)
    page.get_by_label("Rows laid").fill("1")
    first = int(page.locator("canvas").get_attribute("data-threads") or 0)
    assert 0 < first < whole / 10
    page.locator("body").press("]")
    expect(page.get_by_label("Rows laid")).to_have_value("2")


Read = Callable[[dict[str, Any]], object]
EDITS: list[tuple[str, str, str, Read]] = [
    ("Layer", "Outer", "1/4 from obi", lambda d: d["layers"][0]["params"]["outer"]),
    ("Layer", "Rows in words", "1 cream, 4 rust", lambda d: d["layers"][0]["rows"]),
    ("Layer", "Where", "N", lambda d: d["layers"][0]["where"]),
    ("Ball", "Round the ball", "26 cm", lambda d: d["ball"]["around"]),
    ("Ball", "Step at a narrow tip", "3 mm", lambda d: d["maker"]["stretch"]),
]


@pytest.mark.parametrize("edit", EDITS, ids=[edit[1] for edit in EDITS])
def test_an_edit_is_kept_and_undone(page: Page, studio: Studio, edit: tuple[str, str, str, Read]) -> None:
    where, label, text, read = edit
    name = f"Edited {label}"
    at_bench(page, studio, studio.new(name))
    before = studio.document(name)
    panel(page, where)
    field = page.get_by_role("tabpanel").get_by_label(re.compile(f"^{re.escape(label)}")).first
    field.fill(text)
    field.press("Tab")
    until(lambda: read(studio.document(name)) == text, f"{label} is kept")
    page.get_by_role("button", name=re.compile("^Undo")).click()
    until(lambda: studio.document(name) == before, f"{label} is undone")
    page.get_by_role("button", name=re.compile("^Redo")).click()
    until(lambda: read(studio.document(name)) == text, f"{label} is redone")


def test_a_division_is_chosen_and_undone(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Divided", layers=[]))
    panel(page, "Ball").get_by_role("button", name="Choose…").click()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("^C10 12 centres")).click()
    until(lambda: studio.document("Divided")["marking"]["division"] == "C10", "C10 is kept")
    expect(page.get_by_text("12 centres in pentagons, 20 triangles, 30 diamonds").first).to_be_visible()
    page.locator("body").press("Control+z")
    until(lambda: studio.document("Divided")["marking"]["division"] == "S16+obi", "the division is undone")


def test_colours_are_exchanged_everywhere(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Exchanged"))
    before = {thread["name"]: thread["colour"] for thread in studio.document("Exchanged")["threads"]}
    panel(page, "Colours")
    page.get_by_role("button", name="Exchange the colour of amber with another").click()
    page.get_by_role("button", name="Exchange the colour of teal with another").click()
    kept(page)

    def exchanged() -> bool:
        now = {thread["name"]: thread["colour"] for thread in studio.document("Exchanged")["threads"]}
        return (now["amber"], now["teal"]) == (before["teal"], before["amber"])

    until(exchanged, "amber and teal have changed places")


def test_layers_are_moved_by_keys_and_by_drag(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Moved"))

    def names() -> list[str]:
        return [layer["name"] for layer in studio.document("Moved")["layers"]]

    page.locator("ol .name").nth(2).focus()
    page.keyboard.press("Alt+ArrowUp")
    until(lambda: names() == ["amber petals", "quay", "rust petals", "rigging"], "quay moves up")
    expect(page.locator("ol .name").nth(1)).to_be_focused()
    page.locator("ol li").nth(3).drag_to(page.locator("ol li").nth(0))
    until(lambda: names() == ["rigging", "amber petals", "quay", "rust petals"], "rigging is dragged to the front")


def test_a_place_is_picked_on_the_ball(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Picked"))
    page.get_by_role("button", name="Touch points on the ball").click()
    north = page.get_by_role("button", name="N", exact=True)
    expect(north).to_have_attribute("aria-pressed", "true")
    north.click()
    until(lambda: studio.document("Picked")["layers"][0]["where"] == "S", "N is put out")
    page.get_by_role("button", name="all 16 obi points").click()
    until(
        lambda: studio.document("Picked")["layers"][0]["where"] == "all obi points", "like places are chosen together"
    )


def test_a_finding_shows_its_place_and_mends_itself(page: Page, studio: Studio) -> None:
    layer = {
        "name": "too many",
        "technique": "uwagake",
        "where": "N",
        "rows": "30 amber",
        "params": {"outer": "1/3 from obi", "inner": "6 mm"},
    }
    at_bench(page, studio, studio.new("Overrun", layers=[layer]))
    hand = panel(page, "Findings")
    mend = page.get_by_role("button", name=re.compile("^Change rows of “too many” to"))
    finding = hand.locator("li").filter(has=mend).first
    finding.locator(".say").click()
    expect(finding.locator(".say")).to_have_attribute("aria-pressed", "true")
    finding.get_by_role("button", name=re.compile("^Change rows")).click()
    until(lambda: studio.document("Overrun")["layers"][0]["rows"] != "30 amber", "the remedy is applied")
    page.get_by_role("button", name=re.compile("^Undo: mend")).click()
    until(lambda: studio.document("Overrun")["layers"][0]["rows"] == "30 amber", "the remedy is undone")


def test_a_reload_in_mid_edit_loses_nothing(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Reloaded"))
    panel(page, "Ball")
    write(page, "Notes", "kept before the reload")
    page.reload()
    page.wait_for_selector(SHOWN)
    until(lambda: studio.document("Reloaded").get("notes") == "kept before the reload", "the edit survives")


def test_two_windows_keep_both_changes(page: Page, studio: Studio, browser: Browser) -> None:
    design = studio.new("Shared")
    other = browser.new_context().new_page()
    for window in (page, other):
        at_bench(window, studio, design)
        panel(window, "Ball")
    write(page, "Notes", "from the first window")
    kept(page)
    write(other, "Notes", "from the second window")
    expect(other.get_by_text("Another window changed this ball too")).to_be_visible()
    until(lambda: any(card["name"] == "Shared (other window)" for card in studio.cards()), "both are on the Shelf")
    assert studio.document("Shared")["notes"] == "from the first window"
    assert studio.document("Shared (other window)")["notes"] == "from the second window"
    expect(other.get_by_label("Name of the ball")).to_have_value("Shared (other window)")
    other.context.close()


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("torn.json", '{"format": 1, "name": "Torn"'),
        ("odd.json", json.dumps({"format": 1, "name": "Odd one", "ball": {"around": "soon"}})),
    ],
)
def test_a_broken_file_is_said_plainly(page: Page, studio: Studio, name: str, text: str) -> None:
    page.goto(studio.address)
    file: FilePayload = {"name": name, "mimeType": "application/json", "buffer": text.encode()}
    page.locator("input[type=file]").set_input_files(file)
    expect(page.get_by_role("status").locator(".notice.wrong")).to_be_visible()


def test_a_design_that_cannot_be_made_still_opens(page: Page, studio: Studio) -> None:
    layers = [{"name": "petals", "technique": "uwagake", "where": "centre 99", "rows": "1 amber"}]
    at_bench(page, studio, studio.new("Unmakeable", layers=layers))
    expect(panel(page, "Findings").get_by_text("This can't be made yet")).to_be_visible()
    panel(page, "Layer")
    write(page, "Where", "N")
    expect(panel(page, "Findings").get_by_text("This can't be made yet")).to_have_count(0)


def test_the_studio_goes_away_and_comes_back(page: Page, tmp_path: Path) -> None:
    own = Studio(tmp_path).start()
    try:
        at_bench(page, own, own.new("Interrupted"))
        panel(page, "Ball")
        own.stop()
        write(page, "Notes", "written while nobody listened")
        expect(page.get_by_role("alert").filter(has_text="does not answer")).to_be_visible()
        own.start()
        kept(page)
        assert own.document("Interrupted")["notes"] == "written while nobody listened"
    finally:
        own.stop()


def test_put_away_and_brought_back(page: Page, studio: Studio) -> None:
    studio.new("Put aside")
    page.goto(studio.address)
    page.get_by_role("button", name="More for Put aside").click()
    page.get_by_role("button", name="Put away", exact=True).last.click()
    expect(page.get_by_role("link", name="Put aside", exact=True)).to_have_count(0)
    page.get_by_role("button", name="Bring back").click()
    expect(page.get_by_role("link", name="Put aside", exact=True)).to_be_visible()


def test_versions_are_named_and_gone_back_to(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Versions"))
    panel(page, "Ball")
    write(page, "Notes", "a change")
    kept(page)
    page.get_by_role("button", name="Versions").click()
    dialog = page.get_by_role("dialog")
    expect(dialog.locator("figure")).to_have_count(2)
    dialog.get_by_label(re.compile("^Name of version")).last.fill("As it began")
    dialog.get_by_label(re.compile("^Name of version")).last.press("Tab")
    dialog.get_by_role("button", name="Go back to it").nth(1).click()
    until(lambda: studio.document("Versions").get("notes") != "a change", "the old version is back")
