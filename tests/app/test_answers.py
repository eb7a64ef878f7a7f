"""Answers have one shape, whatever went wrong."""

import httpx
import pytest
from sqlalchemy import text

from ovolo.store import Store


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [("GET", "/nowhere", 404), ("PATCH", "/api/plan", 405), ("GET", "/api/plan", 405), ("GET", "/api/jobs/none", 404)],
)
def test_what_is_wrong_is_said_in_one_shape(client: httpx.Client, method: str, path: str, status: int) -> None:
    answer = client.request(method, path)
    assert answer.status_code == status
    (fault,) = answer.json()["faults"]
    assert set(fault) == {"where", "value", "limit", "says", "remedy"}


def test_a_mistake_of_ours_shows_no_traceback(
    client: httpx.Client, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("the inside")

    monkeypatch.setattr(store, "listed", broken)
    answer = client.get("/api/jobs")
    assert answer.status_code == 500
    assert "Ovolo itself has made a mistake" in answer.text
    assert "Traceback" not in answer.text


@pytest.mark.parametrize(
    "body",
    [
        b'{"title": "\\ud800"}',
        b'{"title": "pin", "stock": {"diameter": 1e400}}',
        b'{"title": "a\\u0000b"}',
        b'{"title": NaN}',
        b'{"title": "pin"',
        b"[" * 3000,
        b'{"n": ' + b"9" * 5000 + b"}",
        b"\xff\xfe",
        b'"text"',
    ],
)
def test_what_is_no_json_is_refused_and_nothing_is_kept(client: httpx.Client, store: Store, body: bytes) -> None:
    before = len(store.listed("job"))
    answer = client.post("/api/jobs", content=body, headers={"content-type": "application/json"})
    assert 400 <= answer.status_code < 500
    assert answer.json()["faults"][0]["says"]
    assert len(store.listed("job")) == before


def test_a_row_that_cannot_be_read_is_said_and_does_not_break_the_list(client: httpx.Client, store: Store) -> None:
    good, bad = store.add("job", {"title": "Good"}), store.add("job", {"title": "Bad"})
    with store._engine.begin() as connection:
        connection.execute(text("UPDATE ovolo_version SET content = '{' WHERE document = :id"), {"id": bad.id})
        connection.execute(text("UPDATE ovolo_document SET changed = 'soon' WHERE id = :id"), {"id": bad.id})
    names = {line["id"] for line in client.get("/api/jobs").json()["items"]}
    assert names >= {good.id, bad.id}
    answer = client.get(f"/api/jobs/{bad.id}")
    assert answer.status_code == 409
    assert "cannot be read" in answer.json()["faults"][0]["says"]
    assert client.get("/").status_code == 200
