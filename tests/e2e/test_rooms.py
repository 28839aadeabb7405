"""Every room for everybody: axe, keys alone, 200 % zoom, less motion, no WebGL; and what the rooms look like."""

import gzip
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Literal

import numpy as np
import pytest
from playwright.sync_api import Browser, BrowserType, Page, expect

from tests.e2e.conftest import BUILT, CHROMIUM, QUIET
from tests.e2e.hands import SHOWN, at_bench, kept, panel, picture, rested, until
from tests.e2e.studio import Studio

ROOT = Path(__file__).parents[2]
AXE = ROOT / "web/node_modules/axe-core/axe.min.js"
OUT = ROOT / "out" / "studio"
# https://www.w3.org/TR/WCAG22/ at levels A and AA, as axe-core tags its rules
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
# Pictures further down a long list are not asked for before one scrolls there.
NOTHING_AWAITED = """() => [...document.querySelectorAll('.look, dialog .empty, dialog img')]
    .filter((each) => { const at = each.getBoundingClientRect(); return at.bottom > 0 && at.top < innerHeight; })
    .every((each) => each.matches('img') ? each.complete : each.querySelector('img')?.naturalWidth > 0)"""
SIZES = {"desktop": (1440, 900), "tablet": (1024, 768), "phone": (390, 844)}
WORKED = 30_000  # ms until a fresh worker has started and worked a page out on a busy machine
Go = Callable[[Page, Studio], None]
Bright = Literal["light", "dark"]


def shelf(page: Page, studio: Studio) -> None:
    page.goto(studio.address)
    page.wait_for_selector("article")
    loaded = """() => [...document.querySelectorAll('article img')]
        .filter((i) => i.getBoundingClientRect().top < innerHeight).every((i) => i.naturalWidth > 0)"""
    until(lambda: bool(page.evaluate(loaded)), "pictures")


def bench(page: Page, studio: Studio) -> None:
    named = [card for card in studio.cards() if card["name"] == "Quay lamps"]
    at_bench(page, studio, named[0]["id"])
    rested(page)


def hand(name: str) -> Go:
    def go(page: Page, studio: Studio) -> None:
        bench(page, studio)
        panel(page, name)

    return go


def over(button: str) -> Go:
    def go(page: Page, studio: Studio) -> None:
        bench(page, studio)
        page.get_by_role("button", name=re.compile(f"^{button}")).first.click()
        page.get_by_role("dialog").wait_for()
        until(lambda: bool(page.evaluate(NOTHING_AWAITED)), "pictures", 60)

    return go


def division(page: Page, studio: Studio) -> None:
    bench(page, studio)
    panel(page, "Ball").get_by_role("button", name="Choose…").click()
    page.locator(".look").first.wait_for()
    until(lambda: bool(page.evaluate(NOTHING_AWAITED)), "pictures", 60)


def names(page: Page, studio: Studio) -> None:
    bench(page, studio)
    for key in ("n", "p", "l"):
        page.locator("body").press(key)


def picking(page: Page, studio: Studio) -> None:
    hand("Layer")(page, studio)
    page.get_by_role("button", name="Touch points on the ball").click()


def new(page: Page, studio: Studio) -> None:
    shelf(page, studio)
    page.get_by_role("button", name="New ball").first.click()


def archive(page: Page, studio: Studio) -> None:
    shelf(page, studio)
    page.get_by_role("button", name="Archive").click()


def drawer(page: Page, studio: Studio) -> None:
    page.goto(f"{studio.address}#/drawer")


def nothing_found(page: Page, studio: Studio) -> None:
    shelf(page, studio)
    page.get_by_label("Search the Shelf").fill("no such ball")
    expect(page.get_by_text("Nothing on the Shelf")).to_be_visible()


def broken(page: Page, studio: Studio) -> None:
    layers = [{"name": "petals", "technique": "uwagake", "where": "centre 99", "rows": "1 amber"}]
    at_bench(page, studio, studio.new("Broken", layers=layers))
    panel(page, "Findings")


ROOMS: dict[str, Go] = {
    "shelf": shelf,
    "shelf-new": new,
    "shelf-archive": archive,
    "shelf-nothing": nothing_found,
    "bench-layer": hand("Layer"),
    "bench-ball": hand("Ball"),
    "bench-colours": hand("Colours"),
    "bench-findings": hand("Findings"),
    "bench-names": names,
    "bench-picking": picking,
    "bench-division": division,
    "bench-take-away": over("Take away"),
    "bench-versions": over("Versions"),
    "drawer": drawer,
    "bench-broken": broken,
}
# Rooms whose own stories look at them closely; here only that nothing hangs over, and that none has a fault.
BESIDE = ["winding", "survey", "plans", "price", "pieces", "piece", "shows", "show", "classes", "class"]
LARGE: dict[str, Go] = {"bench-gallery": over("Add a layer"), "bench-keys": over("Keys")}


