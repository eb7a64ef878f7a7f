"""A plan.json reads back to the same plan, every example, in mm and in inches; what is none is said."""

import copy
import json
import tomllib
from pathlib import Path
from typing import Any

import pytest

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.plan.reading import plan_from_data
from ovolo.documents.reading import job_from_data
from ovolo.errors import JobFaults
from ovolo.plan.planner import make_plan

EXAMPLES = Path(__file__).parents[3] / "examples"


def written(name: str) -> dict[str, Any]:
    job = job_from_data(tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")))
    data: dict[str, Any] = json.loads(json.dumps(plan_as_data(make_plan(job))))
    return data


@pytest.fixture(scope="module")
def pin() -> dict[str, Any]:
    return written("bridge-pin")


@pytest.mark.parametrize("name", ["bridge-pin", "winch-pin-inch", "hinge-pin-dials", "bronze-bush", "jig-dowel"])
def test_it_reads_back_to_a_plan_that_is_written_the_same(name: str) -> None:
    data = written(name)
    again = json.loads(json.dumps(plan_as_data(plan_from_data(data))))
    for key in ("units", "tools", "stations", "proof", "prediction", "job"):
        assert again[key] == data[key], key
    for one, other in zip(again["moves"], data["moves"], strict=True):
        assert one["set"] == pytest.approx(other["set"], abs=1e-9)
        assert {**one, "set": 0, "bends_mm": 0, "force_n": 0, "power_w": 0} == {
            **other,
            "set": 0,
            "bends_mm": 0,
            "force_n": 0,
            "power_w": 0,
        }


def test_what_may_be_left_out_is_filled_in(pin: dict[str, Any]) -> None:
    bare = {key: value for key, value in pin.items() if key not in ("units", "tools", "notes", "checksum")}
    bare["moves"] = [{key: value for key, value in move.items() if key != "bite"} for move in pin["moves"]]
    plan = plan_from_data(bare)
    assert [tool.name for tool in plan.tools] == pin["tools"]
    assert len(plan.moves) == len(pin["moves"])


@pytest.mark.parametrize(
    ("where", "change"),
    [
        ("moves[3].n", lambda d: d["moves"][3].update(n=9)),
        ("moves[2].tool", lambda d: d["moves"][2].update(tool="hammer")),
        ("moves[4].to", lambda d: d["moves"][4].update(to=[1.0, 1.0])),
        ("moves[1].from", lambda d: d["moves"][1].update({"from": [3.0, 14.0]})),
        ("moves[0].set", lambda d: d["moves"][0].update(set=None)),
        ("moves", lambda d: d.update(moves=[])),
        ("moves[0].colour", lambda d: d["moves"][0].update(colour="blue")),
        ("before[0].move", lambda d: d["before"][0].update(move=900)),
        ("job.stock.diameter", lambda d: d["job"]["stock"].update(diameter=-3)),
        ("format", lambda d: d.update(format="other")),
        ("tools[0]", lambda d: d.update(tools=["hammer"])),
    ],
)
def test_what_is_wrong_is_said_with_its_place(pin: dict[str, Any], where: str, change: Any) -> None:
    bad = copy.deepcopy(pin)
    change(bad)
    with pytest.raises(JobFaults) as refused:
        plan_from_data(bad)
    assert where in [fault.where for fault in refused.value.faults]


@pytest.mark.parametrize("nothing", [{}, {"moves": 3}, {"moves": [3]}, {"job": 3, "moves": [{}]}])
def test_what_is_no_plan_at_all_is_refused_without_a_traceback(nothing: dict[str, Any]) -> None:
    with pytest.raises(JobFaults):
        plan_from_data(nothing)
