"""From nothing to a printed sheet of a sensible plan, by what can be seen alone: a ball on a neck."""

import re

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PHONE
from tests.browser.steps import planned

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("context", [DESK, PHONE], indirect=True, ids=["desk", "phone"])
def test_a_new_ball_on_a_neck_becomes_a_sheet(page: Page) -> None:
    page.goto("/")
    page.get_by_text("Ball", exact=True).click()
    page.get_by_label("Diameter Ø").locator("visible=true").fill("25")
    page.get_by_label("Neck Ø").locator("visible=true").fill("12")
    page.get_by_role("button", name="Make the plan").click()
    page.wait_for_url(re.compile("/plan$"))
    planned(page)
    assert int(page.locator("#moves-figure").inner_text()) < 260
    expect(page.get_by_text("Chuck the bar")).to_be_visible()
    page.get_by_role("button", name="One move on").click()
    expect(page.locator("#now-figure")).to_contain_text(" to ")
    expect(page.locator("#now-more")).to_contain_text("move 1 of")
    address = page.get_by_role("link", name="Print", exact=True).get_attribute("href")
    assert address
    answer = page.request.get(address)
    assert answer.headers["content-disposition"].startswith("inline")
    assert answer.body().startswith(b"%PDF")


def test_without_script_the_drawing_the_sheet_and_the_table_are_there(page: Page) -> None:
    page.goto("/")
    address = page.get_by_role("link", name="Bridge pin, domed end", exact=True).get_attribute("href")
    assert address
    browser = page.context.browser
    assert browser
    context = browser.new_context(java_script_enabled=False, base_url=page.url)
    plain = context.new_page()
    plain.goto(address)
    expect(plain.locator(".no-script p").first).to_be_visible()
    plain.locator(".no-script a").last.click()
    expect(plain.get_by_role("heading", name="Set-up")).to_be_visible()
    expect(plain.get_by_role("table").first).to_be_visible()
    plain.goto("/")
    plain.locator("summary", has_text="End radius").click()
    plain.get_by_role("button", name="Make the plan").locator("visible=true").click()
    expect(plain).to_have_url(re.compile("/plan$"))
    context.close()
