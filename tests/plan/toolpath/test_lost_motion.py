"""Lost motion: how far a slide can be pushed, which cuts push it, and what takes it up."""

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.planner import make_plan
from ovolo.plan.steps import Step
from ovolo.plan.sweep.sweep import sweep, tool_shape
from ovolo.plan.toolpath.lost_motion import Play, push, taken_up
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

DIALS = {
    "cross": {"reads": "radius", "count": 0.02, "per_turn": 2.0, "divisions": 100, "backlash": 0.2},
    "saddle": {"count": 0.05, "per_turn": 20.0, "divisions": 400, "backlash": 0.5},
}
FRAME = Frame(job_from_data(pin({"slide": DIALS})))
NOSE = FRAME.job.shop.tools[0]


def test_less_than_the_backlash_back_leaves_a_slide_open_on_both_sides() -> None:
    """Inward by more than the backlash, then outward by less: the last direction alone would call it closed."""
    play = Play(0.0, 0.2, 0.2).moved(-1.0).moved(0.05)
    assert play.open_to(-1.0) == pytest.approx(0.15)
    assert play.open_to(1.0) == pytest.approx(0.05)
    assert play.moved(0.3).open_to(-1.0) == 0.0


def test_at_first_nothing_is_certain() -> None:
    play = Play(0.0, 0.2, 0.2)
    assert play.open_to(1.0) == play.open_to(-1.0) == 0.0


def _chip(tool: Tool, start: Point, end: Point, metal: BaseGeometry) -> BaseGeometry:
    hulls = [shapely.polygons(tool_shape(tool) + np.array(p)) for p in (start, end)]
    return shapely.intersection(shapely.convex_hull(shapely.union_all(hulls)), metal)


def test_a_round_nose_is_pushed_away_from_what_it_turns() -> None:
    """A shallow pass lies under the nose: it is pushed outward, and more so than by a deep one at its side."""
    bar, push_by = shapely.box(-50, 0, 0, 10), []
    for depth in (0.1, 2.0):
        start, end = Point(5.0, 10 + 3 - depth), Point(-20.0, 10 + 3 - depth)
        push_by.append(push(tool_shape(NOSE), start, end, _chip(NOSE, start, end, bar)))
    assert push_by[0] > 0.9
    assert 0 < push_by[1] < push_by[0]


def test_a_plunge_beside_a_face_pushes_the_saddle_away_from_it() -> None:
    start, end = Point(-7.2, 15.0), Point(-7.2, 6.0)
    face = shapely.box(-50, 0, -10, 10)
    assert push(tool_shape(NOSE), start, end, _chip(NOSE, start, end, face)) > 0.2


def _steps(*places: tuple[str, float, float]) -> list[Step]:
    out, at = [], Point(5.0, 14.0)
    for slide, x, y in places:
        out.append(Step("rough", NOSE, slide, at, Point(x, y)))  # type: ignore[arg-type]
        at = Point(x, y)
    return out


def test_a_cut_that_pushes_a_slide_through_open_motion_has_it_taken_up_first() -> None:
    """The cross slide came out by a millimetre, so nothing holds it against a push outward."""
    steps = _steps(("cross", 5.0, 11.5), ("cross", 5.0, 12.5), ("saddle", -10.0, 12.5))
    found = taken_up(FRAME, steps, sweep(FRAME, steps))
    past, back = found[2:4]
    assert (past.slide, back.slide) == ("cross", "cross")
    assert past.end.y - 12.5 >= 0.2
    assert back.end == Point(5.0, 12.5)
    assert [s for s in found if s not in (past, back)] == steps


def test_a_slide_brought_in_far_enough_needs_nothing() -> None:
    steps = _steps(("cross", 5.0, 12.5), ("saddle", -10.0, 12.5))
    assert taken_up(FRAME, steps, sweep(FRAME, steps)) == steps


def test_on_readouts_nothing_is_taken_up() -> None:
    frame = Frame(job_from_data(pin()))
    steps = _steps(("cross", 5.0, 11.5), ("cross", 5.0, 12.5), ("saddle", -10.0, 12.5))
    assert taken_up(frame, steps, sweep(frame, steps)) == steps


def test_a_ball_past_its_crest_is_pushed_through_no_open_motion() -> None:
    """Past the crest the nose climbs down on the saddle, and before each pass the cross slide had come out."""
    ball = {
        "part.outline": [
            {"z": 0, "d": 0},
            {"z": -12.7, "d": 25.4, "convex": 12.7},
            {"z": -19.05, "d": 22.0015, "convex": 12.7},
            {"z": -27.94, "d": 22.0015},
        ],
        "part.curve": [0, -19.05],
        "part.material": "brass",
        "stock": {"diameter": 26.99, "proud": 0.5, "stick_out": 51},
        "tool.0.nose_radius": 2.381,
        "finish": {"ridge": 0.15, "allowance": 0.25},
        "limits": {"bite": 1.27},
        "slide": DIALS,
    }
    plan = make_plan(job_from_data(pin(ball)))
    frame, tool = plan.frame, plan.tools[0]
    steps = [Step(m.stage, tool, m.slide, m.start, m.end) for m in plan.moves]
    assert taken_up(frame, steps, sweep(frame, steps)) == steps
