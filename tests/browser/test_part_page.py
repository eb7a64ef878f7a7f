"""Part: dimensions typed on the drawing, points dragged, forms chained, a drawing brought in."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import Watched
from tests.browser.steps import new_job, open_pin, saved, start, typed

pytestmark = pytest.mark.browser


def test_a_dimension_is_typed_where_it_stands(page: Page) -> None:
    open_pin(page, "part")
    length = page.locator('.dim-box[data-key="part.outline.2.z"] input')
    expect(length).to_have_value("24")
    typed(length, "30")
    expect(page.get_by_label("z of point 3")).to_have_value("−30")
    saved(page)
    page.reload()
    expect(page.locator('.dim-box[data-key="part.outline.2.z"] input')).to_have_value("30")


def test_fractions_and_commas_are_read(page: Page) -> None:
    open_pin(page, "part")
    typed(page.get_by_label("Diameter Ø"), "13/16 in")
    typed(page.get_by_label("Facing allowance"), "0,75")
    expect(page.locator("#sentence")).to_contain_text("Nothing is wrong with the part.")
    saved(page)
    page.reload()
    expect(page.get_by_label("Facing allowance")).to_have_value("0.75")
    expect(page.get_by_label("Diameter Ø")).to_have_value("13/16 in")


def test_a_point_is_dragged_and_the_figures_follow(page: Page) -> None:
    open_pin(page, "part")
    handle = page.get_by_role("button", name="Move point 3:")
    page.wait_for_timeout(500)
    box = handle.bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 60, y, steps=6)
    page.mouse.up()
    value = float(page.get_by_label("z of point 3").input_value().replace("−", "-"))
    assert value < -25
    expect(page.locator('.dim-box[data-key="part.outline.2.z"] input')).to_have_value(f"{-value:g}")
    saved(page)
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_label("z of point 3")).not_to_have_value(f"−{-value:g}")


def test_an_arc_is_dragged_and_its_radius_follows(page: Page) -> None:
    open_pin(page, "part")
    handle = page.get_by_role("button", name="Move arc to point 2:")
    handle.focus()
    for _ in range(3):
        page.keyboard.press("ArrowDown")
    expect(page.get_by_label("radius of point 2")).not_to_have_value("9")
    assert float(page.get_by_label("radius of point 2").input_value()) > 9


def test_forms_are_chained(page: Page) -> None:
    new_job(page)
    page.locator("#add-form").select_option("taper")
    page.get_by_role("button", name="Add", exact=True).click()
    wide = page.locator("#pieces > li").nth(2).get_by_label("to diameter Ø")
    expect(wide).to_have_value("19")  # no wider than the bar
    typed(wide, "18.5")
    expect(page.locator("#sentence")).to_contain_text("Nothing is wrong with the part.")
    page.get_by_role("button", name="Remove cylinder").click()
    expect(page.locator("#pieces > li")).to_have_count(2)
    page.get_by_role("button", name="Turn the forms into points").click()
    expect(page.get_by_label("z of point 2")).to_have_value("−9")


def test_what_does_not_fit_is_said_where_it_arises(page: Page) -> None:
    new_job(page)
    field = page.locator("#pieces > li").nth(1).get_by_label("to z")
    typed(field, "3")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(page.locator(".fault-here").first).to_be_visible()
    typed(field, "-24")
    expect(page.locator(".fault-here")).to_have_count(0)


def _dxf(folder: Path) -> Path:
    lines = [(0, 0, 0, 9), (0, 9, -20, 9), (-20, 9, -20, 0)]
    body = ["0", "SECTION", "2", "HEADER", "9", "$INSUNITS", "70", "4", "0", "ENDSEC", "0", "SECTION", "2", "ENTITIES"]
    for x0, y0, x1, y1 in lines:
        body += ["0", "LINE", "8", "0", "10", str(x0), "20", str(y0), "11", str(x1), "21", str(y1)]
    file = folder / "pin.dxf"
    file.write_text("\n".join([*body, "0", "ENDSEC", "0", "EOF", ""]))
    return file


def test_a_drawing_is_brought_in_and_shown_first(page: Page, tmp_path: Path, watched: Watched) -> None:
    watched.expected = ("422",)
    open_pin(page, "part")
    page.locator("#bring").set_input_files(_dxf(tmp_path))
    expect(page.locator("#bring-axis")).to_have_attribute("aria-invalid", "true")
    page.locator("#bring-axis").fill("y=0")
    page.locator("#bring").set_input_files(_dxf(tmp_path))
    expect(page.get_by_role("dialog")).to_contain_text("What was understood")
    expect(page.locator("#understood-picture img")).to_be_visible()
    page.get_by_role("button", name="Take this outline").click()
    expect(page.get_by_label("z of point 3")).to_have_value("−20")
    saved(page)


def _forms(page: Page, job: str) -> list[dict[str, object]]:
    saved(page)
    forms: list[dict[str, object]] = page.request.get(f"/api{job}").json()["document"]["part"]["form"]
    return forms


def _job(page: Page) -> str:
    return "/jobs/" + page.url.split("/jobs/")[1].split("/")[0]


def test_a_form_is_put_in_between_two_others_and_taken_out(page: Page) -> None:
    new_job(page)
    page.get_by_label("Add", exact=True).select_option("cylinder")
    page.get_by_label("Where").select_option(label="after 1. dome")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.locator("#pieces > li")).to_have_count(3)
    expect(page.locator("#sentence")).to_contain_text("Nothing is wrong with the part.")
    assert [form["form"] for form in _forms(page, _job(page))] == ["dome", "cylinder", "cylinder"]
    page.get_by_role("button", name="Remove cylinder").first.click()
    expect(page.locator("#pieces > li")).to_have_count(2)
    assert page.evaluate("document.activeElement.closest('#pieces') !== null")


def test_forms_come_and_go_and_the_outline_stays_whole(page: Page) -> None:
    """A taper put in takes the diameter before it; without the ball the neck keeps its own, and its fillet goes too."""
    page.goto("/")
    start(page, "Ball")
    page.get_by_role("button", name="Make the plan").click()
    page.wait_for_url(re.compile(r"/plan$"))
    page.goto(page.url.replace("/plan", "/part"))
    good = page.locator("#sentence")
    expect(good).to_contain_text("Nothing is wrong with the part.")
    page.get_by_label("Add", exact=True).select_option("taper")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.locator("#pieces > li")).to_have_count(4)
    expect(page.locator("#pieces > li").last.get_by_label("to diameter Ø")).to_have_value("15")
    expect(good).to_contain_text("Nothing is wrong with the part.")
    page.get_by_role("button", name="Remove ball").click()
    expect(page.locator("#pieces > li")).to_have_count(2)
    expect(page.locator("#pieces > li").first.get_by_label("diameter Ø")).to_have_value("12")
    expect(page.locator("#fitted")).to_contain_text("A corner without a form went with it.")
    expect(good).to_contain_text("Nothing is wrong with the part.")


def test_a_joint_that_a_drag_bends_is_said_and_the_next_handle_is_a_button_away(page: Page) -> None:
    open_pin(page, "part")
    expect(page.locator(".handle").first).to_be_visible()
    for _ in range(2):
        page.get_by_role("button", name="Next handle").click()
    held = page.locator(".handle.held")
    expect(held).to_have_count(1)
    expect(held).to_be_focused()
    page.get_by_role("button", name="Move point 2:").press("ArrowUp")
    expect(page.locator("#sentence")).to_contain_text("No longer tangent: point 2")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#sentence")).not_to_contain_text("No longer tangent")


def test_an_arrow_moves_one_axis_and_back_exactly(page: Page) -> None:
    new_job(page)
    before = _forms(page, _job(page))
    handle = page.get_by_role("button", name="Move end of the cylinder")
    handle.focus()
    page.keyboard.press("ArrowLeft")
    expect(page.locator("#pieces").get_by_label("to z")).not_to_have_value("−24")
    moved = _forms(page, _job(page))
    assert moved[0] == before[0]
    page.keyboard.press("ArrowRight")
    expect(page.locator("#pieces").get_by_label("to z")).to_have_value("−24")
    assert _forms(page, _job(page)) == before


def test_a_press_that_does_not_move_changes_nothing(page: Page) -> None:
    new_job(page)
    before = _forms(page, _job(page))
    box = page.get_by_role("button", name="Move end of the cylinder").bounding_box()
    assert box
    page.mouse.move(box["x"] + 5, box["y"] + 5)
    page.mouse.down()
    page.mouse.move(box["x"] + 6, box["y"] + 6)
    page.mouse.up()
    page.wait_for_timeout(400)
    assert _forms(page, _job(page)) == before


def test_a_ball_is_pulled_by_its_top(page: Page) -> None:
    start(page, "Ball")
    page.get_by_role("button", name="Make the plan").click()
    page.wait_for_url(re.compile("/plan$"))
    page.goto(page.url.replace("/plan", "/part"))
    handle = page.get_by_role("button", name="Move ball:")
    handle.focus()
    page.keyboard.press("ArrowUp")
    expect(page.locator("#pieces").get_by_label("diameter Ø").first).not_to_have_value("25")
    forms = _forms(page, _job(page))
    assert float(str(forms[0]["diameter"])) > 25
    assert forms[0]["neck"] == 12
