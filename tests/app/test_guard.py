"""What stands in front of every page: names, cross-site writes, sizes, headers, paths."""

from collections.abc import Iterator
from typing import Any

import httpx
import pytest
from tests.app.live import live

from ovolo.app.guard import HEADERS, host_name
from ovolo.app.site import make_site
from ovolo.store import Store


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8451", "127.0.0.1.evil.example", "localhost.evil.example"]
)
def test_another_name_is_refused(client: httpx.Client, host: str) -> None:
    answer = client.get("/", headers={"host": host})
    assert answer.status_code == 421
    assert answer.json()["faults"][0]["where"] == "host"


@pytest.mark.parametrize("host", ["127.0.0.1:8451", "localhost", "LOCALHOST:1", "[::1]:8451"])
def test_own_names_are_answered(client: httpx.Client, host: str) -> None:
    assert client.get("/", headers={"host": host}).status_code == 200


def test_a_host_is_a_name_and_maybe_a_port() -> None:
    assert host_name("a:b") == "a:b"
    assert host_name("[::1]") == "[::1]"


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "https://127.0.0.1:8451"},
        {"origin": "http://127.0.0.1:9"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
@pytest.mark.parametrize(("method", "path"), [("POST", "/api/jobs"), ("PUT", "/api/jobs/x"), ("DELETE", "/api/jobs/x")])
def test_writes_from_another_site_are_refused(
    client: httpx.Client, store: Store, headers: dict[str, str], method: str, path: str
) -> None:
    before = store.listed("job")
    assert client.request(method, path, json={"title": "x"}, headers=headers).status_code == 403
    assert store.listed("job") == before


def test_writes_of_our_own_pages_are_taken(client: httpx.Client) -> None:
    own = {"origin": str(client.base_url).rstrip("/"), "sec-fetch-site": "same-origin"}
    assert client.post("/api/jobs", json={"title": "own"}, headers=own).status_code == 201


def test_a_form_of_another_site_cannot_be_taken_for_json(client: httpx.Client) -> None:
    answer = client.post("/api/plan", content='{"title": 1}', headers={"content-type": "text/plain"})
    assert answer.status_code == 415


@pytest.fixture(scope="module")
def small(store: Store) -> Iterator[httpx.Client]:
    with live(make_site(store, workers=1, largest=1000)) as opened:
        yield opened


def test_too_large_a_body_is_refused(small: httpx.Client) -> None:
    assert small.post("/api/jobs", json={"title": "x" * 2000}).status_code == 413
    assert small.post("/api/jobs", json={"title": "x"}).status_code == 201


def test_too_large_a_body_without_a_length_is_refused_while_it_comes(small: httpx.Client) -> None:
    def pieces() -> Iterator[bytes]:
        for _ in range(20):
            yield b'"' + b"x" * 200

    answer = small.post("/api/jobs", content=pieces(), headers={"content-type": "application/json"})
    assert answer.status_code == 413


@pytest.mark.parametrize("path", ["/", "/static/x/sheet.css", "/api/jobs", "/nowhere", "/api/openapi.json"])
def test_every_answer_carries_the_headers(client: httpx.Client, path: str) -> None:
    headers = client.get(path).headers
    for name, value in HEADERS.items():
        assert headers[name] == value
    assert "unsafe" not in headers["content-security-policy"]
    assert "http" not in headers["content-security-policy"]


@pytest.mark.parametrize(
    "path",
    [
        "/static/x/../site.py",
        "/static/x/%2e%2e/site.py",
        "/static/x/..%2fsite.py",
        "/static/x//etc/passwd",
        "/static/..%5c..%5csite.py",
        "/fonts/../../x.ttf",
        "/fonts/Black.ttf",
        "/jobs/..%2f..%2fetc/plan",
        "/api/jobs/..%2f..%2fx",
        "/jobs/x/..%2fplan",
    ],
)
def test_tricks_with_paths_find_nothing(client: httpx.Client, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code in (404, 405)
    assert "make_site" not in answer.text
    assert "root:" not in answer.text


def test_markup_in_a_title_stays_text(client: httpx.Client, pin: dict[str, Any]) -> None:
    bad = '</script><script>alert(1)</script>"&<img src=x>'
    name = client.post("/api/jobs", json={**pin, "title": bad}).json()["id"]
    for path in ("/", f"/jobs/{name}/plan", f"/jobs/{name}/part", f"/jobs/{name}/shop"):
        text = client.get(path).text
        assert "<script>alert" not in text
        assert "<img src=x>" not in text
