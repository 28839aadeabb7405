"""Her own path and over and under, drawn on the ball: with a mouse, by touch, and by keys alone."""

import re
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.e2e.hands import at_bench, kept, rested, until
from tests.e2e.studio import Studio
from tests.e2e.test_rooms import AXE, OUT, WCAG

SIZES = {"desktop": (1440, 900), "tablet": (1024, 768)}


def ball(studio: Studio, layers: list[dict[str, Any]] | None = None) -> str:
    """A design of its own on eight lines with an obi."""
    threads = [{"name": "rope", "colour": "#c8a24a"}, {"name": "harbour", "colour": "#2b4c7e"}]
    marking = {"division": "S8+obi"}
    return studio.new("Ropewalk", ball={"around": "24 cm"}, threads=threads, marking=marking, layers=layers or [])


def document(studio: Studio, design: str) -> dict[str, Any]:
    return dict(studio.ask(f"/designs/{design}")["document"])


def middle(page: Page) -> tuple[float, float, float]:
    """The middle of the ball on the page, and its radius."""
    box = page.locator("canvas").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2, min(box["width"], box["height"]) * 0.4


def tap(page: Page, right: float, down: float, *, touch: bool = False) -> None:
    """Touch the ball, in radii from its middle."""
    x, y, radius = middle(page)
    if touch:
        page.touchscreen.tap(x + right * radius, y + down * radius)
    else:
        page.mouse.click(x + right * radius, y + down * radius)


def spots(studio: Studio, design: str) -> list[Any]:
    layers = document(studio, design)["layers"]
    return list(layers[-1]["params"]["path"]) if layers else []


@pytest.fixture
def touched(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1024, "height": 768}, has_touch=True)
    yield context.new_page()
    context.close()


def draw(page: Page, studio: Studio, design: str, *, touch: bool) -> None:
    at_bench(page, studio, design)
    rested(page)
    page.get_by_role("button", name="Draw a path of your own").click()
    for n, (right, down) in enumerate([(-0.4, -0.3), (0.35, -0.25), (0.3, 0.45), (-0.35, 0.4)], 1):
        tap(page, right, down, touch=touch)
        drawn = page.locator(".mark-handle").or_(page.locator(".mark-rule"))
        expect(drawn).to_have_count(n)
    until(lambda: len(spots(studio, design)) == 4, "all spots kept")
    kept(page)


@pytest.mark.parametrize("size", SIZES)
def test_a_path_is_drawn_by_touching_the_ball_and_becomes_thread(page: Page, studio: Studio, size: str) -> None:
    width, height = SIZES[size]
    page.set_viewport_size({"width": width, "height": height})
    design = ball(studio)
    draw(page, studio, design, touch=False)
    assert len(set(map(str, spots(studio, design)))) == 4
    until(lambda: page.locator("canvas").get_attribute("data-threads") not in {None, "0"}, "thread on the ball")
    expect(page.locator(".mark-handle")).to_have_count(4)
    OUT.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=OUT / f"path-{size}.png")
    in_hand = page.get_by_role("tabpanel")
    in_hand.get_by_role("button", name="Undo the last spot").click()
    until(lambda: len(spots(studio, design)) == 3, "one spot less")
    in_hand.get_by_role("button", name="comes home").click()
    in_hand.get_by_role("button", name="every turn of the marking").click()
    until(lambda: document(studio, design)["layers"][0]["where"] == "every turn", "repeated")
    assert document(studio, design)["layers"][0]["params"]["closed"] is True
    expect(page.get_by_role("alert")).to_have_count(0)
    rested(page)
    page.screenshot(path=OUT / f"path-turned-{size}.png")


def test_a_spot_is_dragged_elsewhere(page: Page, studio: Studio) -> None:
    design = ball(studio)
    draw(page, studio, design, touch=False)
    before = spots(studio, design)
    handle = page.get_by_role("button", name=re.compile(r"^Spot 2:"))
    box = handle.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 13, box["y"] + 13)
    page.mouse.down()
    page.mouse.move(box["x"] + 60, box["y"] + 60, steps=4)
    page.mouse.up()
    until(lambda: spots(studio, design)[1] != before[1], "the spot moved")
    after = spots(studio, design)
    assert [after[0], *after[2:]] == [before[0], *before[2:]]


