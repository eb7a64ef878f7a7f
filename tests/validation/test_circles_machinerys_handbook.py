"""Circles, segments and polygons: Machinery's Handbook, 31st ed., pp. 50, 78, 79, 82, 83 (seen); segment areas from an
old handbook table "Segments of a circle" (seen for .289 to .484, from memory for the rest).

Measured on the arcs that every outline is made of and on what they are flattened to. Books carry rounded values: where
the exact one differs in the last figure, the tolerance says so.
"""

import math

import pytest
import shapely

from ovolo.geometry.segments import Arc, Point


def _arc(chord: float, radius: float, *, long: bool = False) -> Arc:
    return Arc.from_radius(Point(0, 0), Point(-chord, 0), radius, ccw=True, long=long)


def _height(arc: Arc) -> float:
    return arc.point(arc.length / 2).y


def _segment_area(arc: Arc) -> float:
    return float(shapely.Polygon(arc.flattened(1e-9)).area)


def test_chord_from_radius_and_height() -> None:
    """P. 79: r 60, h 8: c = 59.86 (the book rounds its half to 29.93; exact 59.8665)."""
    arc = Arc.through(Point(0, 0), Point(-59.8665 / 2, 8), Point(-59.8665, 0))
    assert arc.radius == pytest.approx(60, abs=1e-3)
    assert math.dist(arc.start, arc.end) == pytest.approx(59.86, abs=0.02)
    assert _height(_arc(59.8665, 60)) == pytest.approx(8, abs=1e-4)


def test_radius_from_chord_and_height() -> None:
    """P. 79: c 16, h 6: r = 8 1/3."""
    assert Arc.through(Point(0, 0), Point(-8, 6), Point(-16, 0)).radius == pytest.approx(8 + 1 / 3, abs=1e-12)


def test_segment_two_centimetres_deep() -> None:
    """P. 50, examples 3 and 4: R 12, depth 2: chord 13.27, angle 67.13°, arc 14.06, area 18.01 (rounded values).

    The arc is drawn from the printed chord and radius; its depth, angle, length and area are then the outline's own.
    """
    arc = _arc(13.27, 12)
    assert _height(arc) == pytest.approx(2, abs=0.002)
    assert math.degrees(arc.sweep) == pytest.approx(67.13, abs=0.02)
    assert arc.length == pytest.approx(14.06, abs=0.02)
    assert _segment_area(arc) == pytest.approx(18.01, abs=0.02)


@pytest.mark.parametrize(
    ("height", "area"),
    [
        (0.100, 0.040875),
        (0.200, 0.111823),
        (0.250, 0.153546),
        (0.289, 0.188141),
        (0.300, 0.198168),
        (0.350, 0.244980),
        (0.400, 0.293369),
        (0.484, 0.376702),
        (0.500, 0.392699),
    ],
)
def test_areas_of_segments_of_diameter_1(height: float, area: float) -> None:
    chord = 2 * math.sqrt(height * (1 - height))
    assert _segment_area(_arc(chord, 0.5)) == pytest.approx(area, abs=1.5e-6)


@pytest.mark.parametrize(("angle", "radius"), [(20, 3), (75, 60), (170, 8)])
def test_any_two_of_five_give_the_others(angle: float, radius: float) -> None:
    """P. 83, equations (1) to (26): angle, radius, chord, height and arc of one segment, found from different pairs."""
    a = math.radians(angle)
    chord, height, length = 2 * radius * math.sin(a / 2), radius * (1 - math.cos(a / 2)), radius * a
    by_radius = _arc(chord, radius)
    by_height = Arc.through(Point(0, 0), Point(-chord / 2, height), Point(-chord, 0))
    for arc in (by_radius, by_height):
        assert arc.radius == pytest.approx(radius)
        assert arc.sweep == pytest.approx(a)
        assert arc.length == pytest.approx(length)
        assert _height(arc) == pytest.approx(height)


def test_short_arcs() -> None:
    """Building Trades Pocketbook (ICS), mensuration (seen): l = (8e - c) / 3 is 0.23 % low at c 21, h 6."""
    arc = Arc.through(Point(0, 0), Point(-10.5, 6), Point(-21, 0))
    half = math.dist(arc.start, arc.point(arc.length / 2))
    assert (8 * half - 21) / 3 == pytest.approx(25.249, abs=5e-4)
    assert arc.length == pytest.approx(25.308, abs=5e-4)


# P. 82: for n sides, R/S, R/r, r/R of side S, circumscribed R and inscribed r.
ROWS = [(6, 1.0000, 1.1547, 0.8660), (12, 1.9319, 1.0353, None), (64, None, 1.0012, 0.9988)]


@pytest.mark.parametrize(("sides", "over_side", "over_flat", "flat"), ROWS)
def test_a_flattened_circle_is_a_regular_polygon(
    sides: int, over_side: float | None, over_flat: float, flat: float | None
) -> None:
    """A half circle cut into chords: its sagitta is R - r of the polygon with that many sides."""
    sagitta = 1 - math.cos(math.pi / sides)
    points = _arc(2 - 1e-12, 1).flattened(sagitta * (1 + 1e-9))
    assert len(points) == sides // 2 + 1
    side = math.dist(points[1], points[2])
    middle = Point((points[1].x + points[2].x) / 2, (points[1].y + points[2].y) / 2)
    inner = math.dist(middle, (-1, 0))
    assert 1 / inner == pytest.approx(over_flat, abs=5e-5)
    if over_side is not None:
        assert 1 / side == pytest.approx(over_side, abs=5e-5)
    if flat is not None:
        assert inner == pytest.approx(flat, abs=5e-5)


def test_twelve_sides_in_a_circle_of_8() -> None:
    """P. 78: side 4.141, area 191.98 (exact 4.14110 and 192)."""
    points = _arc(16 - 1e-11, 8).flattened(8 * (1 - math.cos(math.pi / 12)) * (1 + 1e-9))
    assert math.dist(points[0], points[1]) == pytest.approx(4.141, abs=0.001)
    assert 2 * shapely.Polygon(points).area == pytest.approx(191.98, abs=0.03)
