"""What was typed is there after a reload, a step back, a server that was away; a button pressed twice makes one job."""

import re

import pytest
from playwright.sync_api import Page, Route, expect
from tests.browser.conftest import Watched
from tests.browser.steps import open_pin, planned, saved, start, typed

pytestmark = pytest.mark.browser


def test_a_reload_right_after_typing_shows_what_was_typed(page: Page, watched: Watched) -> None:
    watched.expected = ("409 (Conflict)",)  # what the page that left still sends may come in ahead of the new one's
    job = open_pin(page, "part")
    for n in range(6):
        typed(page.get_by_label("Stick-out"), str(40 + n))
        page.reload()
        expect(page.get_by_label("Stick-out")).to_have_value(str(40 + n))
        expect(page.locator("#clash")).to_be_hidden()
    saved(page)
    assert page.request.get(f"/api{job}").json()["document"]["stock"]["stick_out"] == 45


def test_so_does_a_step_back(page: Page) -> None:
    job = open_pin(page, "shop")
    page.goto(f"{job}/part")
    typed(page.get_by_label("Stick-out"), "41")
    page.go_back()
    page.go_forward()
    expect(page.get_by_label("Stick-out")).to_have_value("41")
    expect(page.locator("#clash")).to_be_hidden()


def test_text_that_is_still_being_typed_survives_a_reload(page: Page) -> None:
    open_pin(page, "part")
    field = page.get_by_label("Stick-out")
    field.fill("")
    field.press_sequentially("4")
    page.reload()
    expect(field).to_have_value("4")
    expect(field).to_be_focused()
    field.press_sequentially("2")
    field.press("Tab")
    saved(page)
    expect(field).to_have_value("42")


def test_a_server_that_is_away_through_a_reload_loses_nothing(page: Page, watched: Watched) -> None:
    watched.expected = ("Failed to load resource", "ERR_FAILED")
    job = open_pin(page, "part")

    def away(route: Route) -> None:
        route.abort()

    page.route("**/api/**", away)
    typed(page.get_by_label("Stick-out"), "47")
    expect(page.locator("#saved")).to_contain_text("does not answer")
    page.reload()
    expect(page.get_by_label("Stick-out")).to_have_value("47")
    page.unroute("**/api/**", away)
    expect(page.locator("#saved")).to_have_text(re.compile("answers again|Saved"))
    assert page.request.get(f"/api{job}").json()["document"]["stock"]["stick_out"] == 47


def test_a_button_pressed_twice_makes_one_job(page: Page) -> None:
    page.goto("/")
    before = len(page.request.get("/api/jobs").json()["items"])
    start(page, "End radius")
    page.get_by_role("button", name="Make the plan").dblclick()
    page.wait_for_url(re.compile("/plan$"))
    planned(page)
    assert len(page.request.get("/api/jobs").json()["items"]) == before + 1


def test_new_says_that_the_server_is_away_and_keeps_the_figures(page: Page, watched: Watched) -> None:
    watched.expected = ("Failed to load resource", "ERR_FAILED")
    start(page, "Dome")
    page.route("**/api/start", lambda route: route.abort())
    page.get_by_label("Diameter Ø").locator("visible=true").fill("19")
    page.get_by_role("button", name="Make the plan").click()
    expect(page.locator("#start-faults")).to_contain_text("The server does not answer")
    expect(page.get_by_label("Diameter Ø").locator("visible=true")).to_have_value("19")
    expect(page.get_by_label("Height").locator("visible=true")).to_have_value("9.5")  # whole, until it is typed


def test_a_title_too_long_is_said_where_it_is_typed(page: Page) -> None:
    open_pin(page, "part")
    title = page.get_by_role("textbox", name="Title of the job")
    typed(title, "x" * 300)
    expect(title).to_have_attribute("aria-invalid", "true")
    expect(page.locator("h1 .fault-here")).to_contain_text("allowed: 200 characters")
    assert page.evaluate("document.documentElement.scrollWidth - window.innerWidth") <= 0
    typed(title, "Bridge pin")
    expect(page.locator(".fault-here")).to_have_count(0)
