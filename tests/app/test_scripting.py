"""The interface for scripts: plans, faults, previews, drawings."""

import json
from typing import Any

import httpx
import pytest

from ovolo.documents.plan.document import plan_as_json
from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan

DXF_LINES = [(0, 0, 0, 9), (0, 9, -20, 9), (-20, 9, -20, 0)]


def test_a_job_becomes_the_plan_of_the_command(client: httpx.Client, pin: dict[str, Any]) -> None:
    answer = client.post("/api/plan", json=pin)
    assert answer.status_code == 200
    assert answer.json() == json.loads(plan_as_json(make_plan(job_from_data(pin))))


def test_all_faults_of_a_job_come_at_once(client: httpx.Client, pin: dict[str, Any]) -> None:
    wrong = {**pin, "stock": {"diameter": -20}, "finish": {"ridge": "much"}, "colour": "blue"}
    answer = client.post("/api/plan", json=wrong)
    assert answer.status_code == 422
    faults = answer.json()["faults"]
    assert {fault["where"] for fault in faults} >= {"stock.diameter", "finish.ridge", "colour"}
    assert all(set(fault) == {"where", "value", "limit", "says", "remedy"} for fault in faults)


def test_what_no_tool_reaches_is_said(client: httpx.Client, pin: dict[str, Any]) -> None:
    narrow = {
        "outline": [{"z": 0, "d": 10}, {"z": -5, "d": 10}, {"z": -6, "d": 4}, {"z": -7, "d": 10}, {"z": -20, "d": 10}]
    }
    answer = client.post("/api/plan", json={**pin, "part": {**narrow, "curve": [0, -10]}})
    assert answer.status_code == 422
    assert answer.json()["faults"]


def test_what_no_tool_reaches_is_drawn(client: httpx.Client, pin: dict[str, Any]) -> None:
    narrow = {
        "outline": [{"z": 0, "d": 10}, {"z": -5, "d": 10}, {"z": -6, "d": 4}, {"z": -7, "d": 10}, {"z": -20, "d": 10}]
    }
    asked = {"job": {**pin, "part": {**narrow, "curve": [0, -10]}}, "width": 30, "height": 110}
    found = client.post("/api/plan/unreached", json=asked).json()
    assert found["box"] == [0, 0, 60, 110]
    assert 'class="unreached"' in found["picture"]
    assert "<style" not in found["picture"]
    assert found["scale"] > 0
    assert "No tool of the drawer reaches" in found["says"][0]


@pytest.mark.parametrize("change", [{}, {"stock": {"diameter": -20}}], ids=["can be planned", "is no job"])
def test_nothing_is_drawn_where_tools_are_not_in_the_way(
    client: httpx.Client, pin: dict[str, Any], change: dict[str, Any]
) -> None:
    answer = client.post("/api/plan/unreached", json={"job": {**pin, **change}, "width": 100, "height": 100})
    assert (answer.status_code, answer.json()) == (200, {"picture": None})


@pytest.mark.parametrize("width", [None, "wide", True])
def test_a_drawing_needs_a_size(client: httpx.Client, pin: dict[str, Any], width: Any) -> None:
    answer = client.post("/api/plan/unreached", json={"job": pin, "width": width, "height": 100})
    assert answer.status_code == 422
    assert answer.json()["faults"][0]["where"] == "width"


@pytest.mark.parametrize("body", [b"", b"{", b"[1,", b'{"a": NaN}', b"\xff\xfe", b"[" * 100_000, b"1e999999"])
@pytest.mark.parametrize(
    "path", ["/api/plan", "/api/preview", "/api/part", "/api/shop", "/api/jobs", "/api/convention"]
)
def test_what_is_no_json_is_refused(client: httpx.Client, path: str, body: bytes) -> None:
    answer = client.post(path, content=body, headers={"content-type": "application/json"})
    assert answer.status_code in (400, 422)
    assert answer.json()["faults"][0]["says"]


@pytest.mark.parametrize("body", [[], "job", 3, True])
def test_what_is_no_job_is_refused(client: httpx.Client, body: Any) -> None:
    for path in ("/api/plan", "/api/part", "/api/trade", "/api/plan/view", "/api/plan/further"):
        assert client.post(path, json=body).status_code == 422


def test_a_preview_agrees_with_the_plan(client: httpx.Client, pin: dict[str, Any]) -> None:
    plan = make_plan(job_from_data(pin))
    found = client.post("/api/preview", json={"job": pin}).json()
    assert found["stations"] == plan.stations == len(found["feet"])
    assert found["ridge"] == pytest.approx(plan.prediction.ridge_max, abs=2e-3)
    finer = client.post("/api/preview", json={"job": pin, "ridge": 0.02}).json()
    assert finer["stations"] == make_plan(job_from_data(pin), ridge=0.02).stations


def test_a_number_of_settings_has_a_ridge_that_needs_so_many(client: httpx.Client, pin: dict[str, Any]) -> None:
    found = client.post("/api/preview", json={"job": pin, "stations": 20}).json()
    assert found["stations"] == 20
    planned = make_plan(job_from_data({**pin, "finish": {"ridge": found["ridge"] + 1e-4}}))
    assert planned.stations == 20


