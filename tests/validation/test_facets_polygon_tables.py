"""Facets against regular polygons: areas in and about the unit circle, an old geometry textbook, p. 122 (seen).

A quarter round between a face and a cylinder, with n facets, is a quarter of a polygon with 4 (n + 1) sides.
"""

import math
from itertools import pairwise

import pytest

from ovolo.cutting.facets import facet_corners, facet_error

ROWS = [
    (8, 2.8284271, 3.3137085),
    (16, 3.0614674, 3.1825979),
    (32, 3.1214451, 3.1517249),
    (64, 3.1365485, 3.1441184),
    (128, 3.1403311, 3.1422236),
]


def _area(corners: list[tuple[float, float]]) -> float:
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairwise([*corners, corners[0]])) / 2


@pytest.mark.parametrize(("sides", "inside", "about"), ROWS)
def test_tangent_facets_make_the_polygon_about_the_circle(sides: int, inside: float, about: float) -> None:
    corners = facet_corners(1, math.pi / 2, sides // 4 - 1)
    assert 4 * _area([(0, 0), (1, 0), *corners, (0, 1)]) == pytest.approx(about, abs=1e-7)


@pytest.mark.parametrize(("sides", "inside", "about"), ROWS)
def test_chord_facets_make_the_polygon_in_the_circle(sides: int, inside: float, about: float) -> None:
    corners = facet_corners(1, math.pi / 2, sides // 4, convex=False)
    assert 4 * _area([(0, 0), *corners]) == pytest.approx(inside, abs=1e-7)


@pytest.mark.parametrize(("sides", "ratio"), [(12, 1.0353), (64, 1.0012)])
def test_corner_radius_over_flat_radius(sides: int, ratio: float) -> None:
    """R/r of Machinery's Handbook, 31st ed., p. 82 (seen)."""
    assert 1 + facet_error(1, math.pi / 2, sides // 4 - 1) == pytest.approx(ratio, abs=5e-5)
