"""What would turn a refusal into a plan: corners rounded in forms and in points, noses that stand out, larger bars."""

from typing import Any

import pytest

from ovolo.documents.offers import cheaper, larger_bar, offers
from ovolo.documents.reading import job_from_data
from ovolo.errors import Fault
from ovolo.plan.planner import make_plan

ROUND = {"name": "round nose", "kind": "round", "nose_radius": 3}
FORMS = [
    {"form": "cylinder", "diameter": 16, "length": 20},
    {"form": "face", "diameter": 26},
    {"form": "cylinder", "length": 8},
]
POINTS = [{"z": 0, "d": 16}, {"z": -20, "d": 16}, {"z": -20, "d": 26}, {"z": -28, "d": 26}]


def _shoulder(part: dict[str, Any]) -> dict[str, Any]:
    return {"title": "Shoulder", "part": {**part, "curve": [0, -24]}, "stock": {"diameter": 27}, "tool": [ROUND]}


@pytest.mark.parametrize("part", [{"form": FORMS}, {"outline": POINTS}], ids=["forms", "points"])
def test_a_sharp_corner_is_rounded_to_the_nose(part: dict[str, Any]) -> None:
    (offer,) = offers(_shoulder(part))
    assert (offer.button, offer.says) == ("Round the corner to R 3", "at z = -20 (Ø 16)")
    assert make_plan(job_from_data(offer.document)).moves
    job = job_from_data(offer.document)
    assert [round(p.x, 6) for s in job.part.outline.segments for p in (s.end,)] == [-17, -20, -20, -28]


def test_the_other_points_stay_as_they_are_written() -> None:
    points = [{"z": 0, "d": "5/8 in"}, {"z": -20, "d": "5/8 in"}, *POINTS[2:]]
    (offer,) = offers(_shoulder({"outline": points}))
    assert offer.document["part"]["outline"][0] == points[0]
    assert offer.document["part"]["outline"][-2:] == POINTS[2:]


def test_a_nose_that_is_held_off_is_let_stand_out() -> None:
    outline = [{"z": z, "d": d} for z, d in ((0, 20), (-5, 20), (-5, 10), (-9, 10), (-9, 20), (-20, 20))]
    blade = {"name": "blade", "kind": "grooving", "nose_radius": 0.1, "width": 3, "stem": 4, "shank": 12}
    job = {"title": "x", "part": {"outline": outline, "curve": [-5, -9]}, "stock": {"diameter": 20.5}, "tool": [blade]}
    first = offers(job)[0]
    assert first.button == "Let the nose of blade project 5.3 mm"
    assert first.document["tool"] == [{**blade, "stem": 5.3}]


def test_a_tool_is_offered_under_a_name_that_is_free() -> None:
    """A left-hand knife cannot get round the front of a ball."""
    part = {"form": [{"form": "ball", "diameter": 20, "neck": 14}, {"form": "cylinder", "length": 8}]}
    left = {"name": "left-hand knife R 0.4", "kind": "pointed", "hand": "left", "nose_radius": 0.4}
    job = {"title": "x", "part": part, "stock": {"diameter": 21}, "tool": [left]}
    found = [offer for offer in offers(job) if offer.tool is not None]
    assert found
    for offer in found:
        names = [tool["name"] for tool in offer.document["tool"]]
        assert len(set(names)) == len(names) == 2


def test_no_larger_bar_where_something_else_is_wrong() -> None:
    job = job_from_data(_shoulder({"outline": POINTS}))
    fault = Fault("stock.hole", 3, "", "", "")
    assert larger_bar(_shoulder({}), job.part, "mm", [fault]) == []


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_larger_bar_holds_the_part(unit: Any) -> None:
    job = job_from_data(_shoulder({"outline": POINTS}))
    thin = {"units": unit, "stock": {"diameter": 1, "proud": 0.5}}
    (offer,) = larger_bar(thin, job.part, unit, [Fault("stock.diameter", 1, "", "", "")])
    size = offer.document["stock"]["diameter"] * (25.4 if unit == "in" else 1)
    assert 27 <= size <= 30
    assert offer.document["stock"]["proud"] == 0.5


def test_nothing_where_the_job_is_broken_or_can_be_made() -> None:
    assert offers({"title": "x"}) == []
    assert offers({**_shoulder({"outline": POINTS[:2]}), "stock": {"diameter": 17}}) == []


def test_what_may_save_moves_is_one_change_each() -> None:
    job = {**_shoulder({"outline": POINTS}), "finish": {"ridge": 0.05, "by": {"slide": "saddle", "amount": 0.3}}}
    job["limits"] = {"bite": 0.5}
    found = cheaper(job, job_from_data(job))
    ridge, free, deeper = (offer.document for offer in found)
    assert ridge == {**job, "finish": {**job["finish"], "ridge": 0.1}}
    assert free == {**job, "finish": {"ridge": 0.05}}
    assert deeper == {**job, "limits": {"bite": 0.75}}
    assert found[0].button == "Allow a ridge of 0.1 mm"


def test_a_tolerance_of_the_drawing_keeps_the_ridge() -> None:
    job = {**_shoulder({"outline": POINTS}), "finish": {"tolerance": "profile 0.2"}}
    assert cheaper(job, job_from_data(job)) == []
