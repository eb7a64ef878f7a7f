"""Plan: the metal goes as one walks through the moves, table and drawing point at each other, settings are dragged."""

import re
from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect
from tests.browser.conftest import DESK, PHONE, Watched
from tests.browser.steps import open_pin, open_refused, planned, saved, typed

pytestmark = pytest.mark.browser

WATCH_THE_SWEPT = """() => {
  window.seen = [];
  const swept = document.querySelector('.swept');
  new MutationObserver(() => seen.push(swept.getAttribute('d'))).observe(swept, {attributes: true});
}"""

SMALL_TARGETS = """() => [...document.querySelectorAll('button, a, select, input:not(.away), summary')]
  .filter(e => e.offsetParent && !e.classList.contains('skip'))
  .map(e => [e.id || e.textContent.trim() || e.dataset.path, e.getBoundingClientRect()])
  .filter(([, r]) => r.width && (r.height < 43.5 || r.width < 43.5)).map(([name]) => name)"""
"""What a finger could miss: less than 44 px, a hair aside."""


def gone(page: Page) -> int:
    return page.locator(".chip.gone").count()


def test_the_metal_goes_move_by_move(page: Page) -> None:
    open_pin(page)
    chips, moves = page.locator(".chip").count(), int(page.locator("#moves-figure").inner_text())
    assert 10 < chips < moves
    assert gone(page) == 0
    scrub = page.locator("#scrub")
    scrub.press("End")
    assert gone(page) == chips
    expect(page.locator("#scrub-figure")).to_have_text(f"move {moves} of {moves}")
    scrub.press("Home")
    for n in range(1, 6):
        page.get_by_role("button", name="One move on").click()
        expect(page.locator("tr[aria-current]")).to_have_attribute("data-n", str(n))
    before = page.locator(".tool-at:not([hidden])").get_attribute("transform")
    page.get_by_role("button", name="One move back").click()
    assert page.locator(".tool-at:not([hidden])").get_attribute("transform") != before


def cuts(page: Page) -> list[int]:
    """The numbers of the moves that take metal, as they are drawn."""
    return sorted(page.locator(".chip").evaluate_all("chips => chips.map(chip => Number(chip.dataset.n))"))


def test_table_and_drawing_point_at_each_other(page: Page) -> None:
    open_pin(page)
    first, second = cuts(page)[:2]
    row = page.locator(f"tr[data-n='{first}']")
    row.hover()
    expect(page.locator(f".chip[data-n='{first}']")).to_have_class(re.compile("pointed"))
    row.click()
    expect(row).to_have_attribute("aria-current", "step")
    page.locator(f".chip[data-n='{second}']").dispatch_event("pointerenter")
    expect(page.locator(f"tr[data-n='{second}']")).to_have_class(re.compile("pointed"))
    page.locator(".setting[data-setting='3']").dispatch_event("click")
    expect(page.locator("tr[aria-current] td").last).to_have_text("3")


def test_playing_takes_the_metal_away_and_stops(page: Page) -> None:
    open_pin(page)
    before, after = cuts(page)[2:4]
    page.locator("#scrub").fill(str(before))
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.locator(f".chip.gone[data-n='{after}']")).to_be_attached()
    page.get_by_role("button", name="Stop", exact=True).click()
    expect(page.get_by_role("button", name="Play", exact=True)).to_be_visible()


def test_with_reduced_motion_nothing_glides(page: Page) -> None:
    page.emulate_media(reduced_motion="reduce")
    open_pin(page)
    page.evaluate(WATCH_THE_SWEPT)
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.locator(f".chip.gone[data-n='{cuts(page)[0]}']")).to_be_attached()
    assert set(page.evaluate("window.seen")) <= {""}


def test_another_ridge_gives_another_plan_and_undo_the_old_one(page: Page) -> None:
    open_pin(page)
    first = page.locator("#settings-figure").inner_text()
    typed(page.get_by_label("Ridge at most"), "0.02")
    expect(page.locator("#settings-figure")).not_to_have_text(first)
    planned(page)
    saved(page)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#settings-figure")).to_have_text(first)
    expect(page.get_by_label("Ridge at most")).to_have_value("0.05")
    page.get_by_role("button", name="Redo").click()
    expect(page.get_by_label("Ridge at most")).to_have_value("0.02")


def test_dragging_the_point_of_the_curve_previews_and_plans(page: Page) -> None:
    open_pin(page)
    chart = page.locator("#trade svg")
    chart.scroll_into_view_if_needed()
    box = chart.bounding_box()
    assert box
    page.mouse.move(box["x"] + box["width"] * 0.4, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] * 0.6, box["y"] + box["height"] / 2, steps=4)
    expect(page.locator("#sentence")).to_contain_text("Preview:")
    expect(page.locator(".setting.preview").first).to_be_attached()
    page.mouse.up()
    expect(page.locator("#sentence")).to_contain_text("at most")
    assert int(page.locator("#settings-figure").inner_text()) > 18


