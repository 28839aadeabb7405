"""Colour plans in the studio: found, seen by other eyes, put into the design, and taken back."""

from playwright.sync_api import Page, expect

from tests.e2e.hands import until
from tests.e2e.studio import Studio
from tests.e2e.test_drawer import axe


def opened(page: Page, studio: Studio, example: str) -> str:
    """The plans of a new design made from an example; its id."""
    card = studio.ask("/designs", {"from": "example", "example": example})
    page.goto(f"{studio.address}#/bench/{card['id']}/plans")
    page.get_by_label("Layer").wait_for()
    return str(card["id"])


def layers(studio: Studio, design: str) -> list[str]:
    return [layer["name"] for layer in studio.ask(f"/designs/{design}")["document"]["layers"]]


def test_a_plan_is_found_put_in_and_taken_back(page: Page, studio: Studio) -> None:
    design = opened(page, studio, "salt-squares")
    page.get_by_label("Layer").select_option("salt pans")
    for name in ("indigo", "mist", "white", "madder"):
        page.get_by_role("checkbox", name=name, exact=True).check()
    page.get_by_role("button", name="Find the best plans").click()
    # The octahedron's corners in at most 4 colours, neighbours differ: 10 up to rotation, of which 4 leave one out.
    expect(page.get_by_text("There are 6 plans")).to_be_visible(timeout=30_000)
    expect(page.get_by_role("article")).to_have_count(6)
    expect(page.get_by_text("Proven: no plan")).to_be_visible()
    page.get_by_role("button", name="No green cones").click()
    axe(page)
    page.get_by_role("button", name="Put plan 2 into the design").click()
    expect(page.get_by_text("Plan 2 is in the design")).to_be_visible(timeout=30_000)
    expect(page.get_by_text("only the colours are new")).to_be_visible()
    until(lambda: "salt pans in mist" in layers(studio, design), "kept")
    page.get_by_role("button", name="Take it back").click()
    until(lambda: layers(studio, design) == ["mooring lines", "salt pans", "windmill sails"], "taken back")


def test_what_cannot_be_planned_is_said_and_shades_find_her_threads(page: Page, studio: Studio) -> None:
    studio.ask("/threads", {"name": "Harbour mist", "colour": "#8fa9c4"})
    page.set_viewport_size({"width": 820, "height": 1180})
    opened(page, studio, "quay-lamps")
    page.get_by_role("button", name="Stripes").click()
    page.get_by_label("Layer").select_option("quay")
    page.get_by_role("checkbox", name="rust").check()
    page.get_by_role("button", name="Find the best plans").click()
    expect(page.get_by_role("alert")).to_contain_text("no plan keeps these rules", timeout=30_000)
    page.get_by_role("combobox", name="To", exact=True).select_option("itself, dark to light")
    expect(page.get_by_role("list").last).to_contain_text("off by")
    axe(page)
