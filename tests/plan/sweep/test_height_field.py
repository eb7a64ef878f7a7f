"""The quick picture of the metal, against the shape of the tool and brute force."""

import math

import numpy as np
import pytest
import shapely

from ovolo.geometry.segments import Line, Point
from ovolo.plan.sweep.height_field import Chip, Metal, lowest_possible, under_way
from ovolo.plan.sweep.sweep import tool_shape
from ovolo.shop.form_tools import form_tool
from ovolo.shop.tools import Tool

ROUND = Tool("round nose", "round", 1.0)
KNIFE = Tool("knife", "pointed", 0.4)
LEFT = Tool("left-hand knife", "pointed", 0.4, "left")
CHAMFER = form_tool("chamfer", [Line(Point(0, 2), Point(2, 0)), Line(Point(2, 0), Point(5, 0))])
X = np.linspace(-20, 5, 2501)


@pytest.mark.parametrize("tool", [ROUND, KNIFE, LEFT, CHAMFER], ids=lambda t: t.name)
def test_the_underside_is_that_of_the_swept_shape(tool: Tool) -> None:
    shape = shapely.Polygon(tool_shape(tool))
    dx = np.linspace(-0.9 * tool.nose_radius, 12, 60) if tool is not LEFT else np.linspace(-12, 0.36, 60)
    under = tool.edge.over(dx)
    for x, y in zip(dx, under, strict=True):
        column = shapely.intersection(shape, shapely.LineString([(x, -5), (x, 100)]))
        if column.is_empty:
            assert y == math.inf
        else:
            assert y == pytest.approx(column.bounds[1], abs=2e-3)


def _bar() -> Metal:
    return Metal(X, np.where(X <= 0, 10.0, -10.0), ROUND)


def test_a_pass_takes_its_depth_and_no_more() -> None:
    chip = _bar().try_level(10.0, 3.0, -5.0)
    # 1 mm deep over 6 mm (the nose reaches 1 mm past its centre, a quarter round short of square there).
    assert chip.tall == pytest.approx(1.0, abs=1e-6)
    assert chip.area == pytest.approx(5 + math.pi / 4, abs=0.02)


def test_a_plunge_is_as_wide_as_the_nose_is_deep_in() -> None:
    chip = _bar().try_plunge(-8.0, 10.4)
    assert chip.wide == pytest.approx(2 * math.sqrt(1 - 0.4**2), abs=0.03)
    assert chip.area == pytest.approx(math.acos(0.4) - 0.4 * math.sqrt(1 - 0.16), abs=0.01)


def test_trying_takes_nothing_and_cutting_does() -> None:
    metal = _bar()
    before = metal.try_level(10.0, 3.0, -5.0)
    assert metal.try_level(10.0, 3.0, -5.0) == before
    metal.cut_level(10.0, 3.0, -5.0)
    assert metal.try_level(10.0, 3.0, -5.0) == Chip(0.0, 0.0, 0.0)
    metal.cut_plunge(-12.0, 10.4)
    assert metal.try_plunge(-12.0, 10.4).area == 0


def test_two_heaps_are_two_pieces() -> None:
    """The extent is that of the larger one, not of both together."""
    metal = _bar()
    metal.cut_level(9.0, -6.0, -10.0)
    chip = metal.try_level(10.0, 3.0, -15.0)
    assert chip.wide < 7
    assert metal.with_tool(KNIFE).try_level(9.4, 3.0, -15.0).wide < 7


@pytest.mark.parametrize("tool", [ROUND, Tool("fine", "round", 0.3)], ids=lambda t: t.name)
def test_the_lowest_possible_is_the_lowest_of_all_undersides(tool: Tool) -> None:
    x = np.linspace(-4, 4, 401)
    allowed = 3 + np.sin(2 * x) + np.abs(x) / 2
    fast = lowest_possible(x, allowed, tool)
    slow = np.array([(allowed + tool.edge.over(at - x)).min() for at in x])
    inner = slice(120, -120)
    assert fast[inner] == pytest.approx(slow[inner], abs=1e-9)
    assert (fast >= slow - 1e-9).all()


def test_a_form_tool_taken_along_clears_down_to_its_lowest_place() -> None:
    """Wherever that lies: here it is a flat to the right of the nose centre, under which 1 mm goes."""
    lowest = -CHAMFER.nose_radius
    bar = _bar().with_tool(CHAMFER)
    bar.cut_level(9.0 - lowest, 8.0, -10.0)
    cleared = (-9.9 + CHAMFER.lowest[0] < X) & (X < 0)
    assert bar.height[cleared] == pytest.approx(9.0, abs=1e-3)


def test_what_a_pass_takes_is_gone_after_it() -> None:
    """Half a millimetre off ten, from one side: that and no more, and nothing the second time."""
    x = np.linspace(-10, 10, 2001)
    metal = Metal(x, np.where(x < 0, 5.0, 0.0), ROUND)
    assert metal.take_level(5.5, 3.0, -12.0) == pytest.approx(10 * 0.5, rel=0.02)
    assert metal.height[x < -1].max() == pytest.approx(4.5)
    assert metal.take_level(5.5, 3.0, -12.0) == 0


@pytest.mark.parametrize("degrees", [-60, -20, 10, 45])
def test_a_round_nose_on_a_slope_leaves_a_straight_line_one_radius_below(degrees: float) -> None:
    nose, lean = Tool("nose", "round", 2.0), math.radians(degrees)
    start, end = Point(10.0, 5.0), Point(-10.0, 5.0 + 20 * math.tan(lean))
    x = np.linspace(-6, 6, 25)
    low = under_way(nose, x, start, end)
    assert low == pytest.approx(5.0 + (10 - x) * math.tan(lean) - 2.0 / math.cos(lean), abs=1e-5)
    assert under_way(nose, np.array([12.1, -12.1]), start, end).min() == math.inf


def test_level_and_upright_ways_are_those_of_a_single_slide() -> None:
    nose, x = Tool("nose", "round", 2.0), np.array([-1.0, 0.0, 1.0])
    assert under_way(nose, x, Point(5, 3), Point(-5, 3)) == pytest.approx([1, 1, 1])
    assert under_way(nose, x, Point(0, 9), Point(0, 3)) == pytest.approx(3 - np.sqrt(4 - x**2))
