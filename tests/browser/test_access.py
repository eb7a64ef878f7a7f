"""Everybody can use the pages: axe finds nothing, the keyboard reaches everything, nothing is cut off, both looks."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from tests.browser.conftest import DESK, PHONE, Watched
from tests.browser.steps import new_job, open_formed, open_pin, planned

pytestmark = pytest.mark.browser

TAGS = {"runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}}

CUT_OFF = """() => [...document.querySelectorAll('button, .button, th, td, label, dt, dd, h2')]
  .filter(e => e.offsetParent && e.scrollWidth > e.clientWidth + 1).map(e => e.textContent.trim())"""
"""The words that do not fit where they stand."""

NAMES = """() => {
  const e = document.activeElement;
  return [e.getAttribute('aria-label'), e.labels?.[0]?.textContent, e.textContent, e.id]
    .filter(Boolean).map(t => t.trim());
}"""
"""What the focused element may be called."""


def visit(page: Page, where: str) -> None:
    if where == "jobs":
        page.goto("/")
    elif where == "forms":
        new_job(page)
    elif where == "form tool":
        open_formed(page)
    else:
        open_pin(page, where)
        if where != "plan":
            page.wait_for_timeout(400)


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_axe_finds_nothing(browser: Browser, address: str, look: str, size: tuple[int, int]) -> None:
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]},
        base_url=address,
        color_scheme=look,  # type: ignore[arg-type]
    )
    watched, page = Watched(context, address), context.new_page()
    found = {}
    for where in ("jobs", "forms", "part", "shop", "form tool", "plan"):
        visit(page, where)
        for details in page.locator("details").all():
            details.evaluate("element => { element.open = true; }")
        page.wait_for_timeout(200)
        result = Axe().run(page, options=TAGS)
        found[where] = [(v["id"], [n["html"][:120] for n in v["nodes"]][:3]) for v in result.response["violations"]]
    context.close()
    assert found == {where: [] for where in found}
    assert watched.left() == []


@pytest.mark.parametrize("width", [360, 390, 768, 1024, 1440, 2560, 3840])
def test_nothing_is_wider_than_the_screen(page: Page, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    for where in ("jobs", "forms", "part", "shop", "form tool", "plan"):
        visit(page, where)
        wide = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        assert wide <= 0, where
        cut = page.evaluate(CUT_OFF)
        assert cut == [], where


def test_figures_on_the_drawing_do_not_lie_on_one_another(page: Page) -> None:
    for where in ("forms", "part"):
        visit(page, where)
        page.wait_for_timeout(300)
        boxes = [box for item in page.locator(".dim-box").all() if item.is_visible() and (box := item.bounding_box())]
        assert len(boxes) >= 3
        for i, a in enumerate(boxes):
            for b in boxes[i + 1 :]:
                apart_x = a["x"] + a["width"] <= b["x"] + 0.5 or b["x"] + b["width"] <= a["x"] + 0.5
                apart_y = a["y"] + a["height"] <= b["y"] + 0.5 or b["y"] + b["height"] <= a["y"] + 0.5
                assert apart_x or apart_y, (where, a, b)


def _tab_to(page: Page, name: str, most: int = 80) -> None:
    """Press Tab until what is focused has this name."""
    for _ in range(most):
        page.keyboard.press("Tab")
        said = page.evaluate(NAMES)
        if name in said:
            return
    raise AssertionError(f"Tab never came to {name!r}")


def test_the_whole_way_by_keyboard(page: Page) -> None:
    page.goto("/")
    _tab_to(page, "Domea domed end on a pin")
    page.keyboard.press("Enter")
    page.keyboard.type("18")
    _tab_to(page, "Make the plan")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile("/plan$"))
    _tab_to(page, "Part")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile("/part$"))
    expect(page.locator("#sentence")).to_contain_text("Nothing is wrong with the part.")
    _tab_to(page, "diameter Ø")
    page.keyboard.type("17")
    page.keyboard.press("Enter")
    _tab_to(page, "height")
    page.keyboard.type("8.5")
    page.keyboard.press("Tab")
    expect(page.locator('.dim-box[data-key="part.form.0.diameter"] input')).to_have_value("17")
    page.reload()
    _tab_to(page, "Plan")
    page.keyboard.press("Enter")
    planned(page)
    _tab_to(page, "Moves done")
    page.keyboard.press("End")
    expect(page.locator("tr[aria-current]")).to_be_visible()
    _tab_to(page, "Table of moves")
    page.keyboard.press("ArrowUp")
    last = int(page.locator("#moves-figure").inner_text())
    expect(page.locator("tr[aria-current]")).to_have_attribute("data-n", str(last - 1))


def test_the_drawing_is_said_to_those_who_do_not_see_it(page: Page) -> None:
    job = open_pin(page)
    said = page.locator("#scene svg").evaluate(
        "e => e.querySelector('title').textContent + e.querySelector('desc').textContent"
    )
    assert "Half-section of Bridge pin" in said
    assert "settings form the curve" in said
    document = page.request.get(f"/api{job}").json()["document"]
    moves = page.request.post("/api/plan/view", data=document).json()["moves"]
    n = next(move["n"] for move in moves if move["toward"] == "toward the chuck")
    page.locator("#scrub").fill(str(n))
    told = re.compile(f"Move {n} of {len(moves)}: saddle toward the chuck to")
    expect(page.locator("#scrub")).to_have_attribute("aria-valuetext", told)


def test_paper_and_dark_are_chosen_and_remembered(page: Page) -> None:
    page.goto("/")
    ground = "getComputedStyle(document.querySelector('.sheet')).backgroundColor"
    paper = page.evaluate(ground)
    page.get_by_role("button", name="Dark").click()
    assert page.evaluate(ground) != paper
    page.reload()
    assert page.evaluate(ground) != paper
    page.get_by_role("button", name="Paper").click()
    assert page.evaluate(ground) == paper
