"""Turn, led through the moves on a phone whose browser has no secure context, by touch and by a pedal's keys."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, expect
from tests.browser.conftest import Watched
from tests.browser.test_access import TAGS
from tests.browser.turning import (
    APART,
    done,
    figure,
    job_of,
    kept,
    no_secure_context,
    number,
    open_run,
    settled,
    take,
    to_figure,
)

pytestmark = pytest.mark.browser

SMALL = (390, 664)
"""What a phone's browser leaves of 390 by 844."""


def phone(browser: Browser, address: str, size: tuple[int, int] = SMALL, **more: Any) -> BrowserContext:
    opened = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, has_touch=True, accept_downloads=True, **more
    )
    opened.set_default_timeout(60_000)
    return opened


@pytest.fixture
def context(browser: Browser, address: str) -> Iterator[BrowserContext]:
    opened = phone(browser, address)
    yield opened
    opened.close()


@pytest.fixture
def page(context: BrowserContext, address: str) -> Iterator[Page]:
    watched = Watched(context, no_secure_context(address))
    watched.expected = ("net::ERR_FAILED",)  # requests that a test does not let through
    yield context.new_page()
    assert watched.left() == []


def test_it_leads_through_the_first_moves_and_ticks_are_on_the_disk(page: Page, address: str) -> None:
    run = take(address)
    plan = kept(address, run)["plan"]
    open_run(page, address, run)
    assert page.locator("#figure").is_hidden()
    assert number(page) == 1
    assert to_figure(page) == 1
    for move in plan["moves"][:6]:
        assert number(page) == move["n"]
        assert figure(page) == re.sub("^Ø ", "", move["shown"])
        done(page)
    found = settled(page, address, run, 7)
    assert [t["move"] for t in found["ticks"] if "before" not in t] == [1, 2, 3, 4, 5, 6]
    assert [t["before"] for t in found["ticks"] if "before" in t] == [
        n for n, b in enumerate(plan["before"], 1) if b["move"] == 1
    ]


def test_the_figure_is_large_on_one_line_and_done_is_the_lower_third(page: Page, address: str) -> None:
    run = take(address, "winch-pin-inch")
    open_run(page, address, run)
    to_figure(page)
    for _ in range(8):
        size = page.locator("#figure").evaluate("e => parseFloat(getComputedStyle(e).fontSize)")
        box = page.locator("#figure").bounding_box()
        assert size >= 96
        assert box
        assert box["height"] < 1.3 * size
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= SMALL[0]
        done(page)
    press = page.locator("#done").bounding_box()
    assert press
    assert press["y"] >= SMALL[1] * 0.64
    assert press["height"] >= SMALL[1] * 0.3
    for name in ("Back", "I went past", "Stop here"):
        button = page.get_by_role("button", name=name, exact=True).bounding_box()
        assert button
        assert button["height"] >= 64
        assert button["width"] >= 64
        assert press["y"] - (button["y"] + button["height"]) > 200


def test_back_takes_back_the_move_before_and_what_was_taken_back_stays_so(page: Page, address: str) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    for _ in range(3):
        done(page)
    shown = figure(page)
    done(page)
    page.get_by_role("button", name="Back").click()
    assert (number(page), figure(page)) == (4, shown)
    found = settled(page, address, run, 4)
    undone = [t for t in found["ticks"] if t.get("undo")]
    assert len(undone) == 1
    assert [t["move"] for t in found["ticks"] if t["key"] == undone[0]["undo"]] == [4]
    done(page)
    settled(page, address, run, 5)


