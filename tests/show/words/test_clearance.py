"""Where to look with the spindle stopped: the tool against the jaws, the bar in its hole."""

import math

import pytest
from tests.documents.jobs import Data, pin
from tests.show.plans import BUSH

from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.show.words.clearance import clearance


def _said(data: Data) -> str:
    return " ".join(clearance(make_plan(job_from_data(data))))


def test_the_tool_is_told_not_its_nose_alone() -> None:
    """A round nose goes straight up, so its nose is what is nearest; the saddle reads the nose's own foremost line."""
    text = _said(pin())
    reads = float(text.split("saddle reads ")[1].split(":")[0])
    assert f"round nose 6 comes to {35 + reads:.2f} mm from the jaws" in text
    assert "no more than 10.00 mm over the bar" in text
    assert "no more than 12.00 mm over the bar" in _said(pin({"lathe.jaws": 12}))


def test_a_knife_that_leans_back_is_nearer_than_its_nose() -> None:
    """A left-hand knife of 55° at 93° leans at 32°: jaws that stand 4 lower give it 4 / tan 32° more room."""
    knives = {"tool": [{"name": "left", "hand": "left", "nose_radius": 0.8}, {"name": "right", "nose_radius": 0.8}]}
    cove = [{"z": 0, "d": 20}, {"z": -10, "d": 14, "concave": 30}, {"z": -20, "d": 20, "concave": 30}]
    cove.append({"z": -26, "d": 20})
    job = {**knives, "part.outline": cove, "part.curve": [0, -20], "stock": {"diameter": 22, "stick_out": 60}}
    gaps = [float(_said(pin({**job, "lathe.jaws": jaws})).split("comes to ")[1].split()[0]) for jaws in (6, 10)]
    assert gaps[0] - gaps[1] == pytest.approx(4 / math.tan(math.radians(32)), abs=0.02)


def test_where_the_back_of_a_knife_may_meet_the_jaws_its_nose_is_told_apart() -> None:
    left = {"tool": [{"name": "left", "hand": "left", "nose_radius": 0.8}, {"name": "right", "nose_radius": 0.8}]}
    cove = [{"z": 0, "d": 20}, {"z": -10, "d": 14, "concave": 30}, {"z": -20, "d": 20, "concave": 30}]
    cove.append({"z": -26, "d": 20})
    job = {**left, "part.outline": cove, "part.curve": [0, -20], "stock": {"diameter": 22, "stick_out": 29}}
    text = _said(pin(job))
    assert "may meet jaws that project 10.00 mm over the bar" in text
    assert "-" not in text.split("comes to ")[1].split()[0]


def test_how_far_the_bar_stands_out_is_not_told() -> None:
    stock = {"diameter": 20, "proud": 0.5}
    assert "check that tool, holder and slides clear the jaws" in _said(pin({"stock": stock}))


def test_in_a_hole_it_is_the_deepest_place() -> None:
    text = _said(BUSH)
    reads, deep = text.split("saddle reads ")[1].split(", the nose ")
    assert float(deep.split()[0]) == pytest.approx(0.5 - float(reads))  # the front stands 0.5 proud
    assert "project further from its holder" in text
    assert "jaws" not in text


def test_the_holder_is_told_where_the_overhang_is() -> None:
    bar = {"name": "bar", "kind": "round", "nose_radius": 2, "overhang": 45}
    text = _said({**BUSH, "tool": [bar]})
    deep = float(text.split("the nose ")[1].split()[0])
    assert f"its holder is then {45 - deep:.2f} mm from the front" in text
