"""A site over an empty store, and jobs to send to it."""

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from tests.app.live import live

from ovolo.app.site import make_site
from ovolo.store import Store

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="session")
def pin() -> dict[str, Any]:
    """The bridge pin, as it was typed."""
    return tomllib.loads((EXAMPLES / "bridge-pin.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    opened = Store.in_folder(tmp_path_factory.mktemp("data"))
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def client(store: Store) -> Iterator[httpx.Client]:
    with live(make_site(store, workers=1)) as opened:
        yield opened
