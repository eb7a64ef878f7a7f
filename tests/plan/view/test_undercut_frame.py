"""A bay seen from its mouth: the turn and back, where the nose comes down, what it may touch."""

import math
from typing import Any

import numpy as np
import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.view.frame import Frame
from ovolo.plan.view.undercut_frame import SideView, side_tool, side_views
from ovolo.shop.tools import Tool

LEAN = math.radians(20)
LEFT = Tool("left", "pointed", 0.4, "left", math.pi / 2 + LEAN, math.radians(35))
RIGHT = Tool("right", "pointed", 0.4, "right", math.pi / 2 + LEAN, math.radians(35))

# The wall leans by atan(1/4), 14°; a sharp foot stands at z = -5, Ø 12.
HOLLOW_BACK: list[dict[str, Any]] = [{"z": 0, "d": 20}, {"z": -6, "d": 20}, {"z": -5, "d": 12}, {"z": -24, "d": 12}]
RELIEF: list[dict[str, Any]] = [
    {"z": 0, "d": 12},
    {"z": -20, "d": 12},
    {"z": -19, "d": 18},
    {"z": -19, "d": 24},
    {"z": -25, "d": 24},
]
DISH: list[dict[str, Any]] = [{"z": -1, "d": 0}, {"z": 0, "d": 12, "concave": 18.5}, {"z": -12, "d": 12}]


def _view(outline: list[dict[str, Any]], curve: tuple[float, float], **changes: Any) -> SideView:
    job = {"part.outline": outline, "part.curve": list(curve), "stock.diameter": 26, "stock.stick_out": 60, **changes}
    (view,) = side_views(Frame(job_from_data(pin(job))))
    return view


BACK, SHOULDER, DISHED = _view(HOLLOW_BACK, (0, -10)), _view(RELIEF, (-10, -22)), _view(DISH, (0, -10))


@pytest.mark.parametrize("view", [BACK, SHOULDER, DISHED])
def test_a_place_turned_and_back_again(view: SideView) -> None:
    assert view.back_from(view.turned(Point(-3.0, 5.0))) == Point(-3.0, 5.0)
    u = np.linspace(0, view.chain.length, 200)
    x, y = view.whole.chain.points(u)
    tx, ty = view.chain.points(u)
    assert np.allclose([view.turned(Point(a, b)) for a, b in zip(x, y, strict=True)], np.c_[tx, ty])


@pytest.mark.parametrize(("tool", "way"), [(LEFT, -1), (RIGHT, 1)])
def test_a_knife_works_on_the_side_that_its_edge_leans_from(tool: Tool, way: int) -> None:
    toward, away = side_tool(tool, 1 if way > 0 else -1), side_tool(tool, -1 if way > 0 else 1)
    assert toward is not None
    assert away is None
    left, right = toward.edges
    assert 0 < right < left < math.pi
    assert min(right, math.pi - left) == pytest.approx(LEAN)
    assert toward.real == tool


@pytest.mark.parametrize("kind", ["round", "grooving"])
def test_flanks_square_to_the_axis_reach_into_no_bay(kind: Any) -> None:
    tool = Tool("blade", kind, 0.4, width=3.0 if kind == "grooving" else None)
    assert side_tool(tool, 1) is None
    assert side_tool(tool, -1) is None


def test_an_edge_square_to_the_face_reaches_into_none() -> None:
    assert side_tool(Tool("square", "pointed", 0.4, "right", math.pi / 2), 1) is None


def test_the_nose_comes_down_beside_the_lip_to_the_floor() -> None:
    """Its flank clears the lip at z = -6 by touching it, and its nose rests on the neck of Ø 12."""
    tool = side_tool(LEFT, -1)
    assert tool is not None
    mouth = BACK.mouth(tool)
    assert mouth is not None
    assert mouth.x == pytest.approx(-6.4, abs=BACK.job.shop.fine.step)
    assert mouth.lowest == pytest.approx(6.4, abs=BACK.job.shop.cross.step)


def test_a_groove_too_narrow_for_the_knife_has_no_mouth() -> None:
    """The trailing edge leans 55° from the radius: down to 4 mm deep it needs 5.7 mm, and there are 3."""
    narrow = [*HOLLOW_BACK[:3], {"z": -9, "d": 12}, {"z": -9, "d": 20}, {"z": -24, "d": 20}]
    view = _view(narrow, (0, -8))
    tool = side_tool(LEFT, -1)
    assert tool is not None
    mouth = view.mouth(tool)
    assert mouth is None or mouth.lowest > 7.0


def test_the_contact_line_follows_the_leaning_wall() -> None:
    """Over the wall's middle the nose centre stands its radius away, square to it."""
    tool = side_tool(LEFT, -1)
    assert tool is not None
    wall = math.hypot(1, 4)
    centre = Point(-5.5 - 0.4 * 4 / wall, 8 - 0.4 * 1 / wall)
    x = BACK.turned(centre).x + np.linspace(-0.01, 0.01, 5)
    assert BACK.height(x, tool)[2] == pytest.approx(BACK.turned(centre).y, abs=1e-9)


def test_a_dish_may_be_cut_to_the_axis_and_no_farther() -> None:
    tool = side_tool(RIGHT, 1)
    assert tool is not None
    assert DISHED.on_axis
    at = DISHED.axis_settings(tool, np.array([0.0, -0.01, 0.01]), np.zeros(3))
    assert list(at) == [True, False, False]
    low, high = DISHED.height(np.array([-1e-3, 0.01]), tool)
    assert high > low + 1  # past the axis the mouth lets it go nowhere


def test_a_tool_is_brought_only_behind_its_mouth() -> None:
    tool = side_tool(LEFT, -1)
    assert tool is not None
    low, high = BACK.reachable(tool)
    x, _ = BACK.whole.chain.points(np.array([high]))
    assert low == BACK.bay.begin
    assert x[0] == pytest.approx(-6.4, abs=0.02)


def test_a_dial_is_given_room_to_be_wound_past_in_the_mouth() -> None:
    dial = {"per_turn": 2.5, "divisions": 125, "count": 0.02, "backlash": 0.2}
    view, tool = _view(HOLLOW_BACK, (0, -10), **{"slide.saddle": dial}), side_tool(LEFT, -1)
    assert tool is not None
    mouth = view.mouth(tool)
    assert mouth is not None
    assert mouth.room >= 0.2
    line = view.whole.contact_line(LEFT)
    assert line.highest(mouth.x, mouth.x - mouth.room) <= mouth.lowest + 1e-6


def test_nowhere_lower_than_the_mouth() -> None:
    tool = side_tool(LEFT, -1)
    assert tool is not None
    assert BACK.admits(tool, 6.5)
    assert not BACK.admits(tool, 6.3)


def test_only_bays_that_the_curve_holds_are_looked_at() -> None:
    job = {"part.outline": HOLLOW_BACK, "part.curve": [-10, -14], "stock.diameter": 26, "stock.stick_out": 60}
    assert side_views(Frame(job_from_data(pin(job)))) == ()


def test_round_figures_are_those_of_the_slide_that_goes_that_way() -> None:
    """Along the radius tenths of the diameter, along the axis tenths: whichever way the bay is turned."""
    for view in (BACK, SHOULDER):
        tool = side_tool(LEFT if view.bay.way < 0 else RIGHT, view.bay.way)
        assert tool is not None
        assert (view.round_lattice(tool).dx, view.round_lattice(tool).dy) == pytest.approx((0.05, 0.1))
