"""Where a ball begins and how it is divided: families, many faces, and the ball as it came out."""

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.e2e.hands import SHOWN, at_bench, kept, panel, rested, until
from tests.e2e.studio import Studio
from tests.e2e.test_rooms import AXE, OUT, WCAG

SIZES = {"desktop": (1440, 900), "tablet": (1024, 768)}
PICTURES = "() => [...document.querySelectorAll('dialog img')].slice(0, 6).every((i) => i.naturalWidth > 0)"
IN_SIGHT = """() => [...document.querySelectorAll('dialog .look, .after .look')]
    .filter((look) => look.getBoundingClientRect().top < innerHeight)
    .every((look) => look.querySelector('img')?.naturalWidth > 0)"""


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


@pytest.mark.parametrize(
    ("asked", "param"),
    [
        (("leave a gap", "How wide", "2 mm", "ball size"), "around"),
        (("reach a place", "Which place", "5 mm from obi", "start"), "outer"),
    ],
)
def test_a_wish_is_shown_before_it_is_taken_over_and_can_be_undone(
    page: Page, studio: Studio, asked: tuple[str, str, str, str], param: str
) -> None:
    wish, label, measure, change = asked
    design = studio.new(f"Slipway {param}")

    def document() -> dict[str, Any]:
        found: dict[str, Any] = studio.ask(f"/designs/{design}")["document"]
        return found

    def planned(of: dict[str, Any]) -> str:
        return str(of["ball"]["around"] if param == "around" else of["layers"][0]["params"][param])

    before = document()
    at_bench(page, studio, design)
    panel(page, "Findings")
    fit = page.get_by_role("region", name="Make it fit")
    fit.get_by_role("button", name=wish).press("Enter")
    fit.get_by_label(label).fill(measure)
    fit.get_by_role("button", name=change).press("Enter")
    fit.get_by_role("button", name="Show what it takes").press("Enter")
    expect(fit.locator("p").first).to_contain_text("amber petals", timeout=30_000)
    assert document() == before
    fit.get_by_role("button", name="Take it over").press("Enter")
    until(lambda: planned(document()) != planned(before), "taken over")
    kept(page)
    page.get_by_role("button", name="Undo: make motifs fit").press("Enter")
    until(lambda: document() == before, "undone")


def families_open(page: Page, studio: Studio) -> None:
    page.goto(studio.address)
    page.get_by_role("button", name=re.compile("^New ball")).first.click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_label("From the ball in your hand").fill("28 cm")
    dialog.get_by_role("heading", name="Or from a traditional family").scroll_into_view_if_needed()
    until(lambda: bool(page.evaluate(PICTURES)), "pictures", 60)


def faces_open(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Groyne", layers=[]))
    panel(page, "Ball").get_by_role("button", name="Choose…").click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_role("button", name=re.compile(r"^C10.42.*42 faces")).wait_for(timeout=60_000)
    dialog.get_by_label("To the left (k)").fill("1")
    dialog.get_by_role("button", name=re.compile("^Divide into")).scroll_into_view_if_needed()


def came_out_open(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Neap"))
    field = panel(page, "Ball").get_by_label("My ball came out at")
    field.fill("236 mm")
    field.press("Enter")
    page.get_by_role("button", name="Take it over").scroll_into_view_if_needed()


def fit_open(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Hard"))
    panel(page, "Findings")
    fit = page.get_by_role("region", name="Make it fit")
    fit.get_by_role("button", name="Show what it takes").press("Enter")
    fit.get_by_role("button", name="Take it over").scroll_into_view_if_needed()


def path_open(page: Page, studio: Studio) -> None:
    at_bench(page, studio, studio.new("Fairway"))
    page.get_by_role("button", name="Draw a path of your own").click()
    hint = page.locator(".hint")
    expect(hint).to_contain_text("Touch the ball")
    rested(page)
    page.mouse.click(700, 420)
    expect(hint.get_by_role("button", name="Undo the last spot")).to_be_visible()
    stage, told = (each.bounding_box() for each in (page.get_by_role("region", name="The ball", exact=True), hint))
    assert stage
    assert told
    assert stage["x"] <= told["x"]
    assert told["x"] + told["width"] <= stage["x"] + stage["width"]


OPEN: dict[str, Callable[[Page, Studio], None]] = {
    "families": families_open,
    "faces": faces_open,
    "came-out": came_out_open,
    "fit": fit_open,
    "path": path_open,
}


@pytest.fixture(params=["light", "dark"])
def reading(request: pytest.FixtureRequest, browser: Browser) -> Iterator[Page]:
    """A page that a reader of pages may be put into, by day and by lamp."""
    context = browser.new_context(
        viewport={"width": 1440, "height": 900}, color_scheme=request.param, bypass_csp=True, locale="en-GB"
    )
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("what", OPEN)
def test_what_is_open_has_no_fault_that_axe_can_find(
    reading: Page, studio: Studio, what: str, request: pytest.FixtureRequest
) -> None:
    OPEN[what](reading, studio)
    until(lambda: bool(reading.evaluate(IN_SIGHT)), "pictures", 90)
    OUT.mkdir(parents=True, exist_ok=True)
    bright = request.node.callspec.params["reading"]
    for size, (width, height) in SIZES.items():
        reading.set_viewport_size({"width": width, "height": height})
        reading.screenshot(path=OUT / f"open-{what}-{size}-{bright}.png")
    reading.evaluate(AXE.read_text())
    found: dict[str, Any] = reading.evaluate("(tags) => axe.run(document, { runOnly: tags })", WCAG)
    told = [f"{rule['id']}: {node['target']}" for rule in found["violations"] for node in rule["nodes"]]
    assert told == []
