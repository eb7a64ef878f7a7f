"""Passes of a top slide that is set over: where they lie and what they cover, by trigonometry."""

import math

import numpy as np
import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan
from ovolo.plan.planner import make_plan
from ovolo.plan.stations.taper import SlantPass, cones, leaning, left_to_step, pass_along, passes_by, slant_faults
from ovolo.plan.view.frame import Frame

ANGLE = math.degrees(math.atan2(5, 30))
"""Of a cone from Ø 10 to Ø 20 over 30 mm."""
BOTH = ["saddle", "cross", "top"]
CONE: Data = {
    "part.outline": [{"z": 0, "d": 10}, {"z": -30, "d": 20}, {"z": -40, "d": 20}],
    "part.curve": [0, -30],
    "stock": {"diameter": 22, "proud": 0.5, "stick_out": 54},
    "limits.slides": BOTH,
}
BORE: Data = {
    "part.surface": "bore",
    "part.outline": [{"z": 0, "d": 30}, {"z": -30, "d": 20}, {"z": -40, "d": 20}],
    "part.curve": [0, -30],
    "stock": {"diameter": 50, "hole": 18, "proud": 0.5, "stick_out": 54},
    "limits.slides": BOTH,
    "tool.0": {"name": "boring bar", "nose_radius": 0.8},
}


def _frame(angle: float, shape: Data = CONE, **top: object) -> Frame:
    return Frame(job_from_data(pin({**shape, "slide.top": {"travel": 60, "count": 0.02, "angle": angle, **top}})))


def _only(frame: Frame) -> SlantPass:
    found = passes_by(frame, frame.job.shop.tools, frame.job.part.ridge)
    assert found is not None
    assert len(found) == 1
    return found[0]


def test_a_straight_piece_is_known_by_its_angle() -> None:
    (piece,) = leaning(_frame(ANGLE))
    assert math.degrees(piece.angle) == pytest.approx(ANGLE)
    assert piece.end - piece.begin == pytest.approx(math.hypot(30, 5), abs=1e-3)


@pytest.mark.parametrize(("shape", "angle"), [(CONE, ANGLE), (BORE, -ANGLE)])
def test_the_nose_goes_parallel_to_the_cone_as_near_as_the_figures_allow(shape: Data, angle: float) -> None:
    frame = _frame(angle, shape)
    found, nose = _only(frame), frame.job.shop.tools[0].nose_radius
    rise = (found.end.y - found.start.y) / (found.start.x - found.end.x)
    assert rise == pytest.approx(math.tan(math.radians(ANGLE)))  # a bore turned over rises as the cone does outside
    assert found.length / 0.02 == pytest.approx(round(found.length / 0.02), abs=1e-6)
    foot = frame.outline.start
    lean = math.radians(ANGLE)
    square = (found.start.x - foot.x) * math.sin(lean) + (found.start.y - foot.y) * math.cos(lean)
    assert nose - 1e-6 <= square <= nose + 0.005  # half a count of the cross slide
    assert found.leaves == pytest.approx(square - nose, abs=1e-6)


def test_it_enters_and_leaves_clear_of_what_roughing_leaves() -> None:
    found = _only(_frame(ANGLE))
    assert (found.entry, found.exit) == (True, True)
    nose, lean = 3.0, math.radians(ANGLE)
    assert found.start.x > nose * math.sin(lean)  # before the nose touches the thin end
    # Behind the cone the way climbs over the cylinder: its allowance of 0.2 is left where the nose stands 0.2 over it.
    clear = (0.2 + nose - nose * math.cos(lean)) / math.tan(lean)
    assert found.end.x < -30 + nose * math.sin(lean) - clear + nose * math.tan(lean / 2)


def test_an_angle_a_little_off_is_used_as_long_as_the_ridge_allows() -> None:
    """Over 30.41 mm an angle that is 0.05° off is off by 0.0265 mm at one end."""
    error = math.hypot(30, 5) * math.sin(math.radians(0.05))
    found = _only(_frame(ANGLE + 0.05))
    assert error - 0.002 <= found.leaves <= error + 0.005
    (fault,) = slant_faults(_frame(ANGLE + 0.1), _frame(ANGLE).job.shop.tools)
    assert (fault.where, fault.limit) == ("slide.top.angle", f"{ANGLE:.4g}")