@pytest.mark.parametrize(
    "asked", [{"stations": 0}, {"stations": 1.5}, {"ridge": -1}, {"ridge": True}, {"stations": 10**9}]
)
def test_a_preview_of_the_impossible_is_refused(
    client: httpx.Client, pin: dict[str, Any], asked: dict[str, Any]
) -> None:
    answer = client.post("/api/preview", json={"job": pin, **asked})
    assert answer.status_code == 422
    assert answer.json()["faults"][0]["where"] in asked


def test_more_settings_leave_less(client: httpx.Client, pin: dict[str, Any]) -> None:
    points = client.post("/api/trade", json=pin).json()["points"]
    assert len(points) >= 12
    counts, ridges = [p[0] for p in points], [p[1] for p in points]
    assert counts == sorted(counts)
    assert ridges == sorted(ridges, reverse=True)
    assert any(n == make_plan(job_from_data(pin)).stations for n in counts)


def test_the_view_of_a_plan_holds_what_the_page_shows(client: httpx.Client, pin: dict[str, Any]) -> None:
    view = client.post("/api/plan/view", json=pin).json()
    assert view["stations"] == 16
    assert view["scene"].startswith("<svg")
    assert [move["n"] for move in view["moves"]] == list(range(1, len(view["moves"]) + 1))
    rows = [row["n"] for section in view["sections"] for row in section["rows"]]
    assert rows == [move["n"] for move in view["moves"]]
    more = client.post("/api/plan/further", json=pin).json()
    assert int(more["minutes"]) > 0
    assert "Sixteen equal steps calculated for a sharp tool would leave" in more["sharp"]


def test_a_faulty_part_is_drawn_with_its_faults(client: httpx.Client, pin: dict[str, Any]) -> None:
    found = client.post("/api/part", json={**pin, "stock": {"diameter": 5}}).json()
    assert [fault["where"] for fault in found["faults"]] == ["stock.diameter"]
    assert found["scene"].startswith("<svg")


def test_tools_without_a_fault_are_drawn(client: httpx.Client, pin: dict[str, Any]) -> None:
    broken = {**pin, "tool": [*pin["tool"], {"name": "bent", "nose_radius": -1}]}
    found = client.post("/api/shop", json=broken).json()
    assert [picture is not None for picture in found["pictures"]] == [True, True, False]
    assert "tool[2].nose_radius" in {fault["where"] for fault in found["faults"]}


def test_winding_a_slide_says_how_it_reads(client: httpx.Client) -> None:
    asked = {"slide": "cross", "wound": "away", "travel": 1, "before": 10, "after": 8}
    found = client.post("/api/convention", json=asked).json()
    assert (found["reads"], found["grows"]) == ("diameter", "in")
    wrong = client.post("/api/convention", json={**asked, "after": 13})
    assert wrong.status_code == 422
    along = client.post("/api/convention", json={**asked, "slide": "top", "after": 11}).json()
    assert (along["reads"], along["grows"]) == (None, "away")
    for broken in ({"slide": "bottom"}, {"wound": "up"}, {"travel": None}, {"travel": "1"}):
        assert client.post("/api/convention", json={**asked, **broken}).status_code == 422


def _dxf() -> bytes:
    body = ["0", "SECTION", "2", "HEADER", "9", "$INSUNITS", "70", "4", "0", "ENDSEC", "0", "SECTION", "2", "ENTITIES"]
    for x0, y0, x1, y1 in DXF_LINES:
        body += ["0", "LINE", "8", "0", "10", str(x0), "20", str(y0), "11", str(x1), "21", str(y1)]
    return "\n".join([*body, "0", "ENDSEC", "0", "EOF", ""]).encode()


def test_a_drawing_is_understood(client: httpx.Client) -> None:
    asked = client.post("/api/drawing", files={"file": ("../../pin.dxf", _dxf())})
    assert asked.json()["faults"][0]["where"] == "axis"
    answer = client.post("/api/drawing", files={"file": ("../../pin.dxf", _dxf())}, data={"axis": "y=0"})
    assert answer.status_code == 200, answer.text
    found = answer.json()
    assert max(point["d"] for point in found["outline"]) == 18
    assert found["picture"].startswith("<svg")


@pytest.mark.parametrize(
    ("name", "content"),
    [("pin.dxf", b"nothing"), ("pin.exe", b"MZ"), ("pin.svg", b"<svg"), ("", b""), ("x" * 400, b"")],
)
def test_what_is_no_drawing_is_said(client: httpx.Client, name: str, content: bytes) -> None:
    answer = client.post("/api/drawing", files={"file": (name, content)})
    assert answer.status_code == 422
    assert answer.json()["faults"][0]["says"]


def test_a_drawing_needs_a_file_and_known_answers(client: httpx.Client) -> None:
    assert client.post("/api/drawing", data={"unit": "mm"}).status_code == 422
    answer = client.post("/api/drawing", files={"file": ("pin.dxf", _dxf())}, data={"unit": "yard"})
    assert answer.json()["faults"][0]["where"] == "unit"
