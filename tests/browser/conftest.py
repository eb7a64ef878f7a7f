"""A real browser before a real server: `ovolo open` as a person starts it, over a store of its own."""

import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, expect

START = "import sys; from ovolo.cli import main; main(sys.argv[1:])"
DESK, PHONE = (1440, 900), (390, 844)
PATIENCE = 60_000  # ms
expect.set_options(timeout=PATIENCE)  # machines differ; nothing here asserts how long a thing takes


@contextmanager
def opened(data: Path, *more: str, start: str = START) -> Iterator[str]:
    """`ovolo open` over a store in a folder; gives its address at this machine."""
    command = [sys.executable, "-c", start, "open", *more, "--no-browser", "--port", "0", "--data", str(data)]
    run = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert run.stdout is not None
    try:
        found = re.search(r"http://127\.0\.0\.1:\d+", run.stdout.readline())
        assert found
        yield found[0]
    finally:
        run.send_signal(signal.SIGINT)
        run.stdout.close()
        run.wait(20)


@pytest.fixture(scope="session")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where the pages are."""
    with opened(tmp_path_factory.mktemp("data")) as found:
        yield found


class Watched:
    """What a page complains of, and what it asks other hosts for: nothing, in every test."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.wrong: list[str] = []
        self.expected: tuple[str, ...] = ()
        self.address = address
        context.on("console", self._console)
        context.on("weberror", lambda error: self.wrong.append(str(error.error)))
        context.on("request", lambda request: self._request(request.url))

    def _console(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning"):
            self.wrong.append(message.text)

    def _request(self, url: str) -> None:
        if not url.startswith((self.address, "data:", "blob:")):
            self.wrong.append(f"asked {url}")

    def left(self) -> list[str]:
        return [text for text in self.wrong if not any(part in text for part in self.expected)]


@pytest.fixture
def context(browser: Browser, address: str, request: pytest.FixtureRequest) -> Iterator[BrowserContext]:
    """A browser's window of a person who has never been here: 1440 by 900, or as the test is parametrised."""
    size = getattr(request, "param", DESK)
    opened = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, has_touch=size == PHONE, base_url=address, accept_downloads=True
    )
    opened.set_default_timeout(PATIENCE)
    yield opened
    opened.close()


@pytest.fixture
def watched(context: BrowserContext, address: str) -> Iterator[Watched]:
    watching = Watched(context, address)
    yield watching
    assert watching.left() == []


@pytest.fixture
def page(context: BrowserContext, watched: Watched) -> Page:
    return context.new_page()