def test_a_wrong_figure_is_said_where_it_stands(page: Page, watched: Watched) -> None:
    watched.expected = ("422",)
    open_pin(page)
    field = page.get_by_label("Bite")
    typed(field, "-1")
    expect(field).to_have_attribute("aria-invalid", "true")
    note = page.locator(f"#{field.get_attribute('aria-describedby')}")
    expect(note).to_contain_text("negative")
    expect(page.locator("#sentence")).to_contain_text("There is no plan for this yet")
    typed(field, "1")
    expect(field).not_to_have_attribute("aria-invalid", "true")
    expect(page.locator("#sentence")).to_contain_text("leave at most")


@pytest.mark.parametrize("context", [DESK, PHONE], indirect=True, ids=["desk", "phone"])
def test_equal_steps_of_a_slide_are_chosen_and_their_cost_is_said(page: Page, watched: Watched) -> None:
    watched.expected = ("422",)
    where = open_pin(page)
    slide, amount = page.get_by_label("Constant move of"), page.locator("[data-path='finish.by.amount']")
    expect(amount).to_be_hidden()
    slide.select_option("saddle")
    expect(amount).to_be_focused()
    expect(amount).to_have_attribute("aria-invalid", "true")
    typed(amount, "0.3")
    expect(amount).not_to_have_attribute("aria-invalid", "true")
    expect(page.locator("#by-cost")).to_contain_text("steps of 0.3 mm of the saddle")
    slide.select_option("top")
    expect(slide).to_have_attribute("aria-invalid", "true")
    note = page.locator(f"#{slide.get_attribute('aria-describedby')}")
    expect(note).to_contain_text("No finishing move is made with this slide")
    expect(page.locator("#by-cost")).to_be_empty()
    slide.select_option("")
    expect(amount).to_be_hidden()
    expect(slide).not_to_have_attribute("aria-invalid", "true")
    saved(page)
    assert "by" not in page.request.get(f"/api{where}").json()["document"]["finish"]


def test_a_whole_turn_is_offered_where_it_is_known(page: Page) -> None:
    """2 mm a turn, read as a diameter: 4."""
    where = open_pin(page, "shop")
    typed(page.locator("[data-path='slide.cross.per_turn']"), "2")
    saved(page)
    page.goto(f"{where}/plan")
    planned(page)
    page.get_by_label("Constant move of").select_option("cross")
    expect(page.locator("[data-path='finish.by.amount']")).to_have_value("4")
    expect(page.locator("#by-turn")).to_contain_text("a whole turn is 4")
    expect(page.locator("#by-cost")).to_contain_text("of the cross slide")


def test_from_the_whole_part_to_microns_and_back(page: Page) -> None:
    open_pin(page)
    drawing = page.locator("#drawing")
    whole = page.locator("#scene > svg").get_attribute("viewBox")
    box = drawing.bounding_box()
    assert box
    page.mouse.move(box["x"] + box["width"] * 0.6, box["y"] + box["height"] * 0.4)
    for _ in range(40):
        page.mouse.wheel(0, -120)
    expect(page.locator("#scale")).to_contain_text("µm")
    width = float(page.locator("#scene > svg").get_attribute("viewBox").split()[2])  # type: ignore[union-attr]
    assert width < 0.05
    expect(page.locator("#inset")).to_be_visible()
    page.get_by_role("button", name="Whole part").click()
    assert page.locator("#scene > svg").get_attribute("viewBox") == whole
    drawing.focus()
    page.keyboard.press("+")
    page.keyboard.press("ArrowLeft")
    assert page.locator("#scene > svg").get_attribute("viewBox") != whole
    page.keyboard.press("0")
    assert page.locator("#scene > svg").get_attribute("viewBox") == whole


def test_the_drawing_is_saved_as_it_is_looked_at(page: Page, tmp_path: Path) -> None:
    open_pin(page)
    page.get_by_text("Save or export").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="As on the screen, SVG").click()
    download.value.save_as(tmp_path / "d.svg")
    text = (tmp_path / "d.svg").read_text()
    assert text.startswith("<svg")
    assert "stroke" in text
    assert "var(" not in text
    with page.expect_download() as download:
        page.get_by_role("button", name="As on the screen, PNG").click()
    download.value.save_as(tmp_path / "d.png")
    assert (tmp_path / "d.png").read_bytes().startswith(b"\x89PNG")


