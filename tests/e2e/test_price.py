"""Time and price: what she asks is kept, the price follows, and the page can be printed."""

from playwright.sync_api import Page, expect

from tests.e2e.studio import Studio
from tests.e2e.test_drawer import axe


def test_a_price_is_made_up_and_printed(page: Page, studio: Studio) -> None:
    # A thread of its own: other stories put their amber into the same drawer.
    dear = {"name": "dear amber", "colour": "#e0952f", "size": "pearl 5"}
    petals = {"name": "petals", "technique": "uwagake", "where": "N and S", "rows": "3 dear amber"}
    design = studio.new("Priced lamps", threads=[dear], marking={"division": "S8+obi"}, layers=[petals])
    studio.ask("/threads", {**dear, "skein_mm": 25000, "price": 2.4, "currency": "EUR"})
    page.goto(f"{studio.address}#/bench/{design}/price")
    page.get_by_role("heading", name="Hours").wait_for()
    expect(page.get_by_text("In 8 of 10 such pieces the hours fall between")).to_be_visible()
    page.get_by_label("An hour of yours").fill("18,50")
    page.get_by_label("Commission, percent").fill("100")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_role("alert")).to_contain_text("Commission: takes the whole price")
    page.get_by_label("Commission, percent").fill("40")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_role("row", name="Commission, 40 % of the price")).to_be_visible()
    expect(page.get_by_role("row", name="dear amber")).to_contain_text("2.40 EUR")
    page.get_by_label("At a price of").fill("180")
    page.get_by_label("At a price of").press("Enter")
    expect(page.get_by_text("an hour are left if the ball takes")).to_be_visible()
    axe(page)
    with page.expect_download() as file:
        page.get_by_role("link", name="Print it on one page").click()
    assert file.value.suggested_filename == "priced-lamps-price.pdf"
    page.reload()
    expect(page.get_by_label("An hour of yours")).to_have_value("18.50")
