"""What a plan says about itself: how well a nose is known, and what a centre leaves on the end."""

import math

import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.plan.words import notes_of
from ovolo.documents.reading import job_from_data
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.plan.report.notes import ending
from ovolo.plan.view.centre import Centre, hole_left
from ovolo.plan.view.frame import Frame

HANDLE = [{"z": 0, "d": 12}, {"z": -10, "d": 16, "convex": 30}, {"z": -30, "d": 12, "convex": 60}, {"z": -45, "d": 12}]
HELD: Data = {"holding": "chuck and centre", "centre_hole": 4, "centre_body": 12}


def _handle(proud: float) -> Plan:
    stock = {"diameter": 18, "stick_out": 80, "proud": proud}
    tools = [{"name": "round nose 6", "kind": "round", "nose_radius": 3}, {"name": "knife", "nose_radius": 0.4}]
    job = {"part.outline": HANDLE, "part.curve": [0, -30], "stock": stock, "lathe": HELD, "tool": tools}
    return make_plan(job_from_data(pin(job)))


def test_without_metal_in_front_there_is_no_nub() -> None:
    plan = _handle(0)
    said = " ".join((*notes_of(plan), *(before.text for before in plan.before)))
    assert "no nub to cut off" in said
    assert "cut off the nub" not in said
    assert ending(Frame(plan.job)) in plan.before[-1].text


@pytest.mark.parametrize(("proud", "wide"), [(0.0, "4"), (1.0, "2.85")])
def test_the_hole_that_stays_in_the_end_is_told(proud: float, wide: str) -> None:
    """A point of 60° is 3.46 deep in a mouth of 4 mm: what stands in front takes the wide end of it away."""
    deep = 2 / math.tan(math.radians(30)) - proud
    (note,) = [note for note in notes_of(_handle(proud)) if "hole stays" in note]
    assert f"Ø {wide} mm, {deep:.3g} mm deep" in note
    assert "a facing allowance of 3.46 mm" in note


def test_enough_metal_in_front_holds_the_whole_hole() -> None:
    plan = _handle(3.5)
    assert not any("hole stays" in note for note in notes_of(plan))
    assert "cut off the nub of Ø 6 mm" in plan.before[-1].text


def test_in_a_dome_the_cone_ends_where_it_meets_the_curve() -> None:
    """A dome of R 9 and a cone from Ø 4 at its pole: (9 - z)² + r² = 81 and r = 2 - z·tan 30°, z into the part."""
    dome = Outline((Arc(Point(0.0, 0.0), Point(-9.0, 9.0), Point(-9.0, 0.0), ccw=True),))
    slope = math.tan(math.radians(30))
    a, b, c = 1 + slope**2, -(18 + 4 * slope), 4
    z = (-b - math.sqrt(b * b - 4 * a * c)) / (2 * a)
    found = hole_left(Centre(0.0, 2.0, 8.0, 0.0), dome)
    assert found is not None
    assert found == pytest.approx((2 - z * slope, (2 - z * slope) / slope), abs=2e-3)


def test_a_hole_wider_than_the_whole_part_is_not_measured() -> None:
    thin = Outline((Line(Point(0.0, 1.0), Point(-1.0, 1.0)),))
    assert hole_left(Centre(0.0, 3.0, 8.0, 0.0), thin) is None


def test_a_nose_not_known_well_enough_is_told_with_what_it_allows() -> None:
    """Half of what the radius may be off can show on the curve."""
    nose = {"tool.0.nose_radius_u": 0.05, "finish.ridge": 0.02}
    (note,) = [note for note in notes_of(make_plan(job_from_data(pin(nose)))) if "nose" in note]
    assert "given to 0.05 mm (nose_radius_u)" in note
    assert "allows a ridge of 0.025 mm" in note
    assert "Measure it to 0.04 mm" in note
    enough = make_plan(job_from_data(pin({**nose, "finish.ridge": 0.03})))
    assert not any("nose_radius_u" in note for note in notes_of(enough))


def test_the_groove_that_it_is_measured_by() -> None:
    """A groove of R 3, 1 deep: its mouth is 2·√(3² - 2²) wide, and the note's own formula gives the radius back."""
    nose = {"tool.0.nose_radius_u": 0.05, "finish.ridge": 0.02}
    (note,) = [note for note in notes_of(make_plan(job_from_data(pin(nose)))) if "nose" in note]
    assert "(w²/4 + t²) / 2t" in note
    w, t = 2 * math.sqrt(3**2 - 2**2), 1.0
    assert (w**2 / 4 + t**2) / (2 * t) == pytest.approx(3)


def test_a_corner_is_too_short_for_a_groove() -> None:
    knife = {"name": "knife", "nose_radius": 0.4, "nose_radius_u": 0.1}
    (note,) = notes_of(make_plan(job_from_data(pin({"tool.0": knife, "finish.ridge": 0.03}))))
    assert "radius gauges" in note
    assert "ISO 1832" in note
    assert "groove into scrap" not in note


def test_a_count_that_its_dial_can_hardly_be_stopped_at_is_told_with_one_that_it_can() -> None:
    """0.03 is six tenths of a division of 0.05: beside it lie a half, 0.025, and a whole one."""
    dial = {"reads": "radius", "per_turn": 2, "divisions": 40, "count": 0.03}
    (note,) = notes_of(make_plan(job_from_data(pin({"slide.cross": dial, "finish.ridge": 0.2}))))
    assert "of which one is 0.05 mm: count = 0.025 or 0.05 (slide.cross)" in note
    assert notes_of(make_plan(job_from_data(pin({"slide.cross": {**dial, "count": 0.025}, "finish.ridge": 0.2})))) == ()