def test_the_animation_stands_alone(page: Page, tmp_path: Path) -> None:
    open_pin(page)
    page.get_by_text("Save or export").click()
    with page.expect_download() as download:
        page.locator("[data-file='cut.html']").click()
    download.value.save_as(tmp_path / "cut.html")
    text = (tmp_path / "cut.html").read_text()
    assert "<script" in text
    assert not re.search(r'(src|href)="https?:', text)


@pytest.mark.parametrize("context", [PHONE], indirect=True, ids=["phone"])
def test_a_finger_finds_every_target(page: Page) -> None:
    open_pin(page)
    assert page.evaluate(SMALL_TARGETS) == []


def test_longer_work_says_so_and_can_be_stopped(page: Page, watched: Watched) -> None:
    watched.expected = ("ERR_FAILED", "Failed to load")
    open_pin(page)

    def hold(route: Route) -> None:
        """The answer never comes."""

    page.route("**/api/plan/view", hold)
    typed(page.get_by_label("Ridge at most"), "0.03")
    expect(page.locator("#busy")).to_contain_text("Planning")
    page.locator("#scrub").press("End")  # the page itself is never blocked
    expect(page.locator("tr[aria-current]")).to_be_visible()
    page.get_by_role("button", name="Stop", exact=True).click()
    expect(page.locator("#sentence")).to_contain_text("Stopped")
    expect(page.locator("#busy")).to_be_hidden()
    page.unroute("**/api/plan/view", hold)
    typed(page.get_by_label("Ridge at most"), "0.04")
    expect(page.locator("#sentence")).to_contain_text("at most")


def test_a_cut_and_its_return_are_read_as_one_line_and_the_best_change_is_said(page: Page) -> None:
    where = open_pin(page)
    job = page.request.get(f"/api{where}").json()["document"]
    sections = page.request.post("/api/plan/view", data=job).json()["sections"]
    rows = [row for section in sections for row in section["rows"]]
    backs = [b for a, b in pairwise(rows) if a["cuts"] and not b["cuts"] and a["slide"] == b["slide"]]
    backs = [row for row in backs if not row["before"]]
    assert backs
    expect(page.locator("#rows tr.back")).to_have_count(len(backs))
    expect(page.locator(f"tr[data-n='{backs[0]['n']}']")).to_contain_text("and back")
    best = page.locator("#cautions .best")
    expect(best).to_contain_text("helps most")
    takes = re.search(r"helps most: (\d+) moves", best.inner_text())
    assert takes
    best.get_by_role("button").click()
    expect(page.locator("#moves-figure")).to_have_text(takes[1])


def test_the_turned_part_is_drawn_and_turned(page: Page) -> None:
    open_pin(page)
    page.get_by_text("3-D view: drag to turn").click()
    canvas = page.locator("#turned")
    drawn = "e => e.toDataURL().length"
    page.wait_for_timeout(300)
    first = canvas.evaluate("e => e.toDataURL()")
    assert canvas.evaluate(drawn) > 5000
    canvas.focus()
    page.keyboard.press("ArrowRight")
    page.wait_for_timeout(200)
    second = canvas.evaluate("e => e.toDataURL()")
    assert second != first
    page.get_by_label("Heights of ridges").select_option("30")
    assert canvas.evaluate("e => e.toDataURL()") != second


def test_other_ways_stand_side_by_side(page: Page) -> None:
    open_pin(page)
    page.get_by_text("Other ways to turn this curve").click()
    expect(page.locator("#methods-at h3").first).to_have_text("single-slide steps")
    assert page.locator("#methods-at svg").count() >= 4


def test_the_worth_of_settings_is_reckoned_when_asked(page: Page) -> None:
    open_pin(page)
    page.get_by_text("How many settings are worth it?").click()
    expect(page.locator("#worth-at table")).to_contain_text("round nose 6")
    page.get_by_role("button", name="Plan coarse work").click()
    expect(page.locator("#worth-at")).to_contain_text("Try the gauge first")


@pytest.mark.parametrize("context", [DESK, PHONE], indirect=True, ids=["desk", "phone"])
def test_a_refusal_shows_what_no_tool_reaches(page: Page, watched: Watched) -> None:
    watched.expected = ("422",)
    open_refused(page)
    svg = page.locator("#scene > svg")
    expect(svg.locator(".unreached").first).to_be_visible()
    expect(svg).to_contain_text("z −9, Ø 12.53")
    expect(page.locator("#sentence")).to_contain_text("There is no plan for this. No tool of the drawer reaches")
    expect(page.locator("#faults")).not_to_contain_text("is out of reach")  # said once, by the sentence
    expect(page.get_by_role("button", name="Let the nose of blade project 5.3 mm")).to_be_visible()
    expect(page.locator("#rows")).to_have_text("No moves: there is no plan.")
    frame = page.locator("#drawing").bounding_box()
    assert frame
    for box in (each.bounding_box() for each in svg.locator("text").all()):
        assert box
        assert frame["x"] <= box["x"]
        assert box["x"] + box["width"] <= frame["x"] + frame["width"] + 1
        assert box["height"] > 12  # as large as other small print of the page
    page.get_by_role("button", name="Closer").click()
    assert svg.get_attribute("viewBox") != "0 0"
    page.get_by_role("button", name="Whole part").click()
    expect(page.get_by_role("button", name="Play", exact=True)).to_be_hidden()  # there is nothing to play
    expect(page.locator("#scrub-figure")).to_have_text("–")