@pytest.fixture(scope="module")
def furnished(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Studio, dict[str, str]]]:
    """A studio with the demo show and a class, and where each room of BESIDE is in it."""
    own = Studio(tmp_path_factory.mktemp("furnished")).start()
    show = own.ask("/shows/demo", {})["id"]
    design = next(card["id"] for card in own.cards() if card["name"] == "Quay lamps")
    held = own.ask("/classes", {"design": design, "title": "Net loft evenings"})["card"]["id"]
    record = own.ask("/records")["records"][0]["id"]
    at = {name: f"#/bench/{design}/{name}" for name in BESIDE[:4]} | {name: f"#/{name}" for name in BESIDE[4::2]}
    yield own, at | {"piece": f"#/pieces/{record}", "show": f"#/shows/{show}", "class": f"#/classes/{held}"}
    own.stop()


@pytest.fixture(params=["light", "dark"])
def bright(request: pytest.FixtureRequest) -> Bright:
    found: Bright = request.param
    return found


@pytest.fixture
def tidy(tmp_path: Path) -> Iterator[Studio]:
    """A studio as at first start, for pictures of it."""
    own = Studio(tmp_path / "data").start()
    yield own
    own.stop()


@pytest.fixture
def reading(browser: Browser, bright: Bright) -> Iterator[Page]:
    """A page that a reader of pages may be put into."""
    context = browser.new_context(viewport={"width": 1440, "height": 900}, color_scheme=bright, bypass_csp=True)
    yield context.new_page()
    context.close()


