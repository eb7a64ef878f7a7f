"""Answers have one shape, whatever went wrong."""

import httpx
import pytest

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
