"""Tracks of many moves at once, against the hull that shapely finds for each of them alone."""

import itertools
import math

import numpy as np
import pytest
import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.sweep.sweep import tool_shape
from ovolo.plan.sweep.swept_hulls import Tracks
from ovolo.shop.tools import Tool

KNIFE = tool_shape(Tool("knife", "pointed", 0.4))
BLADE = tool_shape(Tool("blade", "grooving", 0.2, width=3.0))
ROUND = tool_shape(Tool("round nose", "round", 3.0))
SHAPES = [KNIFE, BLADE, ROUND]
WAYS = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (0.6, -0.8), (0.0, 0.0)]


def _alone(shape: np.ndarray, start: Point, end: Point) -> shapely.Geometry:
    return shapely.MultiPoint(np.vstack([shape + np.array(start), shape + np.array(end)])).convex_hull


def _moves() -> tuple[list[np.ndarray], list[tuple[Point, Point]]]:
    dice = np.random.default_rng(5)
    shapes, moves = [], []
    for n in range(60):
        x, y, way = *dice.uniform(5, 9, 2), 3.0 * dice.uniform(0.01, 1)
        start = Point(x, y)
        ahead = WAYS[n % len(WAYS)]
        shapes.append(SHAPES[n % 3 if n % 2 else (n // 2) % 3])
        moves.append((start, Point(x + way * ahead[0], y + way * ahead[1])))
    return shapes, moves


def test_each_track_is_the_hull_of_the_shape_at_both_ends() -> None:
    shapes, moves = _moves()
    tracks = Tracks(shapes, moves, mirrored=False)
    for track, shape, move in zip(tracks.regions, shapes, moves, strict=True):
        alone = _alone(shape, *move)
        assert shapely.is_valid(track)
        assert shapely.area(shapely.symmetric_difference(track, alone)) < 1e-9 * shapely.area(alone)


def test_corners_that_all_but_coincide_make_no_spike() -> None:
    square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1e-16], [1.0, 1.0], [0.0, 1.0]])
    (track,) = Tracks([square], [(Point(0.0, 0.0), Point(0.0, 2.0))], mirrored=False).regions
    assert shapely.is_valid(track)
    assert shapely.area(track) == pytest.approx(3.0)


def test_what_lies_beyond_the_axis_is_taken_on_this_side_too() -> None:
    square = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    here = (Point(0.0, 0.5), Point(0.0, 0.5))
    (turned,) = Tracks([square], [here], mirrored=True).regions
    (plain,) = Tracks([square], [here], mirrored=False).regions
    assert shapely.bounds(plain).tolist() == [-1.0, -0.5, 1.0, 1.5]
    assert shapely.area(turned) == pytest.approx(4.0)  # the image of half a millimetre lies in what is there already
    (low,) = Tracks([square], [(Point(0.0, -0.5), Point(0.0, -0.5))], mirrored=True).regions
    assert shapely.bounds(low).tolist() == [-1.0, -1.5, 1.0, 1.5]


def test_nothing_of_a_track_lies_lower_than_is_said() -> None:
    shapes, moves = _moves()
    tracks = Tracks(shapes, moves, mirrored=True)
    edges = np.linspace(-2.0, 16.0, 37)
    lowest = tracks.lowest(edges)
    boxes = [shapely.box(a, -50.0, b, 50.0) for a, b in itertools.pairwise(edges)]
    one_slide = np.any(tracks.starts == tracks.ends, axis=1)
    for track, row, exact in zip(tracks.regions, lowest, one_slide & ~tracks.turned, strict=True):
        least = shapely.bounds(shapely.intersection(track, boxes))[:, 1]
        for said, true in zip(row, least, strict=True):
            assert math.isnan(true) or said <= true
            assert math.isnan(true) or not exact or said == pytest.approx(true, abs=1e-6)


def test_no_moves_have_no_tracks() -> None:
    tracks = Tracks([], [], mirrored=True)
    assert tracks.lowest(np.array([0.0, 1.0, 2.0])).shape == (0, 2)
