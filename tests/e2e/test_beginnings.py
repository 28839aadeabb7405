"""Where a ball begins and how it is divided: families, many faces, and the ball as it came out."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e.hands import SHOWN, at_bench, kept, panel, until
from tests.e2e.studio import Studio
from tests.e2e.test_rooms import OUT

SIZES = {"desktop": (1440, 900), "tablet": (1024, 768)}
PICTURES = "() => [...document.querySelectorAll('dialog img')].slice(0, 6).every((i) => i.naturalWidth > 0)"


def test_a_ball_begins_from_a_family_on_her_own_size(page: Page, studio: Studio) -> None:
    page.goto(studio.address)
    page.get_by_role("button", name=re.compile("^New ball")).first.click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_label("From the ball in your hand").fill("28 cm")
    dialog.get_by_label("Kind").select_option("stars")
    dialog.get_by_label("No harder than").select_option("2")
    families = [each for each in studio.ask("/families") if each["kind"] == "stars" and each["difficulty"] <= 2]
    expect(dialog.get_by_role("status")).to_contain_text(f"{len(families)} of ")
    until(lambda: bool(page.evaluate(PICTURES)), "pictures", 60)
    OUT.mkdir(parents=True, exist_ok=True)
    for size, (width, height) in SIZES.items():
        page.set_viewport_size({"width": width, "height": height})
        page.screenshot(path=OUT / f"families-{size}.png")
    wanted = families[0]
    dialog.get_by_role("button", name=re.compile(f"^{re.escape(wanted['title'])}")).first.press("Enter")
    page.wait_for_selector(SHOWN)
    design = page.url.rsplit("/", 1)[1]
    document = studio.ask(f"/designs/{design}")["document"]
    assert document["ball"]["around"] in {"28 cm", "280 mm"}
    assert document["marking"]["division"] == wanted["divisions"][0]


def test_a_ball_is_divided_into_many_faces(page: Page, studio: Studio) -> None:
    design = studio.new("Breakwater", layers=[])
    at_bench(page, studio, design)
    panel(page, "Ball").get_by_role("button", name="Choose…").click()
    dialog = page.get_by_role("dialog")
    expect(dialog.get_by_role("button", name=re.compile(r"^C10.42.*42 faces: 12 pentagons"))).to_be_visible(
        timeout=60_000
    )
    dialog.get_by_label("Straight on (h)").fill("3")
    dialog.get_by_label("To the left (k)").fill("0")
    begin = dialog.get_by_role("button", name="Divide into 92 faces")
    begin.scroll_into_view_if_needed()
    OUT.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=OUT / "faces-desktop.png")
    begin.press("Enter")
    until(lambda: studio.ask(f"/designs/{design}")["document"]["marking"]["division"].startswith("C10/92"), "divided")
    expect(page.locator(".figures")).to_contain_text(re.compile(r"92|centres"))


def test_techniques_that_do_not_suit_go_last_and_say_why(page: Page, studio: Studio) -> None:
    design = studio.new("Slack water", layers=[])
    at_bench(page, studio, design)
    page.keyboard.press("a")
    items = page.get_by_role("dialog").get_by_role("listitem")
    offers = [each["where"] for each in studio.ask("/techniques?division=S16%2Bobi")]
    expect(items).to_have_count(len(offers))
    unsuited = sum(not each for each in offers)
    told = [("Unsuited" in text) for text in items.all_inner_texts()]
    assert all(told[len(told) - unsuited :])


@pytest.mark.parametrize("size", SIZES)
def test_the_ball_as_it_came_out_changes_nothing_before_she_says_so(page: Page, studio: Studio, size: str) -> None:
    width, height = SIZES[size]
    page.set_viewport_size({"width": width, "height": height})
    design = studio.new("Low tide")
    before = studio.ask(f"/designs/{design}")["document"]
    at_bench(page, studio, design)
    hand = panel(page, "Ball")
    hand.get_by_label("My ball came out at").fill("236 mm")
    hand.get_by_label("My ball came out at").press("Enter")
    expect(hand.get_by_text(re.compile("The ball is planned for 236 mm"))).to_be_visible()
    assert studio.ask(f"/designs/{design}")["document"] == before
    take = hand.get_by_role("button", name="Take it over")
    take.scroll_into_view_if_needed()
    OUT.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=OUT / f"came-out-{size}.png")
    take.press("Enter")
    until(
        lambda: (
            "236" in studio.ask(f"/designs/{design}")["document"]["ball"]["around"]
            or "23.6" in studio.ask(f"/designs/{design}")["document"]["ball"]["around"]
        ),
        "taken over",
    )
    kept(page)


def test_a_wish_is_shown_before_it_is_taken_over(page: Page, studio: Studio) -> None:
    design = studio.new("Slipway")
    before = studio.ask(f"/designs/{design}")["document"]
    at_bench(page, studio, design)
    panel(page, "Findings")
    fit = page.get_by_role("region", name="Make it fit")
    fit.get_by_role("button", name="leave a gap").press("Enter")
    fit.get_by_label("How wide").fill("2 mm")
    fit.get_by_role("button", name="ball size").press("Enter")
    fit.get_by_role("button", name="Show what it takes").press("Enter")
    expect(fit.locator("p, .no").first).to_be_visible(timeout=30_000)
    assert studio.ask(f"/designs/{design}")["document"] == before
    OUT.mkdir(parents=True, exist_ok=True)
    fit.scroll_into_view_if_needed()
    page.screenshot(path=OUT / "fit-desktop.png")
