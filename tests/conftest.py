"""What all tests share: how long Hypothesis searches, and what happens where there is no browser."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from playwright.sync_api import Browser, sync_playwright

FLAGS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip

settings.register_profile("everyday", deadline=None)
settings.register_profile("soak", deadline=None, max_examples=int(os.environ.get("OVOLO_SOAK") or 100))
settings.load_profile("soak" if os.environ.get("OVOLO_SOAK") else "everyday")


def _find_chromium() -> Path | None:
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    return Path(found) if found else None


def pytest_runtest_setup(item: pytest.Item) -> None:
    """A test marked `browser` is skipped where there is no browser, and fails where one is required."""
    if item.get_closest_marker("browser") is None or _find_chromium():
        return
    if os.environ.get("OVOLO_BROWSER_REQUIRED") == "1":
        pytest.fail("OVOLO_BROWSER_REQUIRED is 1, but no chromium is on the PATH: install it", pytrace=False)
    pytest.skip("no chromium on the PATH")


@pytest.fixture(scope="session")
def chromium() -> Path:
    """Where chromium is; ask for it only in tests marked `browser`."""
    found = _find_chromium()
    assert found, "mark the test with pytest.mark.browser, so that it is skipped where there is no browser"
    return found


@pytest.fixture(scope="session")
def browser(chromium: Path) -> Iterator[Browser]:
    """The one browser of a run: its driver can't be started twice at a time."""
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=str(chromium), args=FLAGS)
        yield opened
        opened.close()
