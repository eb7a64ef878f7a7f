"""Turn under blows: server and browser killed at random moments, requests lost, a clock that is wrong by a day.

What was answered is on the disk; what was tapped and kept comes back; nothing is doubled. OVOLO_TURN_KILLS and
OVOLO_TURN_MINUTES make it longer than it is every day.
"""

import contextlib
import os
import random
import re
import signal
import socket
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import httpx
import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, Route, ViewportSize, expect
from tests.browser.conftest import START
from tests.browser.turning import APART, done, kept, no_secure_context, number, open_run, settled, take, to_figure
from tests.conftest import FLAGS

pytestmark = pytest.mark.browser

KILLS = int(os.environ.get("OVOLO_TURN_KILLS", "20"))
MINUTES = float(os.environ.get("OVOLO_TURN_MINUTES", "1"))
SMALL: ViewportSize = {"width": 390, "height": 664}


class Lathe:
    """A server of its own that can be killed and started again at the same address."""

    def __init__(self, data: Path) -> None:
        self.data = data
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self.start()

    def start(self) -> None:
        command = [sys.executable, "-c", START, "open", "--no-browser", "--port", str(self.port)]
        self.process = subprocess.Popen([*command, "--data", str(self.data)], stdout=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        assert re.search(r"http://", self.process.stdout.readline())
        for _ in range(200):
            with contextlib.suppress(httpx.HTTPError):
                httpx.get(f"{self.address}/api/runs", timeout=5)
                return
            time.sleep(0.05)
        raise AssertionError("the server does not answer")

    def kill(self) -> None:
        self.process.send_signal(signal.SIGKILL)
        self.process.wait(20)
        assert self.process.stdout is not None
        self.process.stdout.close()


class Phone:
    """A browser with a profile of its own that can be killed and opened again."""

    def __init__(self, browser: Browser, chromium: Path, profile: Path) -> None:
        self.browser, self.chromium, self.profile = browser, chromium, profile
        self.open()

    def open(self) -> None:
        self.context = self.browser.browser_type.launch_persistent_context(
            str(self.profile), executable_path=str(self.chromium), args=FLAGS, viewport=SMALL, has_touch=True
        )
        self.context.set_default_timeout(30_000)
        self.page = self.context.new_page()

    def kill(self) -> None:
        for pid in self._pids():
            with contextlib.suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
        with contextlib.suppress(Error):
            self.context.close()
        for _ in range(100):
            if not self._pids():
                return
            time.sleep(0.05)

    def _pids(self) -> list[int]:
        """The processes of this browser and no other: those that were given its profile."""
        found = []
        for place in Path("/proc").glob("[0-9]*/cmdline"):
            with contextlib.suppress(OSError):
                words = place.read_bytes().split(b"\0")
                if f"--user-data-dir={self.profile}".encode() in words:
                    found.append(int(place.parent.name))
        return found


@pytest.fixture
def lathe(tmp_path: Path) -> Iterator[Lathe]:
    started = Lathe(tmp_path / "data")
    yield started
    started.kill()


def _on(page: Page) -> None:
    """To the figure, or to the end: at the end some are taken back."""
    while page.locator("#title").is_visible() and page.locator("#title").inner_text() == "The turning is done":
        for _ in range(4):
            page.wait_for_timeout(APART)
            page.get_by_role("button", name="Back").click()
    to_figure(page)


@pytest.mark.skipif(sys.platform != "linux", reason="processes are found in /proc")
def test_killed_at_random_moments_nothing_is_lost_or_doubled(
    browser: Browser, chromium: Path, lathe: Lathe, tmp_path: Path
) -> None:
    shuffled = random.Random(KILLS)
    run = take(lathe.address, "windlass-handle")
    phone = Phone(browser, chromium, tmp_path / "profile")
    open_run(phone.page, lathe.address, run)
    _on(phone.page)
    for n in range(KILLS):
        for _ in range(shuffled.randrange(1, 4)):
            done(phone.page)
            if not phone.page.locator("#figure").is_visible():
                _on(phone.page)
        safe, answered = number(phone.page) - 1, kept(lathe.address, run)
        phone.page.wait_for_timeout(200)
        with contextlib.suppress(Error):
            done(phone.page)
        time.sleep(shuffled.random() * 0.12)
        victims = ("server", "browser", "both")[n % 3]
        if victims != "browser":
            lathe.kill()
        if victims != "server":
            phone.kill()
            phone.open()
        if victims != "browser":
            lathe.start()
        if victims != "server":
            open_run(phone.page, lathe.address, run)
        _on(phone.page)
        place = number(phone.page)
        assert safe < place, f"blow {n} to {victims}"
        found = settled(phone.page, lathe.address, run, place)
        assert {t["key"] for t in answered["ticks"]} <= {t["key"] for t in found["ticks"]}
        _nothing_doubled(found["ticks"])
    phone.kill()


def _nothing_doubled(ticks: list[dict[str, object]]) -> None:
    assert max(Counter(t["key"] for t in ticks).values()) == 1
    gone = {t["undo"] for t in ticks if t.get("undo")}
    moves = [t["move"] for t in ticks if t["key"] not in gone and not {"undo", "before", "readings"} & set(t)]
    assert not moves or max(Counter(moves).values()) == 1


def test_lost_requests_lose_nothing(browser: Browser, address: str) -> None:
    shuffled = random.Random(7)
    run = take(address, "windlass-handle")
    context: BrowserContext = browser.new_context(viewport=SMALL, has_touch=True)
    page = context.new_page()

    def lossy(route: Route) -> None:
        """Two in five get lost: half of them on the way there, half on the way back."""
        chance = shuffled.random()
        with contextlib.suppress(Error):
            if chance < 0.2:
                route.abort()
            elif chance < 0.4:
                route.fetch(url=route.request.url.replace("bench.test", "127.0.0.1"), headers={"host": "127.0.0.1"})
                route.abort()
            else:
                route.continue_()

    open_run(page, address, run)
    _on(page)
    context.route("**/api/**", lossy)
    until = time.monotonic() + 60 * MINUTES
    while time.monotonic() < until:
        done(page)
        if shuffled.random() < 0.1 and number(page) > 1:
            page.get_by_role("button", name="Back").click()
        if not page.locator("#figure").is_visible():
            _on(page)
    context.unroute("**/api/**")
    found = settled(page, address, run, number(page))
    _nothing_doubled(found["ticks"])
    context.close()


@pytest.mark.parametrize("days", [-1, 1])
def test_a_clock_that_is_wrong_by_a_day_changes_nothing(browser: Browser, address: str, days: int) -> None:
    run = take(address)
    context = browser.new_context(viewport=SMALL, has_touch=True)
    page = context.new_page()
    page.clock.set_system_time(datetime.now(UTC) + timedelta(days=days))
    open_run(page, address, run)
    to_figure(page)
    for _ in range(3):
        done(page)
    page.get_by_role("button", name="Back").click()
    assert number(page) == 3
    settled(page, address, run, 3)
    page.reload()
    expect(page.locator("#move")).to_have_text("3")
    right = browser.new_context(viewport=SMALL, has_touch=True)
    other = right.new_page()
    open_run(other, address, run)
    assert to_figure(other) == 3
    done(other)
    done(page) if to_figure(page) == 3 else None
    settled(page, address, run, number(page))
    assert no_secure_context(address) in page.url
    right.close()
    context.close()
