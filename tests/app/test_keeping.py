"""What is kept, over HTTP: revisions, undo, two tabs, deletion, files."""

import tomllib
from typing import Any

import httpx
import pytest

from ovolo.documents.reading import job_from_data


@pytest.fixture
def kept(client: httpx.Client, pin: dict[str, Any]) -> dict[str, Any]:
    data: dict[str, Any] = client.post("/api/jobs", json=pin).json()
    return data


def test_a_job_is_kept_as_it_was_typed(client: httpx.Client, kept: dict[str, Any], pin: dict[str, Any]) -> None:
    assert kept["document"] == pin
    assert client.get(f"/api/jobs/{kept['id']}").json() == kept
    assert kept["id"] in {item["id"] for item in client.get("/api/jobs").json()["items"]}


def test_a_job_comes_in_as_toml(client: httpx.Client) -> None:
    answer = client.post("/api/jobs", content='title = "x"\n', headers={"content-type": "application/toml"})
    assert answer.status_code == 201
    assert answer.json()["document"] == {"title": "x"}
    for wrong in ("title =", "a = 1979-05-27", "a = nan"):
        answer = client.post("/api/jobs", content=wrong, headers={"content-type": "application/toml"})
        assert answer.status_code == 422


def test_two_tabs_do_not_lose_each_others_edits(
    client: httpx.Client, kept: dict[str, Any], pin: dict[str, Any]
) -> None:
    address = f"/api/jobs/{kept['id']}"
    first = client.put(address, json={"revision": 1, "document": {**pin, "title": "first tab"}})
    assert first.status_code == 200
    second = client.put(address, json={"revision": 1, "document": {**pin, "title": "second tab"}})
    assert second.status_code == 409
    assert second.json()["current"]["title"] == "first tab"
    again = client.put(address, json={"revision": 2, "document": {**pin, "title": "second tab"}, "said": "title"})
    assert again.json()["title"] == "second tab"
    said = [item["said"] for item in client.get(f"{address}/history").json()["items"]]
    assert said == ["title", "changed", "made"]


def test_a_change_sent_twice_is_one_version(client: httpx.Client, kept: dict[str, Any], pin: dict[str, Any]) -> None:
    """As a page does that is left while it saves: what it sent and what the next page sends are the same."""
    change = {"revision": 1, "document": {**pin, "title": "once"}, "said": "title"}
    answers = [client.put(f"/api/jobs/{kept['id']}", json=change) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [200, 200]
    assert {answer.json()["revision"] for answer in answers} == {2}
    assert len(client.get(f"/api/jobs/{kept['id']}/history").json()["items"]) == 2


def test_undo_redo_and_older_versions(client: httpx.Client, kept: dict[str, Any], pin: dict[str, Any]) -> None:
    address = f"/api/jobs/{kept['id']}"
    client.put(address, json={"revision": 1, "document": {**pin, "title": "b"}})
    back = client.post(f"{address}/undo", json={"revision": 2}).json()
    assert (back["title"], back["can_undo"], back["can_redo"]) == (pin["title"], False, True)
    assert client.post(f"{address}/redo", json={"revision": 3}).json()["title"] == "b"
    assert client.post(f"{address}/undo", json={"revision": 1}).status_code == 409
    assert client.post(f"{address}/restore", json={"revision": 4, "version": 1}).json()["title"] == pin["title"]
    assert client.post(f"{address}/restore", json={"revision": 5, "version": 99}).status_code == 404


def test_a_deleted_job_comes_back(client: httpx.Client, kept: dict[str, Any]) -> None:
    address = f"/api/jobs/{kept['id']}"
    assert client.delete(address).status_code == 200
    assert kept["id"] not in {item["id"] for item in client.get("/api/jobs").json()["items"]}
    assert kept["id"] in {item["id"] for item in client.get("/api/jobs?deleted=1").json()["items"]}
    assert client.post(f"{address}/bring-back").json()["deleted"] is None


def test_a_copy_is_another_job(client: httpx.Client, kept: dict[str, Any]) -> None:
    copy = client.post(f"/api/jobs/{kept['id']}/copy").json()
    assert copy["id"] != kept["id"]
    assert copy["title"] == f"{kept['title']}, copy"


@pytest.mark.parametrize(
    "body",
    [{}, {"revision": 1}, {"document": {}}, {"revision": "1", "document": {}}, {"revision": True, "document": {}}, []],
)
def test_a_save_without_what_it_needs_is_refused(client: httpx.Client, kept: dict[str, Any], body: Any) -> None:
    assert client.put(f"/api/jobs/{kept['id']}", json=body).status_code == 422


def test_what_is_not_kept_is_not_found(client: httpx.Client) -> None:
    assert client.get("/api/jobs/nothing").status_code == 404
    assert client.delete("/api/jobs/nothing").status_code == 404
    assert client.get("/api/boats").status_code == 404
    assert client.post("/api/jobs/nothing/undo", json={"revision": 1}).status_code in (404, 409)


def test_shops_are_kept_apart(client: httpx.Client) -> None:
    shop = client.post("/api/shops", json={"title": "The bench", "tool": []}).json()
    assert [item["id"] for item in client.get("/api/shops").json()["items"]] == [shop["id"]]
    assert shop["id"] not in {item["id"] for item in client.get("/api/jobs").json()["items"]}


def test_the_exported_job_is_the_same_job(client: httpx.Client, kept: dict[str, Any], pin: dict[str, Any]) -> None:
    answer = client.get(f"/api/jobs/{kept['id']}/files/job.toml")
    assert "bridge-pin-domed-end.toml" in answer.headers["content-disposition"]
    assert job_from_data(tomllib.loads(answer.text)) == job_from_data(pin)


BEGINS = {
    "plan.json": b"{",
    "moves.csv": b"move,",
    "resolved.toml": b"#",
    "outline.svg": b"<svg",
    "outline.dxf": b"  0",
    "outline.csv": b"z",
    "drawing.svg": b"<svg",
    "sheet.pdf": b"%PDF",
    "gauge.pdf": b"%PDF",
}


@pytest.mark.parametrize(("name", "begins"), BEGINS.items())
def test_a_plan_is_saved_as_files(client: httpx.Client, kept: dict[str, Any], name: str, begins: bytes) -> None:
    answer = client.get(f"/api/jobs/{kept['id']}/files/{name}")
    assert answer.status_code == 200
    assert answer.content.startswith(begins)
    assert "attachment" in answer.headers["content-disposition"]


def test_an_unknown_file_is_said(client: httpx.Client, kept: dict[str, Any]) -> None:
    answer = client.get(f"/api/jobs/{kept['id']}/files/secrets.txt")
    assert answer.status_code == 404
    assert "job.toml" in answer.json()["faults"][0]["limit"]


def test_the_plan_of_a_kept_job(client: httpx.Client, kept: dict[str, Any]) -> None:
    assert client.get(f"/api/jobs/{kept['id']}/plan").json()["stations"] == 16


def test_measurements_are_kept_with_the_part(client: httpx.Client, pin: dict[str, Any]) -> None:
    name = client.post("/api/jobs", json=pin).json()["id"]
    sent = {"readings": "z,d\n-3,13.5\n", "verdict": "good", "says": "Nothing need be done."}
    assert client.post(f"/api/jobs/{name}/checks", json=sent).status_code == 201
    assert client.get(f"/api/jobs/{name}/checks").json()["items"][0]["verdict"] == "good"
    assert client.post(f"/api/jobs/{name}/checks", json={**sent, "says": 3}).status_code == 422
    assert client.get("/api/jobs/nothing/checks").status_code == 404
