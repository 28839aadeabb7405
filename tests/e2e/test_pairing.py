"""A tablet at home: nothing without the code, the Chair with it, and out again."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.e2e.hands import until
from tests.e2e.studio import Studio

expect.set_options(timeout=20_000)
NEXT_DOOR = "127.0.0.2"  # another address of this machine stands for the home network


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Studio]:
    """A studio that is open to the home network."""
    folder: Path = tmp_path_factory.mktemp("home")
    running = Studio(folder, more=("--lan", "--lan-address", NEXT_DOOR)).start()
    yield running
    running.stop()


def status(context: BrowserContext, address: str) -> int:
    """What the device is answered."""
    return context.request.get(address, ignore_https_errors=True).status


def begun(home: Studio) -> str:
    """A piece to stitch from the tablet."""
    wanted = {"design": home.new("Lamps for the tablet"), "name": "Tablet lamp", "around": "248 mm"}
    return str(home.ask("/pieces", wanted)["piece"]["id"])


def test_a_tablet_comes_in_by_the_code_and_is_let_out_again(page: Page, browser: Browser, home: Studio) -> None:
    piece = begun(home)
    (address,) = home.ask("/lan")["addresses"]
    context = browser.new_context(viewport={"width": 820, "height": 1180}, has_touch=True, ignore_https_errors=True)
    tablet = context.new_page()
    tablet.set_default_timeout(20_000)

    tablet.goto(address)
    expect(tablet.get_by_role("heading", name="Come in")).to_be_visible()
    assert [status(context, f"{address}api/{name}") for name in ("pieces", "designs")] == [401, 401]
    tablet.get_by_label("Code").fill("WRONG234")
    tablet.get_by_role("button", name="Come in").tap()
    expect(tablet.get_by_role("alert")).to_contain_text("not the code")

    page.goto(f"{home.address}#/chair")
    page.get_by_role("button", name="Tablet and phone").click()
    expect(page.get_by_role("img", name="The address and the code")).to_be_visible()
    code = page.locator(".code").inner_text()
    tablet.goto(f"{address}#/pair?code={code}")
    expect(tablet.get_by_label("Code")).to_have_value(code)
    tablet.get_by_label("This device is called").fill("Side table")
    tablet.get_by_role("button", name="Come in").tap()
    tablet.get_by_text("Tablet lamp").tap()
    tablet.locator(".say[data-step='0']").wait_for()
    tablet.get_by_role("button", name="Done, next").tap()
    until(lambda: home.ask(f"/pieces/{piece}")["state"]["place"] == 1, "told")
    assert status(context, f"{address}api/designs") == 403

    page.get_by_role("button", name="Let out Side table").click()
    expect(page.get_by_text("Side table")).to_have_count(0)
    tablet.get_by_role("button", name="Done, next").tap()
    expect(tablet.get_by_role("heading", name="Come in")).to_be_visible()
    assert home.ask(f"/pieces/{piece}")["state"]["place"] == 1
    context.close()
