"""The bite of a move: the widest that its edge takes at once, the last tenth of its cutting way aside."""

import math

import numpy as np
import pytest
import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.sweep.bite import Way, engaged, extents
from ovolo.plan.sweep.sweep import tool_shape
from ovolo.shop.tools import Tool

ROUND, KNIFE = Tool("round", "round", 1.0), Tool("knife", "pointed", 0.2)


def _chip(tool: Tool, start: Point, end: Point, metal: shapely.Geometry) -> tuple[Way, shapely.Geometry]:
    shape = tool_shape(tool)
    ends = [shapely.Polygon(shape + np.array(p)) for p in (start, end)]
    return Way(shape, start, end), shapely.intersection(shapely.union_all(ends).convex_hull, metal)


def test_a_pass_along_a_bar_takes_its_depth_all_the_way() -> None:
    way, chip = _chip(ROUND, Point(5, 10.5), Point(-10, 10.5), shapely.box(-30, 0, 0, 10))
    assert engaged(way, chip, along_axis=False) == pytest.approx(0.5, abs=1e-3)
    assert extents(np.array([chip]), np.array([False]))[0] == pytest.approx(0.5, abs=1e-3)


def test_a_plunge_is_as_wide_as_the_nose_where_it_counts() -> None:
    """A round nose R 1, 0.2 deep in a flat: half its chord is √(1 - 0.8²) = 0.6."""
    way, chip = _chip(ROUND, Point(-10, 12), Point(-10, 10.8), shapely.box(-30, 0, 0, 10))
    whole, most = extents(np.array([chip]), np.array([True]))[0], engaged(way, chip, along_axis=True)
    assert whole == pytest.approx(1.2, abs=0.05)
    assert 2 * math.sqrt(1 - 0.83**2) < most <= 1.2


def test_a_fillet_left_at_a_common_stop_is_no_part_of_the_bite() -> None:
    """A pass of 1 mm to a step whose corner the last cut left round: it takes more only at its end."""
    corner = shapely.difference(shapely.box(-10, 10, -9.5, 10.5), shapely.Point(-9.5, 10.5).buffer(0.5))
    metal = shapely.union(shapely.box(-12, 0, 0, 10), corner)
    way, chip = _chip(KNIFE, Point(2, 9.2), Point(-9.8, 9.2), metal)
    assert extents(np.array([chip]), np.array([False]))[0] > 1.1
    assert engaged(way, chip, along_axis=False) == pytest.approx(1.0, abs=0.02)


def test_a_flank_that_shaves_a_face_over_its_height_takes_all_of_it_at_once() -> None:
    metal = shapely.box(-12, 0, -10, 8)
    way, chip = _chip(ROUND, Point(-8, 3), Point(-9.2, 3), metal)
    assert engaged(way, chip, along_axis=False) > 5.0


def test_what_touches_nothing_takes_nothing() -> None:
    way, chip = _chip(ROUND, Point(5, 12), Point(-5, 12), shapely.box(-30, 0, 0, 10))
    assert engaged(way, chip, along_axis=False) == 0.0