def faults(page: Page) -> list[str]:
    """What axe finds wrong with what is shown."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE.read_text())
    found: dict[str, Any] = page.evaluate(
        "(tags) => axe.run(document, { runOnly: tags, resultTypes: ['violations'] })", WCAG
    )
    return [
        f"{rule['id']}: {node['target']} {node.get('failureSummary', '')[:160]}"
        for rule in found["violations"]
        for node in rule["nodes"]
    ]


@pytest.mark.parametrize("room", [*ROOMS, *LARGE])
def test_a_room_has_no_fault_that_axe_can_find(reading: Page, studio: Studio, room: str) -> None:
    {**ROOMS, **LARGE}[room](reading, studio)
    reading.wait_for_timeout(300)
    assert faults(reading) == []


def test_the_rooms_beside_have_no_fault_that_axe_can_find(
    reading: Page, furnished: tuple[Studio, dict[str, str]]
) -> None:
    studio, at = furnished
    reading.route("**/api/**/picture*", lambda route: route.abort())
    told = {}
    for name in BESIDE:
        laid_out(reading, studio.address + at[name])
        told[name] = faults(reading)
    assert {name: said for name, said in told.items() if said} == {}


@pytest.mark.parametrize("size", SIZES)
def test_every_room_is_pictured_and_nothing_hangs_over_its_edge(browser: Browser, tidy: Studio, size: str) -> None:
    OUT.mkdir(parents=True, exist_ok=True)
    width, height = SIZES[size]
    rooms = {**ROOMS, **LARGE} if size == "desktop" else ROOMS
    context = browser.new_context(viewport={"width": width, "height": height}, device_scale_factor=1)
    for name, go in rooms.items():
        page = context.new_page()
        go(page, tidy)
        page.wait_for_timeout(400)
        page.screenshot(path=OUT / f"{name}-{size}.png")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, name
        page.close()
    context.close()


def laid_out(page: Page, address: str) -> None:
    """Go to a room and wait until what it is about stands there."""
    page.goto(address)
    expect(page.locator("main h1")).to_be_visible(timeout=WORKED)
    # A page that is still being opened or worked out says so with an ellipsis.
    expect(page.locator("main p.quiet").filter(has_text=re.compile("…$"))).to_have_count(0, timeout=WORKED)


def test_nothing_hangs_over_the_edge_of_the_rooms_beside(
    browser: Browser, furnished: tuple[Studio, dict[str, str]]
) -> None:
    studio, at = furnished
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    # Pictures keep their places without having come.
    page.route("**/api/**/picture*", lambda route: route.abort())
    over = []
    for name in BESIDE:
        laid_out(page, studio.address + at[name])
        for width, height in (SIZES["phone"], (820, 1180)):
            page.set_viewport_size({"width": width, "height": height})
            if page.evaluate("document.documentElement.scrollWidth") > width:
                over.append(f"{name} at {width}")
    context.close()
    assert over == []


def test_the_lamp_is_pictured_too(browser: Browser, tidy: Studio) -> None:
    context = browser.new_context(viewport={"width": 1440, "height": 900}, color_scheme="dark")
    page = context.new_page()
    for name, go in {"shelf": shelf, "bench-layer": hand("Layer")}.items():
        go(page, tidy)
        seen = page.screenshot(path=OUT / f"{name}-lamp.png")
        assert len(seen) > 20_000
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(23, 26, 32)"
    context.close()


@pytest.mark.parametrize("go", [shelf, bench], ids=["shelf", "bench"])
def test_at_200_percent_nothing_is_lost_sideways(browser: Browser, studio: Studio, go: Go) -> None:
    """A window of 1280 by 800 at 200 % has 640 by 400 to lay things out in."""
    context = browser.new_context(viewport={"width": 640, "height": 400}, device_scale_factor=2)
    page = context.new_page()
    go(page, studio)
    assert page.evaluate("document.documentElement.scrollWidth") <= 640
    context.close()


SAID = """() => {
  const it = document.activeElement;
  return it.getAttribute('aria-label') || (it.labels && it.labels[0] && it.labels[0].innerText) || it.innerText || '';
}"""


def reach(page: Page, name: str) -> None:
    """Press Tab until what is called ``name`` has the focus."""
    for _ in range(120):
        page.keyboard.press("Tab")
        if str(page.evaluate(SAID)).strip().startswith(name):
            return
    raise AssertionError(f"Tab never reaches {name}")


def a_sheet_of_keys(page: Page) -> None:
    page.keyboard.press("?")
    expect(page.get_by_role("dialog")).to_contain_text("This sheet")
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)


def test_keys_alone_go_from_the_shelf_to_a_booklet(page: Page, studio: Studio) -> None:
    page.goto(studio.address)
    page.wait_for_selector("article")
    reach(page, "New ball")
    page.keyboard.press("Enter")
    page.get_by_role("dialog").wait_for()
    reach(page, "From the ball in your hand")
    page.keyboard.type("231 mm")
    page.keyboard.press("Enter")
    page.wait_for_selector(SHOWN)
    for count, technique in enumerate(("Band", "Uwagake"), 1):
        reach(page, "Add a layer")
        page.keyboard.press("Enter")
        page.get_by_role("dialog").wait_for()
        reach(page, technique)
        page.keyboard.press("Enter")
        expect(page.locator("ol .name")).to_have_count(count)
        kept(page)
    a_sheet_of_keys(page)
    reach(page, "Take away")
    page.keyboard.press("Enter")
    reach(page, "Make it")
    page.keyboard.press("Enter")
    page.get_by_role("link", name="Save booklet").wait_for(timeout=120_000)
    reach(page, "Save booklet")
    with page.expect_download() as coming:
        page.keyboard.press("Enter")
    assert Path(coming.value.path()).read_bytes().startswith(b"%PDF-")


def test_with_less_motion_the_ball_is_there_at_once(browser: Browser, studio: Studio) -> None:
    context = browser.new_context(reduced_motion="reduce", viewport={"width": 1200, "height": 800})
    page = at_bench(context.new_page(), studio, studio.new("Calm"))
    before = picture(page)
    frames = int(page.locator("canvas").get_attribute("data-frames") or 0)
    page.get_by_label("Face").select_option("S")
    rested(page)
    assert np.abs(picture(page) - before).mean() > 3
    # One frame for the turn, one when it is sharp; a turn with motion takes a dozen.
    assert int(page.locator("canvas").get_attribute("data-frames") or 0) - frames <= 3
    context.close()


def test_without_webgl_the_studio_says_so_and_shows_its_own_picture(browser_type: BrowserType, studio: Studio) -> None:
    browser = browser_type.launch(executable_path=CHROMIUM, args=[*QUIET, "--disable-gpu", "--disable-3d-apis"])
    page = browser.new_page(viewport={"width": 1200, "height": 800})
    page.goto(f"{studio.address}#/bench/{studio.new('Plain')}")
    expect(page.get_by_text("WebGL is missing or switched off")).to_be_visible()
    until(lambda: bool(page.evaluate("document.querySelector('.plain img')?.naturalWidth > 300")), "the picture")
    browser.close()


def test_the_first_load_is_at_most_300_kb_of_script() -> None:
    """What the page names, and what those scripts import at once; the rest is fetched when its door is opened."""
    found = set[Path]()
    wanted = [BUILT.parent / name.lstrip("/") for name in re.findall(r'(?:src|href)="(/[^"]+\.js)"', BUILT.read_text())]
    while wanted:
        script = wanted.pop()
        if script not in found:
            found.add(script)
            imported = re.findall(r'(?:\bfrom|\bimport)\s*"(\./[^"]+\.js)"', script.read_text(encoding="utf-8"))
            wanted += [script.parent / name for name in imported]
    assert found
    assert sum(len(gzip.compress(path.read_bytes())) for path in found) <= 300_000
