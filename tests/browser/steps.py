"""What a person does on the pages, step by step."""

import re

from playwright.sync_api import Locator, Page, expect


def new_job(page: Page) -> str:
    """Start a new job; gives its address."""
    page.goto("/")
    page.get_by_role("button", name="New job: a domed end").click()
    page.wait_for_url(re.compile(r"/jobs/\w+/part$"))
    expect(page.locator("#sentence")).to_have_text("This can be planned.")
    return page.url.removesuffix("/part")


def open_pin(page: Page, tab: str = "plan") -> str:
    """Open a copy of the bridge pin, so that every test has its own; gives its address."""
    page.goto("/")
    name = page.get_by_role("link", name="Bridge pin, domed end", exact=True).get_attribute("href")
    assert name
    copy = page.request.post(f"/api/{name.strip('/').removesuffix('/plan')}/copy").json()["id"]
    page.goto(f"/jobs/{copy}/{tab}")
    if tab == "plan":
        planned(page)
    return f"/jobs/{copy}"


def planned(page: Page) -> None:
    """Wait until the plan stands, with all that follows it."""
    expect(page.locator("#sentence strong")).to_be_visible()
    expect(page.locator("#settings")).to_be_enabled()
    expect(page.locator("#minutes-figure")).not_to_have_text("–")


def saved(page: Page) -> None:
    expect(page.locator("#saved")).to_have_text("Saved")


def typed(field: Locator, text: str) -> None:
    """Type over what a field holds, and go on."""
    field.fill(text)
    field.press("Tab")
