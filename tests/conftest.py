"""What all tests share: what Hypothesis draws, what goes first, and what happens where there is no browser."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis.internal.conjecture import providers
from hypothesis.internal.constants_ast import Constants
from playwright.sync_api import Browser, sync_playwright

FLAGS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
    "--host-resolver-rules=MAP bench.test 127.0.0.1,MAP phone.test 127.0.0.2",
]  # fmt: skip

settings.register_profile("everyday", deadline=None, derandomize=True, database=None)
settings.register_profile("soak", deadline=None, max_examples=int(os.environ.get("OVOLO_SOAK") or 100))
settings.load_profile("soak" if os.environ.get("OVOLO_SOAK") else "everyday")


providers._get_local_constants = Constants
"""Hypothesis draws constants that it finds in the loaded modules of a project, so that its draws would depend on
which tests ran before it. Each test draws the same cases alone, in any order and on any worker: none are found."""

HEAVIEST = (("test_plans.py",), ("properties", "browser", "test_examples.py", "test_docs.py", "test_oracle.py"))
"""Tests that take longest go first, the longest of all ahead of them, so that no worker is left with one of them at the
end."""


def _find_chromium() -> Path | None:
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    return Path(found) if found else None


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Slow tests first; the rest keep their order, so that what a module shares is made once."""
    items.sort(key=_turn)


def _turn(item: pytest.Item) -> int:
    parts = set(item.path.parts)
    return next((n for n, names in enumerate(HEAVIEST) if parts & set(names)), len(HEAVIEST))


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
    """The one browser of a worker: its driver can't be started twice at a time in a process."""
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=str(chromium), args=FLAGS)
        yield opened
        opened.close()
