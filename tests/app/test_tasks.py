"""Tasks: the same job is planned once, others anew."""

import json
from typing import Any

import pytest

from ovolo.app import tasks
from ovolo.documents.starting import started
from ovolo.errors import CannotPlan, JobFaults


def test_the_last_plans_are_remembered(pin: dict[str, Any]) -> None:
    first = tasks.planned(pin)
    assert tasks.planned(json.loads(json.dumps(pin))) is first
    assert tasks.planned({**pin, "title": "another"}) is not first


def test_every_task_gives_json_or_a_file(pin: dict[str, Any]) -> None:
    for name in ("plan", "plan_view", "plan_further", "trade", "part_view", "shop_view"):
        assert json.loads(tasks.TASKS[name](pin)), name
    assert tasks.TASKS["file"](pin, "moves.csv").startswith(b"move,")


def test_what_surrounds_a_drawing_on_a_page_has_its_style(pin: dict[str, Any]) -> None:
    assert "<style" not in json.loads(tasks.TASKS["plan_further"](pin))["strip"]


def test_a_new_job_takes_the_tools_of_the_shop_and_a_bar_that_bores(pin: dict[str, Any]) -> None:
    shop = {"title": "mine", "units": "mm", "tool": pin["tool"], "slide": {"cross": {"reads": "radius"}}}
    dome = json.loads(tasks.TASKS["begin"]({"form": "dome", "shop": shop, "title": "Capstan pin"}))
    assert (dome["title"], dome["tool"], dome["slide"]) == ("Capstan pin", pin["tool"], shop["slide"])
    bush = json.loads(tasks.TASKS["begin"]({"form": "bell mouth", "shop": shop}))
    assert len(bush["tool"]) == len(pin["tool"]) + 1


def test_a_new_job_is_made_around_an_outline() -> None:
    outline = [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}]
    made = json.loads(tasks.TASKS["begin"]({"outline": outline, "units": "mm"}))
    assert made["part"]["outline"] == outline
    assert tasks.planned(made).stations > 3


def test_a_sketch_is_empty_where_there_is_nothing_to_draw(pin: dict[str, Any]) -> None:
    assert tasks.TASKS["sketch"](pin).startswith(b"<svg")
    assert tasks.TASKS["sketch"]({"title": "x"}) == b""


def test_readings_are_checked_against_the_plan_of_a_job(pin: dict[str, Any]) -> None:
    listed = json.loads(tasks.TASKS["check_list"](pin))
    assert len(listed["places"]) >= 8
    answer = json.loads(tasks.TASKS["check_view"]({"job": pin, "readings": "z,d\n-3,13.43\n-5,16.13\n-7,17.5\n"}))
    assert answer["verdict"] in ("good", "not good", "cannot tell")
    for wrong in ({"job": pin}, {"readings": "z,d\n-3,13\n"}):
        with pytest.raises(JobFaults):
            tasks.TASKS["check_view"](wrong)


def test_readings_after_a_correction_are_checked_against_its_moves(pin: dict[str, Any]) -> None:
    made, read = json.loads(tasks.TASKS["plan"](pin)), "z,d\n-3,13.43\n-5,16.13\n-7,17.5\n"
    of_plan = json.loads(tasks.TASKS["check_view"]({"plan": made, "readings": read}))
    assert of_plan["rows"] == json.loads(tasks.TASKS["check_view"]({"job": pin, "readings": read}))["rows"]
    with pytest.raises(JobFaults, match="both sent"):
        tasks.TASKS["check_view"]({"plan": made, "job": pin, "readings": read})