def test_a_plan_takes_the_place_of_a_refusal_and_the_other_way_round(page: Page, watched: Watched) -> None:
    """Neither tool of the pin gets to the bottom of a notch."""
    watched.expected = ("422",)
    where = open_pin(page)
    kept = page.request.get(f"/api{where}").json()
    outline = [{"z": z, "d": d} for z, d in ((0, 10), (-5, 10), (-6, 4), (-7, 10), (-20, 10))]
    changed = {**kept["document"], "part": {"outline": outline, "curve": [0, -10]}}
    page.request.put(f"/api{where}", data={"document": changed, "revision": kept["revision"]})
    page.goto(f"{where}/plan")
    expect(page.locator("#scene .unreached").first).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#sentence")).to_contain_text("leave at most")
    expect(page.locator("#scene .unreached")).to_have_count(0)
    expect(page.locator(".chip").first).to_be_attached()
    page.get_by_role("button", name="Redo").click()
    expect(page.locator("#scene .unreached").first).to_be_visible()
    expect(page.locator("tr[data-n]")).to_have_count(0)
    expect(page.locator("#moves-figure")).to_have_text("–")
    expect(page.locator("#strip-figure")).to_be_hidden()


def test_a_refusal_is_saved_as_it_is_looked_at(page: Page, watched: Watched, tmp_path: Path) -> None:
    watched.expected = ("422",)
    open_refused(page)
    expect(page.locator("#scene .unreached").first).to_be_visible()
    page.get_by_text("Save or export").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="As on the screen, SVG").click()
    download.value.save_as(tmp_path / "d.svg")
    text = (tmp_path / "d.svg").read_text()
    assert "Source Sans" in text
    assert "out of reach" in text


def test_a_broken_job_has_a_drawing_and_its_faults_lead_to_their_fields(page: Page, watched: Watched) -> None:
    """The bar is too thin for the dome: a larger one is a press away; a fault of the shop leads to the page Shop."""
    watched.expected = ("422",)
    page.goto("/")
    part = {"form": [{"form": "dome", "diameter": 20}, {"form": "cylinder", "length": 8}]}
    nose = {"name": "round nose", "kind": "round", "nose_radius": 3}
    job = {"title": "Thin", "part": part, "stock": {"diameter": 18}, "tool": [nose], "slide": {"cross": {"count": -1}}}
    kept = page.request.post("/api/jobs", data=job).json()["id"]
    page.goto(f"/jobs/{kept}/plan")
    expect(page.locator("#scene .edge").first).to_be_visible()
    page.locator("#faults").get_by_role("link", name="Cross slide: finest figure").click()
    field = page.get_by_label("Finest figure").first
    expect(field).to_be_focused()
    typed(field, "0.01")
    saved(page)
    page.goto(f"/jobs/{kept}/plan")
    page.get_by_role("button", name="Use a larger bar, Ø 21 mm").click()
    planned(page)
    expect(page.get_by_label("Diameter Ø")).to_have_value("21")


def test_a_refusal_offers_a_tool_that_would_do(page: Page, watched: Watched) -> None:
    watched.expected = ("422",)
    page.goto("/")
    forms = [{"form": "ball", "diameter": 20, "neck": 14}, {"form": "fillet", "radius": 3}]
    knife = {"name": "right-hand knife", "kind": "pointed", "hand": "right", "nose_radius": 0.4}
    part = {"material": "brass", "form": [*forms, {"form": "cylinder", "length": 8}]}
    job = {"title": "Lever", "part": part, "stock": {"diameter": 21, "proud": 0.5}, "tool": [knife]}
    kept = page.request.post("/api/jobs", data=job).json()["id"]
    page.goto(f"/jobs/{kept}/plan")
    offer = page.locator(".helps p", has_text="round nose")
    expect(offer).to_contain_text("The plan then takes", timeout=180_000)
    moves = re.search(r"takes (\d+) moves", offer.inner_text())
    assert moves
    offer.get_by_role("button", name="Add this round nose").click()
    expect(page.locator("#moves-figure")).to_have_text(moves[1], timeout=60_000)