def test_no_plan_where_no_piece_leans_so() -> None:
    for angle in (ANGLE + 1, -ANGLE):  # the other way: the larger end away from the chuck
        with pytest.raises(CannotPlan) as refused:
            make_plan(_frame(angle).job)
        (fault,) = refused.value.faults
        assert fault.where == "slide.top.angle"
        assert f"{ANGLE:.4g}" in fault.limit
        assert fault.remedy
    dome = Frame(job_from_data(pin({"limits.slides": BOTH, "slide.top": {"travel": 60, "angle": 5}})))
    (fault,) = slant_faults(dome, dome.job.shop.tools)
    assert fault.limit == "0"


def test_several_angles_are_all_named() -> None:
    outline = [{"z": 0, "d": 10}, {"z": -10, "d": 12}, {"z": -20, "d": 20}, {"z": -30, "d": 20}]
    frame = _frame(20, {**CONE, "part.outline": outline, "part.curve": [0, -20]})
    (fault,) = slant_faults(frame, frame.job.shop.tools)
    one, other = (math.degrees(math.atan2(rise, 10)) for rise in (1, 4))
    assert fault.limit == f"one of {one:.4g}, {other:.4g}"


def test_a_taper_longer_than_the_travel_is_refused() -> None:
    frame = _frame(ANGLE, travel=30)
    (fault,) = slant_faults(frame, frame.job.shop.tools)
    assert (fault.where, fault.limit) == ("slide.top.travel", f"at least {math.hypot(30, 5):.4g} mm")
    found = _only(_frame(ANGLE, travel=31))
    assert found.length <= 31 + 1e-9


def test_what_a_pass_covers_reaches_as_far_as_the_nose_leaves_the_ridge() -> None:
    """On a cylinder behind a cone the parallel at the ridge leaves the nose where the way has climbed by as much."""
    frame = _frame(ANGLE, {**CONE, "part.curve": [0, -38]})
    found, ridge, lean = _only(frame), 0.05, math.radians(ANGLE)
    low, high = found.covers(frame, ridge)
    assert low == pytest.approx(frame.stretch[0])
    x, _ = frame.chain.points(np.array([high]))
    # The lower edge of what is swept: a line parallel to the cone, `leaves` above it.
    climbed = (ridge - found.leaves / math.cos(lean)) / math.tan(lean)
    assert x[0] == pytest.approx(-30 - climbed, abs=1e-3)
    ((begin, end),) = left_to_step(frame, [found], ridge)
    assert begin == pytest.approx(high)
    assert end == frame.stretch[1]


def test_without_a_top_slide_at_an_angle_all_is_left_to_settings() -> None:
    frame = Frame(job_from_data(pin(CONE | {"limits.slides": ["saddle", "cross"]})))
    assert cones(frame) == []
    assert passes_by(frame, frame.job.shop.tools, 0.05) == []
    assert left_to_step(frame, [], 0.05) == [frame.stretch]
    assert pass_along(frame, frame.job.shop.tools[0], leaning(frame)[0]) is None


def test_a_tool_that_does_not_get_along_is_none_for_it() -> None:
    """A knife of 35° whose trailing edge rises at 52°: a cone that falls by 60° toward the chuck is beyond it."""
    outline = [{"z": 0, "d": 40}, {"z": -5, "d": 40 - 10 * math.tan(math.radians(60))}, {"z": -20, "d": 22.6795}]
    shape = {**CONE, "part.outline": outline, "part.curve": [0, -5], "stock.diameter": 42}
    knife = {"name": "knife", "nose_radius": 0.4, "edge_angle": 93, "point_angle": 35}
    frame = _frame(-60, {**shape, "tool.0": knife})
    (fault,) = slant_faults(frame, frame.job.shop.tools)
    assert (fault.where, fault.value) == ("tool", "knife")
