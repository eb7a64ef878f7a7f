"""The whole way as a newcomer goes it: new dome, dimensions, shop check, plan, change the steps, take it away."""

import re
import tomllib
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PHONE
from tests.browser.steps import new_job, planned, saved, typed

from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("context", [DESK, PHONE], indirect=True, ids=["desk", "phone"])
def test_from_nothing_to_a_plan_that_is_taken_away(page: Page, tmp_path: Path) -> None:
    new_job(page)
    typed(page.get_by_role("textbox", name="Title of the job"), "Capstan pin")
    on_drawing = page.locator(".dim-box input").first
    expect(on_drawing).to_have_value("18")
    typed(on_drawing, "16")
    typed(page.locator('.dim-box[data-key="part.form.0.height"] input'), "8")
    expect(page.locator("#pieces").get_by_label("diameter Ø").first).to_have_value("16")
    typed(page.get_by_label("Steps to z"), "-8")
    saved(page)

    page.get_by_role("link", name="Shop").click()
    check = page.locator('.check[data-slide="cross"]')
    check.get_by_text("Find out by winding it").click()
    typed(check.get_by_label("by a travel of"), "1")
    typed(check.get_by_label("It showed"), "20,00")
    typed(check.get_by_label("Now it shows"), "18")
    check.get_by_role("button", name="What does that mean?").click()
    expect(check.locator(".found")).to_contain_text("It counts diameter")
    expect(page.locator("#says-cross")).to_have_text("Wind it out by 1: its figure falls by 2.")
    saved(page)

    page.get_by_role("link", name="Plan").click()
    planned(page)
    before = int(page.locator("#settings-figure").inner_text())
    page.locator("#settings").press("ArrowRight")
    page.locator("#settings").press("ArrowRight")
    expect(page.locator(".settings .setting:not(.preview)")).to_have_count(before + 2)
    expect(page.locator("#sentence")).to_contain_text("settings leave at most")
    planned(page)
    expect(page.locator("#settings-figure")).to_have_text(str(before + 2))
    saved(page)

    page.get_by_text("Save or export").click()
    with page.expect_download() as download:
        page.locator("[data-file='job.toml']").click()
    download.value.save_as(tmp_path / "job.toml")
    data = tomllib.loads((tmp_path / "job.toml").read_text())
    assert data["title"] == "Capstan pin"
    assert data["slide"]["cross"]["grows"] == "in"
    plan = make_plan(job_from_data(data))
    assert plan.stations == before + 2
    assert page.locator("#moves-figure").inner_text() == str(len(plan.moves))


def test_a_job_comes_in_as_a_file_and_a_deleted_one_comes_back(page: Page, tmp_path: Path) -> None:
    file = tmp_path / "lever.toml"
    file.write_text(
        'title = "Lever"\nversion = 1\n[part]\nform = [{form = "dome", diameter = 12}, '
        '{form = "cylinder", length = 9}]\n[stock]\ndiameter = 14\n'
        '[[tool]]\nname = "round"\nkind = "round"\nnose_radius = 2\n'
    )
    page.goto("/")
    page.locator("#bring").set_input_files(file)
    page.wait_for_url(re.compile("/plan$"))
    planned(page)
    page.get_by_role("link", name="All jobs").click()
    page.get_by_role("button", name="Delete Lever").click()
    expect(page.get_by_role("link", name="Lever", exact=True)).to_have_count(0)
    page.get_by_text("Deleted, and can be brought back").click()
    page.get_by_role("button", name="Bring back Lever").click()
    expect(page.get_by_role("link", name="Lever", exact=True)).to_have_count(1)


def test_a_file_that_is_no_job_is_said_in_words(page: Page, tmp_path: Path, watched: object) -> None:
    watched.expected = ("422",)  # type: ignore[attr-defined]
    file = tmp_path / "broken.toml"
    file.write_text("title = ")
    page.goto("/")
    page.locator("#bring").set_input_files(file)
    expect(page.locator("#start-faults")).to_contain_text("this line cannot be read")
