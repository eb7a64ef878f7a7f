"""Runs over HTTP: a plan is taken to the lathe, ticks come back, the page carries everything."""

import re
from pathlib import Path
from typing import Any

import httpx
import pytest

from ovolo.documents.recording import read_recording

AT = "2026-03-01T10:20:30.123Z"


def tick(n: int, move: int, **more: Any) -> dict[str, Any]:
    return {"key": f"{n:016d}", "move": move, "at": AT, **more}


@pytest.fixture(scope="module")
def run(client: httpx.Client, pin: dict[str, Any]) -> str:
    answer = client.post("/api/runs", json={"job": pin})
    assert answer.status_code == 201
    assert answer.json()["page"] == f"/run/{answer.json()['run']}"
    return str(answer.json()["run"])


def test_a_run_is_the_very_plan_and_a_plan_can_be_sent_itself(
    client: httpx.Client, pin: dict[str, Any], run: str
) -> None:
    whole = client.get(f"/api/runs/{run}").json()
    assert (whole["run"], whole["ticks"], whole["place"]) == (run, [], 1)
    assert whole["plan"] == client.post("/api/plan", json=pin).json()
    again = client.post("/api/runs", json={"plan": whole["plan"]})
    assert again.status_code == 201
    assert client.get(f"/api/runs/{again.json()['run']}").json()["plan"] == whole["plan"]
    assert run in [item["id"] for item in client.get("/api/runs").json()["items"]]


def test_ticks_are_kept_and_sent_twice_do_no_harm(client: httpx.Client, pin: dict[str, Any]) -> None:
    name = client.post("/api/runs", json={"job": pin}).json()["run"]
    sent = [tick(1, 1), tick(2, 2, stopped_at=-5.9), tick(3, 2, undo=f"{2:016d}")]
    answer = client.put(f"/api/runs/{name}/ticks", json=sent).json()
    assert answer["place"] == 2
    assert [{k: v for k, v in t.items() if k != "received"} for t in answer["ticks"]] == sent
    assert client.put(f"/api/runs/{name}/ticks", json=sent).json() == answer
    later = client.get(f"/api/runs/{name}?since=1").json()
    assert later["ticks"] == answer["ticks"][1:]
    assert "plan" not in later


def test_what_cannot_be_is_refused_and_nothing_of_the_list_kept(client: httpx.Client, run: str) -> None:
    for bad in ([tick(5, 1), tick(6, 999)], [{**tick(5, 1), "colour": 1}], [tick(5, 1, key="short")], {"key": 1}):
        answer = client.put(f"/api/runs/{run}/ticks", json=bad)
        assert answer.status_code == 422
        assert answer.json()["faults"]
    assert client.get(f"/api/runs/{run}?since=0").json()["ticks"] == []
    assert client.put("/api/runs/none/ticks", json=[]).status_code == 404
    assert client.get("/api/runs/none").status_code == 404
    assert client.get("/run/none").status_code == 404
    assert client.get(f"/api/runs/{run}?since=x").status_code == 422
    bodies: list[dict[str, Any]] = [{}, {"job": {}, "plan": {}}, {"job": 3}, {"job": {"title": "x"}}, {"plan": {}}]
    for body in bodies:
        assert client.post("/api/runs", json=body).status_code == 422


def test_the_page_is_one_file_at_an_address_with_its_digest(client: httpx.Client, run: str) -> None:
    first = client.get(f"/run/{run}")
    assert first.status_code == 307
    assert "max-age" in first.headers["cache-control"]
    page = client.get(first.headers["location"])
    assert re.fullmatch(rf"/run/{run}/[0-9a-f]{{16}}", first.headers["location"])
    assert "max-age" in page.headers["cache-control"]
    assert "cross-origin-opener-policy" not in page.headers
    assert "'unsafe" not in page.headers["content-security-policy"]
    text = page.text
    assert not re.search(r"""(src|href)=["'](?!data:)|url\((?!data:|#)|@import""", text)
    assert client.get(f"/run/{run}/0123456789abcdef").headers["location"] == first.headers["location"]


def test_runs_alone_answer_to_a_name_that_is_reserved_for_tests(client: httpx.Client, run: str) -> None:
    bench = {"host": "bench.test:80"}
    assert client.get(f"/api/runs/{run}", headers=bench).status_code == 200
    sent = {**bench, "origin": "http://bench.test:80"}
    assert client.put(f"/api/runs/{run}/ticks", json=[], headers=sent).status_code == 200
    assert client.get("/", headers=bench).status_code == 421
    assert client.get(f"/api/runs/{run}", headers={"host": "evil.example"}).status_code == 421
    assert client.put(f"/api/runs/{run}/ticks", json=[], headers={"origin": "http://evil.test"}).status_code == 403


def test_the_code_says_the_address(client: httpx.Client, run: str) -> None:
    answer = client.get(f"/api/runs/{run}/code.svg")
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert answer.text.startswith("<svg")
    assert client.get("/api/runs/none/code.svg").status_code == 404


def test_times_are_a_recorded_run(client: httpx.Client, pin: dict[str, Any], tmp_path: Path) -> None:
    name = client.post("/api/runs", json={"job": pin}).json()["run"]
    ticks = [tick(n, n, key=f"phone-{n:010d}", at=f"2026-03-01T10:{n:02d}:30.000Z") for n in (1, 2, 3)]
    assert client.put(f"/api/runs/{name}/ticks", json=ticks).status_code == 200
    file = tmp_path / "run.csv"
    file.write_text(client.get(f"/api/runs/{name}/times.csv").text)
    assert read_recording(file, 62) == ((2, 60.0), (3, 60.0))
    assert client.get("/api/runs/none/times.csv").status_code == 404


def test_the_next_part_is_of_the_same_plan(client: httpx.Client, run: str) -> None:
    plan = client.get(f"/api/runs/{run}").json()["plan"]
    shift = {"tool": plan["moves"][0]["tool"], "slide": "cross", "by": -0.04}
    answer = client.post(f"/api/runs/{run}/again", json={"parts": 3, "carried": [shift]})
    assert answer.status_code == 201
    other = answer.json()["run"]
    assert client.get(f"/api/runs/{other}").json()["plan"] == plan
    page = client.get(f"/run/{other}", follow_redirects=True).text
    assert '"part":2,"parts":3' in page
    assert client.post(f"/api/runs/{run}/again", json={"parts": 0}).status_code == 422
    assert client.post("/api/runs/none/again", json={}).status_code == 404
