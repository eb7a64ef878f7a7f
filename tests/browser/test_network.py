"""A phone is let in on the network by a code, sees its run, and is struck off; on a name that is no secure context."""

import re
import sys
from collections.abc import Iterator
from typing import Any

import httpx
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from tests.browser.conftest import DESK, START, Watched, opened
from tests.browser.test_access import TAGS
from tests.browser.turning import done, settled, take, to_figure

pytestmark = pytest.mark.browser

ON_A_NETWORK = f"from ovolo.app import network; network.own_addresses = lambda: ['127.0.0.2']; {START}"
"""As on a machine that is on a network, whether this one is or not."""


@pytest.fixture(scope="module")
def here(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """`ovolo open --lan`; gives the address at this machine."""
    with opened(tmp_path_factory.mktemp("data"), "--lan", start=ON_A_NETWORK) as found:
        yield found


def nothing_found(page: Page) -> None:
    found: dict[str, Any] = Axe().run(page, options=TAGS).response
    assert [(v["id"], [n["html"][:120] for n in v["nodes"]]) for v in found["violations"]] == []


@pytest.mark.skipif(sys.platform != "linux", reason="127.0.0.2 is an address of this machine on Linux alone")
def test_a_phone_is_let_in_and_struck_off(browser: Browser, here: str) -> None:
    run, port = take(here), here.rsplit(":", 1)[1]
    office = browser.new_context(viewport={"width": DESK[0], "height": DESK[1]}, base_url=here)
    watched, desk = Watched(office, here), office.new_page()
    desk.goto("/devices")
    shown = httpx.post(f"{here}/api/pairing", json={"run": run}).json()
    expect(desk.locator("#code svg")).to_be_visible()
    expect(desk.locator("#paired")).to_have_text("None yet.")
    nothing_found(desk)
    context = browser.new_context(viewport={"width": 390, "height": 664}, has_touch=True)
    phone = context.new_page()
    phone.goto(f"http://phone.test:{port}/run/{run}")
    expect(phone.get_by_role("heading", name="This device is not paired")).to_be_visible()
    nothing_found(phone)
    phone.goto(f"http://phone.test:{port}/pair#{shown['address'].split('#')[1]}")
    expect(phone.locator("#move")).to_have_text("1", timeout=60_000)
    assert "#" not in phone.url
    assert phone.evaluate("[document.cookie, isSecureContext]") == ["", False]
    to_figure(phone)
    done(phone)
    settled(phone, here, run, 2)
    phone.goto(f"http://phone.test:{port}/runs")
    nothing_found(phone)
    phone.get_by_role("link", name=re.compile("Bridge pin")).click()
    expect(phone.locator("#move")).to_have_text("2")
    desk.get_by_role("button", name=re.compile("Strike off")).click()
    expect(desk.locator("#paired")).to_contain_text("None yet")
    expect(phone.locator("#kept")).to_contain_text("does not let this device in any more")
    phone.goto(f"http://phone.test:{port}/pair#{shown['address'].split('#')[1]}")
    expect(phone.get_by_role("heading", name="Not paired")).to_be_visible()
    nothing_found(phone)
    context.close()
    office.close()
    assert watched.left() == []
