"""Winding the base: a plan, a ball out of round written into the design, and a log that narrows the plan."""

import re

from playwright.sync_api import Browser, Page, expect

from tests.e2e.hands import until
from tests.e2e.studio import Studio
from tests.e2e.test_drawer import axe


def winding(page: Page, studio: Studio, design: str) -> Page:
    page.goto(f"{studio.address}#/bench/{design}/winding")
    page.get_by_role("table").wait_for()
    return page


def test_a_plan_a_ball_out_of_round_and_into_the_design(page: Page, studio: Studio) -> None:
    design = studio.new("Winter buoy")
    winding(page, studio, design)
    expect(page.get_by_role("row").last).to_contain_text("250 mm")
    page.get_by_label("What sounds in it").select_option(label="a small bell")
    expect(page.get_by_role("img", name=re.compile("a small bell, in a capsule 16 mm through"))).to_be_visible()
    expect(page.get_by_role("region", name="Take care")).to_contain_text("small part")
    page.get_by_label("How much of wrap 2 you have").fill("1 g")
    page.get_by_label("How much of wrap 2 you have").press("Tab")
    expect(page.get_by_role("row").filter(has_text="thin yarn")).to_contain_text("■ short")
    for label, length in (("along line 1", "252"), ("way 2", "248"), ("way 3", "25,0 cm")):
        page.get_by_label(f"Over the poles, {label}").fill(length)
    page.get_by_label("Round the middle").fill("244")
    page.get_by_role("button", name="How round is it?").click()
    expect(page.get_by_role("heading", name="■ Out of round")).to_be_visible()
    expect(page.get_by_role("img", name=re.compile("Where the ball lacks wrap"))).to_be_visible()
    axe(page)
    page.get_by_role("button", name="Use these").click()
    measured = {"pole_to_pole": ["252 mm", "248 mm", "25.0 cm"], "obi": ["244 mm"]}
    until(lambda: studio.document("Winter buoy")["ball"].get("measured") == measured, "kept in the design")
    page.get_by_role("button", name="Undo").click()
    until(lambda: "measured" not in studio.document("Winter buoy")["ball"], "taken back")


def test_what_she_has_her_log_and_the_sheet(browser: Browser, studio: Studio) -> None:
    context = browser.new_context(viewport={"width": 820, "height": 1100}, color_scheme="dark", accept_downloads=True)
    page = context.new_page()
    page.set_default_timeout(20_000)
    winding(page, studio, studio.new("Harbour float"))
    page.get_by_label("From what I have").check()
    expect(page.get_by_role("alert")).to_contain_text("say how large the core is")
    page.get_by_label("Round the core").fill("190")
    for k, amount in enumerate(("30 g", "60 m", "300 m"), 1):
        page.get_by_label(f"How much of wrap {k} you have").fill(amount)
    page.get_by_label("How much of wrap 3 you have").press("Tab")
    expect(page.get_by_role("status").filter(has_text="It comes out")).to_contain_text(re.compile(r"2\d\d to 2\d\d mm"))
    page.get_by_label("Round before").fill("180")
    page.get_by_label("Round after").fill("21,5 cm")
    page.get_by_label("Grams").fill("31")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("One of your balls speaks here")).to_have_count(2)
    axe(page)
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Winding sheet").click()
    assert waiting.value.suggested_filename == "winding.pdf"
    assert waiting.value.path().read_bytes().startswith(b"%PDF")
    page.get_by_role("button", name="Put away thick yarn").click()
    expect(page.get_by_text("Nothing is written down yet")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    context.close()