def test_an_offer_is_a_job_that_can_be_planned(pin: dict[str, Any]) -> None:
    """A right-hand knife alone does not get behind a ball; a round nose does."""
    forms = [{"form": "ball", "diameter": 20, "neck": 14}, {"form": "fillet", "radius": 3}]
    knife = {"name": "right-hand knife", "kind": "pointed", "hand": "right", "nose_radius": 0.4}
    part = {"material": "brass", "form": [*forms, {"form": "cylinder", "length": 8}]}
    job = {**pin, "part": part, "stock": {"diameter": 21, "proud": 0.5}, "tool": [knife]}
    first = json.loads(tasks.TASKS["plan_helps"](job))["helps"][0]
    assert first["button"] == "Add this round nose"
    assert first["document"]["tool"][first["tool"]]["name"] == f"{first['name']}1.5"
    brief = json.loads(tasks.TASKS["plan_brief"](first["document"]))
    assert brief["moves"] == len(tasks.planned(first["document"]).moves)
    assert int(brief["minutes"]) > 0
    assert json.loads(tasks.TASKS["plan_helps"]({"title": "x"})) == {"helps": []}


def test_what_may_save_moves_can_be_planned(pin: dict[str, Any]) -> None:
    first = json.loads(tasks.TASKS["plan_cheaper"](pin))["helps"][0]
    brief = json.loads(tasks.TASKS["plan_brief"](first["document"]))
    assert 0 < brief["moves"] < len(tasks.planned(pin).moves)


def test_a_larger_bar_is_offered_where_the_part_is_thicker(pin: dict[str, Any]) -> None:
    thin = {**pin, "stock": {**pin["stock"], "diameter": 15}}
    (offer,) = json.loads(tasks.TASKS["plan_helps"](thin))["helps"]
    assert offer["button"] == "Use a larger bar, Ø 19 mm"
    assert json.loads(tasks.TASKS["plan_brief"](offer["document"]))["moves"] > 0


def test_the_drawing_of_a_refusal_names_the_faults_that_it_stands_for(pin: dict[str, Any]) -> None:
    knife = {"name": "left", "kind": "pointed", "hand": "left", "nose_radius": 0.4}
    part = {"form": [{"form": "ball", "diameter": 20, "neck": 14}, {"form": "cylinder", "length": 8}]}
    job = {**pin, "part": part, "stock": {"diameter": 21}, "tool": [knife]}
    found = json.loads(tasks.TASKS["plan_unreached"]({"job": job, "width": 200, "height": 120}))
    assert found["instead"]
    with pytest.raises(CannotPlan) as refused:
        tasks.planned(job)
    assert {fault.says for fault in refused.value.faults} == set(found["instead"])


def test_nothing_would_help_where_no_tool_is_in_the_way(pin: dict[str, Any]) -> None:
    assert json.loads(tasks.TASKS["plan_helps"](pin)) == {"helps": []}


def test_coarse_work_is_offered_with_the_worth_of_settings(pin: dict[str, Any]) -> None:
    offered = json.loads(tasks.TASKS["plan_worth"](pin))["coarse"]
    assert pin["finish"]["ridge"] < offered["ridge"] <= 0.21
    assert any("Try the gauge" in line for line in offered["says"])


def test_forms_that_change_take_their_usual_curve_along() -> None:
    job = started("ball")
    forms = job["part"]["form"]
    body = {"job": job, "forms": [{"form": "cylinder", "length": 10}, *forms[1:]], "from": [None, 1, 2]}
    part = json.loads(tasks.TASKS["part_forms"](body))["part"]
    assert "curve" not in part  # two cylinders have none
    kept = {**job, "part": {**job["part"], "curve": [0, -5]}}
    asked = {
        "job": kept,
        "forms": [*forms, {"form": "taper", "to_diameter": 14, "length": 10}],
        "from": [0, 1, 2, None],
    }
    part = json.loads(tasks.TASKS["part_forms"](asked))["part"]
    assert part["curve"] == [0, -5]
    assert part["form"][3] == {"form": "taper", "length": 10, "to_diameter": 15.0}
    with pytest.raises(JobFaults):
        tasks.TASKS["part_forms"]({"job": job, "forms": forms, "from": [0]})
