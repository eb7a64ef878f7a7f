"""The site: what is long comes compressed, and the store outlives it."""

from pathlib import Path

import httpx
from tests.app.live import live

from ovolo.app.site import make_site
from ovolo.store import Store


def test_long_answers_are_compressed(client: httpx.Client) -> None:
    answer = client.get("/static/x/sheet.css", headers={"accept-encoding": "gzip"})
    assert answer.headers["content-encoding"] == "gzip"


def test_a_site_can_be_closed_and_opened_again(tmp_path: Path) -> None:
    store = Store.in_folder(tmp_path)
    with live(make_site(store, workers=1)) as first:
        name = first.post("/api/jobs", json={"title": "kept"}).json()["id"]
    with live(make_site(store, workers=1)) as second:
        assert second.get(f"/api/jobs/{name}").json()["title"] == "kept"
    store.close()