def test_the_next_equal_part_is_a_run_of_its_own_with_its_corrections(page: Page, address: str) -> None:
    run = take(address, "winch-handle")
    plan = kept(address, run)["plan"]
    n, stop = next((n, b) for n, b in enumerate(plan["before"], 1) if b["kind"] == "measure" and b.get("should"))
    assert len({move["tool"] for move in plan["moves"]}) == 1
    at = "2026-03-01T10:{:02d}:{:02d}.123Z".format
    many = len(plan["moves"])
    ticks: list[dict[str, Any]] = [
        {"key": f"all-of-it-{m:08d}", "move": m, "at": at(m * 10 // 60, m * 10 % 60)} for m in range(1, many + 1)
    ]
    measured = {slide: value + 0.04 for slide, value in stop["should"].items()}
    more = {"before": n, "measured": measured, "by": "figures"}
    ticks.append({"key": "measured-01234567", "move": stop["move"], "at": at(0, 0), **more})
    assert page.request.put(f"{address}/api/runs/{run}/ticks", data=ticks).ok
    open_run(page, address, run)
    expect(page.locator("#title")).to_have_text("The turning is done")
    expect(page.locator("#body")).to_contain_text(f"Part 1 took {int(many / 6 + 0.5)} min")
    page.get_by_role("button", name="Another part, the same plan").click()
    page.get_by_role("button", name="How many in all?").click()
    page.get_by_role("button", name="8", exact=True).click()
    done(page)
    expect(page.get_by_role("button", name="8 in all")).to_be_visible()
    page.get_by_role("button", name=re.compile("Clamped anew")).click()
    expect(page.locator("#body")).to_contain_text("Part 2 of 8", timeout=60_000)
    other = page.url.split("/run/")[1].split("/")[0]
    assert other != run
    assert kept(address, other)["plan"] == plan
    seen = []
    while page.locator("#figure").is_hidden():
        seen.append(page.locator("#title").inner_text())
        done(page)
    assert "New face: the length anew" in seen
    assert not any(title.startswith("Touch off") for title in seen)
    for move in plan["moves"][:6]:
        by = -0.04 if move["slide"] == "cross" and "cross" in measured else 0.0
        assert float(figure(page)) == pytest.approx(move["set"] + by, abs=1e-6)
        done(page)


def test_two_taps_at_once_are_one_and_that_is_said(page: Page, address: str) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    page.wait_for_timeout(APART)
    page.evaluate("() => { const b = document.getElementById('done'); b.click(); b.click(); }")
    assert number(page) == 2
    expect(page.locator("#say")).to_contain_text("counted as one")


@pytest.mark.parametrize("key", [" ", "Enter", "PageDown"])
def test_a_pedal_is_done_and_nothing_else(page: Page, address: str, key: str) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    page.wait_for_timeout(APART)
    page.keyboard.press(key)
    assert number(page) == 2
    page.wait_for_timeout(APART)
    page.get_by_role("button", name="Back").click()
    assert number(page) == 1
    page.wait_for_timeout(APART)
    page.keyboard.press(key)  # the button tapped before does not take it
    assert number(page) == 2
    page.wait_for_timeout(APART)
    page.keyboard.down(key)
    for _ in range(5):
        page.keyboard.down(key)  # held
    page.keyboard.up(key)
    assert number(page) == 3


def test_a_keyboard_alone_reaches_every_button(page: Page, address: str) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    done(page)
    for _ in range(8):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "back":
            break
    page.keyboard.press("Enter")
    assert number(page) == 1


def test_where_it_stopped_is_typed_on_a_pad_of_its_own(page: Page, address: str) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    page.get_by_role("button", name="I went past").click()
    expect(page.locator("#stopped")).to_have_text("Spindle stopped")
    assert page.locator("#figure").is_hidden()
    expect(page.locator(".typed")).to_have_text(kept(address, run)["plan"]["moves"][0]["shown"])
    for key in "0.15":
        page.get_by_role("button", name="point" if key == "." else key, exact=True).click()
    done(page)
    assert to_figure(page) == 2
    found = settled(page, address, run, 2)
    assert [t["stopped_at"] for t in found["ticks"] if t.get("stopped_at") is not None] == [0.15]


def test_it_goes_on_with_the_server_gone_and_catches_up(context: BrowserContext, page: Page, address: str) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    settled(page, address, run, 1)
    context.route("**/api/**", lambda route: route.abort())
    watched = page
    for _ in range(4):
        done(watched)
    assert number(page) == 5
    assert kept(address, run)["place"] == 1
    again = context.new_page()
    again.goto(page.url)  # from what the browser kept
    expect(again.locator("#move")).to_have_text("5")
    again.close()
    context.unroute("**/api/**")
    settled(page, address, run, 5)


def test_another_device_asks_for_both_readings_and_follows(browser: Browser, page: Page, address: str) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    for _ in range(3):
        done(page)
    settled(page, address, run, 4)
    second = phone(browser, address)
    other = second.new_page()
    open_run(other, address, run)
    expect(other.locator("#title")).to_have_text("Read both slides")
    assert number(other) == 4
    assert to_figure(other) == 4
    assert figure(other) == figure(page)
    done(page)
    expect(other.locator("#move")).to_have_text("5")
    done(other)
    expect(page.locator("#move")).to_have_text("6")
    settled(page, address, run, 6)
    second.close()


def test_stop_here_parks_with_a_note_that_another_device_shows(browser: Browser, page: Page, address: str) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    done(page)
    page.get_by_role("button", name="Stop here").click()
    page.get_by_role("textbox").fill("Insert chipped, new one in the tin")
    page.wait_for_timeout(1500)
    second = phone(browser, address)
    other = second.new_page()
    open_run(other, address, run)
    expect(other.get_by_text("Insert chipped, new one in the tin")).to_be_visible()
    assert to_figure(other) == 2
    assert [t["readings"] for t in kept(address, run)["ticks"] if "readings" in t]
    second.close()


def test_a_measurement_changes_the_figures_that_follow(page: Page, address: str) -> None:
    run = take(address, "winch-handle")  # a neck is measured before it is finished
    plan = kept(address, run)["plan"]
    n, stop = next((n, b) for n, b in enumerate(plan["before"], 1) if b["kind"] == "measure" and b.get("should"))
    ticks = [
        {"key": f"before-the-stop-{m:04d}", "move": m, "at": "2026-03-01T10:20:30.123Z"} for m in range(1, stop["move"])
    ]
    assert page.request.put(f"{address}/api/runs/{run}/ticks", data=ticks).ok
    open_run(page, address, run)
    for _ in range(20):
        if page.locator("#title").inner_text() == "Measure":
            break
        done(page)
    page.get_by_role("button", name="Change the figures that follow").click()
    should = stop["should"]["cross"]
    for key in f"{should + 0.04:.2f}":
        page.get_by_role("button", name="point" if key == "." else key, exact=True).click()
    while page.locator("#title").inner_text() != "Measure" or page.locator(".pad").count():
        done(page)
    expect(page.locator("#body")).to_contain_text("changes by −0.04")
    first = to_figure(page)
    found = kept(address, run)
    measured = [t for t in found["ticks"] if t.get("measured")]
    assert [(t["before"], t["by"]) for t in measured] == [(n, "figures")]
    assert measured[0]["measured"]["cross"] == pytest.approx(should + 0.04)
    assert first == stop["move"]
    for move in plan["moves"][first - 1 : first + 3]:
        by = -0.04 if move["slide"] == "cross" else 0.0
        assert float(figure(page)) == pytest.approx(move["set"] + by, abs=1e-6)
        done(page)


def test_dials_show_the_division(page: Page, address: str) -> None:
    run = take(address, "hinge-pin-dials")
    open_run(page, address, run)
    to_figure(page)
    for move in kept(address, run)["plan"]["moves"][:6]:
        assert figure(page) == move["shown"].split("stop at ")[1]
        words = move["shown"].split(": ")[1].split("stop at")[0]
        expect(page.locator("#beside")).to_contain_text(words.strip().removesuffix(","))
        done(page)


def test_it_can_be_kept_as_one_file_that_knows_what_was_done(
    browser: Browser, page: Page, address: str, tmp_path: Path
) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    for _ in range(2):
        done(page)
    page.get_by_role("button", name="More").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Keep as one file").click()
    file = tmp_path / "turn.html"
    download.value.save_as(file)
    alone = phone(browser, address, offline=True)
    other = alone.new_page()
    other.goto(f"file://{file}")
    assert to_figure(other) == 3
    done(other)
    assert number(other) == 4
    alone.close()


@pytest.mark.parametrize("look", ["light", "dark"])
def test_axe_finds_nothing(browser: Browser, address: str, look: str) -> None:
    run = take(address)
    context = phone(browser, address, color_scheme=look)
    page = context.new_page()
    open_run(page, address, run)
    found = {}

    def look_at(name: str) -> None:
        page.wait_for_timeout(200)
        result = Axe().run(page, options=TAGS)
        found[name] = [(v["id"], [n["html"][:120] for n in v["nodes"]][:3]) for v in result.response["violations"]]

    while page.locator("#figure").is_hidden():
        look_at(page.locator("#title").inner_text())
        done(page)
    look_at("figure")
    for name in ("I went past", "Stop here", "More"):
        page.get_by_role("button", name=name, exact=True).click()
        look_at(name)
        page.get_by_role("button", name="Back").click() if name != "Stop here" else done(page)
    context.close()
    assert found == {name: [] for name in found}


def test_nothing_is_cut_off_or_scrolls_sideways_on_a_phone(page: Page, address: str) -> None:
    run = take(address, "windlass-handle")
    assert job_of("windlass-handle")
    open_run(page, address, run)
    for _ in range(14):
        wide = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
        assert wide[0] <= wide[1]
        over = page.evaluate(
            "() => [...document.querySelectorAll('button, #small p, #status span, #slide, #way')]"
            ".filter(e => e.offsetParent && e.scrollWidth > e.clientWidth + 1)"
            ".filter(e => getComputedStyle(e).display !== 'inline')"
            ".map(e => e.id + e.textContent)"
        )
        assert over == []
        if page.locator("#figure").is_visible():
            low = page.locator("#next").bounding_box()
            press = page.locator("#done").bounding_box()
            assert low
            assert press
            assert low["y"] + low["height"] <= press["y"] + 1
        done(page)
