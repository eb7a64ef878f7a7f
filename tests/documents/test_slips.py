"""Slips that people make: noticed with a question that is right, and answered for good by a word in the job."""

from typing import Any

import pytest
from tests.documents.jobs import faults, pin

from ovolo.documents.reading import job_from_data
from ovolo.errors import Fault, JobFaults
from ovolo.plan.planner import make_plan
from ovolo.show.words.printout import printout

Data = dict[str, Any]
DOME_AS_RADII = [{"z": 0, "d": 0}, {"z": -9, "d": 9, "convex": 9}, {"z": -24, "d": 9}]
HOLLOW_BY_SLIP = [{"z": 0, "d": 0}, {"z": -9, "d": 18, "concave": 9}, {"z": -24, "d": 18}]
NEARLY_ROUND = [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9.5}, {"z": -24, "d": 18}]
INCH_15 = [{"z": 0, "d": 0}, {"z": -7.5, "d": 15, "convex": 7.5}, {"z": -30, "d": 15}]


def asked(changes: Data) -> list[Fault]:
    """The questions, whether they come before a plan or with it."""
    try:
        return list(job_from_data(pin(changes)).doubts)
    except JobFaults as found:
        return [fault for fault in found.faults if fault.answer]


def answers(changes: Data) -> list[str]:
    return [fault.answer for fault in asked(changes)]


@pytest.mark.parametrize(
    ("changes", "answer", "where"),
    [
        ({"units": "in", "sure": [], "part.outline": INCH_15, "part.curve": [0, -20]}, "inches", "stock.diameter"),
        ({"part.outline": DOME_AS_RADII, "part.curve": [0, -20]}, "diameters", "part.outline[1].d"),
        ({"part.outline": HOLLOW_BY_SLIP, "part.curve": [0, -20]}, "arcs", "part.outline[1].concave"),
        ({"stock.diameter": 200}, "stock", "stock.diameter"),
        ({"slide.cross": {"count": 2.5}}, "counts", "slide.cross.count"),
        ({"part.outline": NEARLY_ROUND, "part.curve": [0, -20]}, "axis", "part.outline[1].convex"),
        ({"tool.0.nose_radius": 10}, "noses", "tool[0].nose_radius"),
    ],
)
def test_a_slip_is_asked_about_and_answered_for_good(changes: Data, answer: str, where: str) -> None:
    found = asked(changes)
    assert [(fault.answer, fault.where) for fault in found] == [(answer, where)]
    assert f'sure = ["{answer}"]' in found[0].remedy
    assert answer not in answers({**changes, "sure": [answer]})


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"part.outline": [{"z": 0, "d": 6}, {"z": -4, "d": 14, "convex": 5}, {"z": -24, "d": 18}]},  # meant corners
        {"units": "in", "stock.diameter": 2, "tool.0.nose_radius": 0.125, "part.outline": [
            {"z": 0, "d": 0}, {"z": -0.75, "d": 1.5, "convex": 0.75}, {"z": -2, "d": 1.5}], "part.curve": [0, -1]},
        {"slide.cross": {"count": 2.5, "divisions": 10, "per_turn": 12.5}},
    ],
)  # fmt: skip
def test_what_is_usual_is_not_asked_about(changes: Data) -> None:
    assert answers(changes) == []


def test_the_answer_comes_along_in_the_job_as_resolved() -> None:
    assert job_from_data(pin({"stock.diameter": 200, "sure": ["stock"]})).sure == ("stock",)


def test_z_turned_round_is_said_once_with_what_to_write() -> None:
    turned = [{"z": 0, "d": 0}, {"z": 9, "d": 18, "convex": 9}, {"z": 24, "d": 18}]
    found = [fault for fault in faults(pin({"part.outline": turned})) if "falls toward the chuck" in fault.says]
    assert [fault.where for fault in found] == ["part.outline[2].z"]
    assert "Write z = -24 here" in found[0].remedy


def test_a_radius_on_a_point_offers_both_sides_and_is_never_left_out() -> None:
    points = [{"z": 0, "d": 0}, {"z": -9, "d": 18, "radius": 9}, {"z": -24, "d": 18}]
    (fault,) = faults(pin({"part.outline": points}))
    assert (fault.where, fault.value) == ("part.outline[1].radius", 9)
    assert "convex = 9" in fault.remedy
    assert "concave = 9" in fault.remedy


def test_a_comma_that_may_mark_thousands_is_ambiguous_in_every_field() -> None:
    for changes in ({"stock.diameter": "1,234"}, {"finish.ridge": "1,234"}, {"part.outline.1.z": "1,234"}):
        (fault,) = faults(pin(changes))
        assert "decimals or thousands" in fault.says


def test_a_count_finer_than_any_readout_is_refused_before_it_takes_hours() -> None:
    (fault,) = faults(pin({"slide.cross": {"count": 1e-5}}))
    assert (fault.where, fault.limit) == ("slide.cross.count", "at least 0.0005 mm, 0.00002 in")


def test_a_round_end_is_offered_with_the_radius_that_makes_it() -> None:
    (fault,) = asked({"part.outline": NEARLY_ROUND, "part.curve": [0, -20]})
    assert fault.remedy.startswith("For a round end write convex = 9. ")
    assert "a point" in fault.says or "a hollow" in fault.says


def test_where_a_bulge_is_thicker_than_the_bar_is_said() -> None:
    (fault,) = faults(pin({"stock.diameter": 17, "part.curve": [0, -20]}))
    assert fault.says == "the part is 1 mm thicker than the bar at z = -9 mm, where it is Ø 18 mm"


def test_what_can_be_planned_is_planned_and_asked_about_where_the_plan_is_read() -> None:
    plan = make_plan(job_from_data(pin({"part.outline": NEARLY_ROUND, "part.curve": [0, -20]})))
    text = " ".join(printout(plan).split("Watch for")[1].split())
    assert "part.outline, point 2: convex: the arc meets the axis at" in text
    assert 'add sure = ["axis"] to the top of the job' in text
