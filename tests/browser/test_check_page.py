"""The tab Check: readings are typed, the verdict and what to do are shown, and stay with the part."""

import pytest
from playwright.sync_api import Page, expect
from tests.browser.steps import open_pin
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.reading import read_job
from ovolo.documents.resolved import job_as_data
from ovolo.plan.planner import make_plan

pytestmark = pytest.mark.browser

ZS = [-0.5, -0.8, -1.1, -1.5, -2, -2.5, -3, -4, -5, -6, -7, -8]


@pytest.fixture(scope="module")
def readings() -> str:
    plan = make_plan(read_job("examples/bridge-pin.toml"))
    part = make(job_as_data(plan.job), plan_as_data(plan), Wrong(cross=0.1), 3)
    return as_csv(measure(part, ZS, 5), u=0.01, u_z=0.02)


def test_readings_become_a_verdict_that_stays_with_the_part(page: Page, readings: str) -> None:
    open_pin(page, "check")
    expect(page.locator("#rows tr").nth(3)).to_be_visible(timeout=60_000)
    page.locator(".check-tab summary").click()
    page.locator("#pasted").fill(readings)
    page.get_by_role("button", name="Use these").click()
    page.get_by_role("button", name="Check the part").click()
    expect(page.locator("#verdict")).to_have_text("Not good", timeout=60_000)
    expect(page.locator("#causes")).to_contain_text("farther from the axis")
    expect(page.locator("#chart svg")).to_be_visible()
    expect(page.get_by_role("button", name="Take the correction to the lathe")).to_be_visible()
    page.reload()
    expect(page.locator("#before")).to_contain_text("Not good")
    expect(page.locator("#rows tr")).to_have_count(len(ZS))
    expect(page.locator("#was-cut-part")).to_be_hidden()
    page.locator("#rows tr").first.locator("input").nth(1).press("End")
    page.keyboard.press("Backspace")
    page.keyboard.press("Tab")
    expect(page.locator("#rows .off").last).to_contain_text("±", timeout=60_000)


def test_what_is_no_reading_is_said(page: Page, watched: object) -> None:
    watched.expected = ("422",)  # type: ignore[attr-defined]
    open_pin(page, "check")
    row = page.locator("#rows tr").first
    expect(row).to_be_visible(timeout=60_000)
    row.locator("input").nth(1).fill("thirteen")
    page.get_by_role("button", name="Check the part").click()
    expect(page.locator("#faults")).to_contain_text("such figure")