def test_a_path_is_drawn_with_a_finger(touched: Page, studio: Studio) -> None:
    design = ball(studio)
    draw(touched, studio, design, touch=True)
    assert len(spots(studio, design)) == 4


def test_a_path_is_drawn_by_keys_alone(page: Page, studio: Studio) -> None:
    design = ball(studio)
    at_bench(page, studio, design)
    page.locator("canvas").focus()
    page.keyboard.press("d")
    page.keyboard.press("Enter")
    page.locator(".mark-rule").wait_for()
    for _ in range(4):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    until(lambda: len(spots(studio, design)) == 2, "two spots")
    points = page.get_by_role("tabpanel").get_by_label("Add a spot")
    points.focus()
    points.select_option("obi 3")
    until(lambda: spots(studio, design)[2:] == ["obi 3"], "a point of the list")
    page.get_by_role("button", name="Spot 3 earlier").press("Enter")
    until(lambda: spots(studio, design)[1] == "obi 3", "earlier in the path")
    field = page.get_by_label("Spot 1", exact=True)
    field.fill("line 2, 12 mm")
    field.press("Tab")
    until(lambda: spots(studio, design)[0] == "line 2, 12 mm", "an address written")


PETALS = [{"name": "petals", "technique": "uwagake", "where": "N", "rows": "2 rope"}]


def test_a_crossing_is_turned_over_by_touching_it_twice(page: Page, studio: Studio) -> None:
    rings = {"name": "rings", "technique": "uwagake", "where": "N", "rows": "1 harbour", "start": "line 2"}
    both = [{**each, "params": {"inner": "10 mm", "outer": "40 mm"}} for each in (*PETALS, rings)]
    design = ball(studio, both)
    at_bench(page, studio, design)
    rested(page)
    page.get_by_role("button", name="Over and under").click()
    card = page.get_by_role("region", name="Over and under")
    page.locator(".face select").select_option("N")
    rested(page)
    angles = [k * np.pi / 8 + 0.2 for k in range(16)]
    places = [(r * np.cos(a), r * np.sin(a)) for r in (0.45, 0.6, 0.3) for a in angles]
    for place in places:
        tap(page, *place)
        page.wait_for_timeout(300)
        if "of petals" in card.inner_text() and "of rings" in card.inner_text():
            break
    expect(card).to_contain_text("lies over")
    expect(card).to_contain_text("of rings")
    first = card.locator("b").all_inner_texts()
    card.get_by_role("button", name="Turn over").click()
    until(lambda: card.locator("b").all_inner_texts() == first[::-1], "the other thread on top")
    kept(page)
    assert len(document(studio, design)["layers"][1]["crossings"]) == 1
    expect(card).to_contain_text("Set by hand")
    expect(card.get_by_role("list", name="What it does to the stitching")).to_contain_text("needle")
    OUT.mkdir(parents=True, exist_ok=True)
    for size, (width, height) in SIZES.items():
        page.set_viewport_size({"width": width, "height": height})
        rested(page)
        page.screenshot(path=OUT / f"over-{size}.png")
    page.keyboard.press("Control+z")
    until(lambda: not document(studio, design)["layers"][1].get("crossings"), "taken back")


@pytest.mark.parametrize("tool", ["d", "o"])
def test_axe_finds_nothing_while_the_tools_are_in_hand(page: Page, studio: Studio, tool: str) -> None:
    path = {"name": "own path", "technique": "own_path", "where": "ball", "rows": "1 rope"}
    design = ball(studio, [*PETALS, {**path, "params": {"path": ["N", "obi 2", "line 5, 1/2"], "closed": False}}])
    at_bench(page, studio, design)
    page.get_by_role("button", name=re.compile("^own path")).first.click()
    page.locator("canvas").focus()
    page.keyboard.press(tool)
    (page.locator(".mark-handle").first if tool == "d" else page.locator(".card")).wait_for()
    page.evaluate(AXE.read_text("utf-8"))
    asked = "(tags) => axe.run(document, { runOnly: tags, resultTypes: ['violations'] })"
    violations = page.evaluate(asked, WCAG)["violations"]
    assert [(each["id"], [node["html"] for node in each["nodes"]]) for each in violations] == []
