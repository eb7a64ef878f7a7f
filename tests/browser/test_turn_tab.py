"""The tab Turn: a plan is taken to the lathe from the page Plan, with its address and its code."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect
from tests.browser.conftest import Watched
from tests.browser.steps import open_pin
from tests.browser.test_access import TAGS

pytestmark = pytest.mark.browser


def test_a_plan_is_taken_to_the_lathe(page: Page) -> None:
    job = open_pin(page, "part")
    page.goto(f"{job}/plan")
    page.get_by_role("link", name="Take to the lathe").click()
    page.wait_for_url(f"**{job}/turn")
    expect(page.locator("#run-address")).to_contain_text("/run/", timeout=60_000)
    expect(page.locator("#runs li > a:first-child")).to_have_count(1)
    expect(page.locator("#code img")).to_have_js_property("complete", True)
    assert page.locator("#code img").evaluate("image => image.naturalWidth") > 100
    result = Axe().run(page, options=TAGS)
    assert [(v["id"], [n["html"][:120] for n in v["nodes"]]) for v in result.response["violations"]] == []
    page.reload()
    expect(page.locator("#runs li > a:first-child")).to_have_text(re.compile("at move 1 of"))
    page.get_by_role("button", name=re.compile("Show the address")).click()
    page.get_by_role("link", name="Open it here").click()
    expect(page.locator("#move")).to_have_text("1", timeout=60_000)


def test_a_job_that_cannot_be_planned_is_not_taken(page: Page, watched: Watched) -> None:
    watched.expected = ("422",)
    page.goto("/")
    kept = page.request.post("/api/jobs", data={"title": "Nothing"}).json()["id"]
    page.goto(f"/jobs/{kept}/turn")
    page.get_by_role("button", name="Take to the lathe").click()
    expect(page.locator("#faults")).not_to_be_empty(timeout=60_000)
    expect(page.locator("#taken")).to_be_hidden()
