"""Shop: tools with their pictures, the lathe, shops that are kept and taken into another job."""

import pytest
from playwright.sync_api import Page, expect
from tests.browser.steps import open_pin, saved, typed

pytestmark = pytest.mark.browser


def test_a_tool_is_added_and_drawn(page: Page) -> None:
    open_pin(page, "shop")
    expect(page.locator("#tools svg")).to_have_count(2)
    page.get_by_role("button", name="Add a knife tool").click()
    expect(page.locator("#tools svg")).to_have_count(3)
    third = page.locator("#tools > li").nth(2)
    expect(third.get_by_label("Name")).to_have_value("right-hand knife, 2")
    typed(third.get_by_label("Included angle °"), "35")
    expect(third.locator("svg")).to_contain_text("35°")
    typed(third.get_by_label("Nose radius R"), "-1")
    expect(third.get_by_label("Nose radius R")).to_have_attribute("aria-invalid", "true")
    third.get_by_role("button", name="Take right-hand knife, 2 out").click()
    expect(page.locator("#tools > li")).to_have_count(2)


def test_speeds_are_a_list(page: Page) -> None:
    open_pin(page, "shop")
    typed(page.get_by_label("Spindle speeds"), "70, 200; 360")
    saved(page)
    page.reload()
    expect(page.get_by_label("Spindle speeds")).to_have_value("70, 200, 360")


def test_a_shop_is_kept_and_taken_into_another_job(page: Page) -> None:
    open_pin(page, "shop")
    typed(page.locator("#f-slide\\.cross\\.count"), "0.02")
    page.get_by_label("Keep this one as").fill("The old lathe")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("#shop-says")).to_contain_text("is kept")
    open_pin(page, "shop")
    expect(page.locator("#f-slide\\.cross\\.count")).to_have_value("0.01")
    page.get_by_label("Kept shops").select_option("The old lathe")
    page.get_by_role("button", name="Take it into this job").click()
    expect(page.locator("#f-slide\\.cross\\.count")).to_have_value("0.02")
    saved(page)


def test_a_slide_wound_the_wrong_way_is_told(page: Page) -> None:
    open_pin(page, "shop")
    check = page.locator('.check[data-slide="saddle"]')
    check.get_by_text("Find out by winding it").click()
    typed(check.get_by_label("by a travel of"), "10")
    typed(check.get_by_label("It showed"), "0")
    typed(check.get_by_label("Now it shows"), "-10")
    check.get_by_role("button", name="What does that mean?").click()
    expect(check.locator(".found")).to_contain_text("toward the chuck")
    expect(page.locator("#says-saddle")).to_contain_text("falls by 1")


def test_a_form_tool_is_drawn_and_kept_as_it_was_told(page: Page) -> None:
    """Its outline comes with the job; what else is changed on the page leaves it alone."""
    page.goto("/")
    outline = [{"z": 0, "r": 2}, {"z": 2, "r": 0}, {"z": 5, "r": 0.5, "convex": 9}]
    tool = {"name": "chamfer tool", "kind": "form", "outline": outline}
    dome = [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}]
    job = {"title": "Formed", "part": {"outline": dome, "curve": [0, -9]}, "stock": {"diameter": 20}, "tool": [tool]}
    kept = page.request.post("/api/jobs", data=job).json()["id"]
    page.goto(f"/jobs/{kept}/shop")
    expect(page.locator("#tools svg")).to_have_count(1)
    only = page.locator("#tools > li").first
    expect(only).to_contain_text("its outline of 3 points")
    expect(only.get_by_label("Nose radius R")).to_have_count(0)
    typed(only.get_by_label("Name"), "ground tool")
    typed(page.locator("#f-slide\\.cross\\.count"), "0.02")
    saved(page)
    page.reload()
    expect(page.locator("#tools > li").first.get_by_label("Name")).to_have_value("ground tool")
    document = page.request.get(f"/api/jobs/{kept}").json()["document"]
    assert document["tool"] == [{**tool, "name": "ground tool"}]
    page.goto(f"/jobs/{kept}/plan")
    expect(page.locator("#sentence strong")).to_be_visible()
