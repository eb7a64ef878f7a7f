"""Two tabs on one job: neither loses the other's edits silently; a server that goes away is said, nothing is lost."""

import pytest
from playwright.sync_api import BrowserContext, Page, Route, expect
from tests.browser.conftest import Watched
from tests.browser.steps import open_pin, saved, typed

pytestmark = pytest.mark.browser


def _two(context: BrowserContext, page: Page) -> tuple[Page, str]:
    job = open_pin(page, "part")
    other = context.new_page()
    other.goto(f"{job}/part")
    expect(other.locator("#sentence")).to_contain_text("Nothing is wrong with the part.")
    typed(page.get_by_label("Stick-out"), "40")
    saved(page)
    typed(other.get_by_label("Stick-out"), "50")
    expect(other.locator("#clash")).to_contain_text("Stick-out: 50 here, 40 there")
    return other, job


def test_the_second_tab_may_keep_its_own(context: BrowserContext, page: Page, watched: Watched) -> None:
    watched.expected = ("409",)
    other, job = _two(context, page)
    other.get_by_role("button", name="Keep mine").click()
    saved(other)
    kept = page.request.get(f"/api{job}").json()
    assert kept["document"]["stock"]["stick_out"] == 50
    versions = [page.request.get(f"/api{job}/history").json()["items"]]
    assert len(versions[0]) == 3


def test_the_second_tab_may_show_the_other(context: BrowserContext, page: Page, watched: Watched) -> None:
    watched.expected = ("409",)
    other, job = _two(context, page)
    other.get_by_role("button", name="Show the other").click()
    expect(other.get_by_label("Stick-out")).to_have_value("40")
    saved(other)
    assert page.request.get(f"/api{job}").json()["document"]["stock"]["stick_out"] == 40
    other.get_by_role("button", name="Undo").click()
    expect(other.get_by_label("Stick-out")).to_have_value("50")


def test_two_tabs_that_change_different_fields_are_put_together(
    context: BrowserContext, page: Page, watched: Watched
) -> None:
    watched.expected = ("409",)
    job = open_pin(page, "part")
    other = context.new_page()
    other.goto(f"{job}/part")
    expect(other.locator("#sentence")).to_contain_text("Nothing is wrong with the part.")
    typed(page.get_by_label("Stick-out"), "40")
    saved(page)
    typed(other.locator("#f-stock\\.diameter"), "21")
    saved(other)
    expect(other.get_by_label("Stick-out")).to_have_value("40")
    expect(other.locator("#clash")).to_be_hidden()
    stock = page.request.get(f"/api{job}").json()["document"]["stock"]
    assert (stock["stick_out"], stock["diameter"]) == (40, 21)


def test_while_the_server_is_away_nothing_typed_is_lost(page: Page, watched: Watched) -> None:
    watched.expected = ("Failed to load resource", "ERR_FAILED")
    job = open_pin(page, "part")

    def away(route: Route) -> None:
        route.abort()

    page.route("**/api/**", away)
    typed(page.get_by_label("Stick-out"), "44")
    expect(page.locator("#saved")).to_contain_text("does not answer")
    page.unroute("**/api/**", away)
    expect(page.locator("#saved")).to_contain_text("answers again")
    assert page.request.get(f"/api{job}").json()["document"]["stock"]["stick_out"] == 44


def test_history_shows_an_older_version_again(page: Page) -> None:
    open_pin(page, "part")
    typed(page.get_by_label("Stick-out"), "41")
    saved(page)
    page.get_by_role("button", name="History").click()
    page.get_by_role("dialog").get_by_role("button", name="Show this one").last.click()
    expect(page.get_by_label("Stick-out")).to_have_value("35")
