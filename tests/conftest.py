"""What all tests share: how long Hypothesis searches, and what happens where there is no browser."""

import os
import shutil
from pathlib import Path

import pytest
from hypothesis import settings

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
