"""Two whole parts ticked through as at the lathe, on 390 by 844: the bridge pin by touch, the handle by a pedal."""

import os
import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from tests.browser.turning import APART, done, figure, kept, number, open_run, settled, take

pytestmark = pytest.mark.browser

PICTURES = os.environ.get("OVOLO_TURN_PICTURES")
"""A folder for a picture of every screen, for somebody who wants to look at them."""


def pedal(page: Page) -> None:
    page.wait_for_timeout(APART)
    page.keyboard.press("PageDown")


def picture(page: Page, name: str, n: int) -> None:
    if PICTURES:
        page.screenshot(path=Path(PICTURES) / f"{name}-{n:03d}.png")


@pytest.mark.parametrize(
    ("name", "press", "look"),
    [("bridge-pin", done, "light"), ("windlass-handle", pedal, "dark")],
    ids=["touch", "pedal"],
)
def test_a_whole_part_is_led_through(browser: Browser, address: str, name: str, press: object, look: str) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 844},
        has_touch=True,
        color_scheme=look,  # type: ignore[arg-type]
    )
    page = context.new_page()
    run = take(address, name)
    plan = kept(address, run)["plan"]
    open_run(page, address, run)
    moves, said, screens = plan["moves"], {}, 0
    while number(page) <= len(moves):
        n = number(page)
        if page.locator("#figure").is_visible():
            assert n not in said
            said[n] = figure(page), page.locator("#slide").inner_text().lower(), page.locator("#way").inner_text()
        screens += 1
        picture(page, name, screens)
        press(page)  # type: ignore[operator]
    for move in moves:
        shown, slide, way = said[move["n"]]
        assert shown == re.sub("^Ø ", "", move["shown"])
        assert slide.startswith(move["slide"])
        axis = 0 if move["slide"] == "saddle" else 1
        grows = move["to"][axis] > move["from"][axis]
        words = ("away from the chuck", "toward the chuck") if axis == 0 else ("out", "in")
        assert words[0 if grows else 1] in way
    found = settled(page, address, run, len(moves) + 1)
    assert {t["before"] for t in found["ticks"] if "before" in t} == set(range(1, len(plan["before"]) + 1))
    context.close()
