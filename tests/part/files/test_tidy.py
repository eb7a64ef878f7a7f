"""Doubles and overlaps dropped, tees split, crossings of the axis cut."""

import math
import random

import pytest

from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files.tidy import split_at_axis, split_where_others_end, without_doubles


def _length(segments: list[Segment]) -> float:
    return sum(s.length for s in segments)


@pytest.mark.parametrize(
    ("spans", "length"),
    [
        ([(0, 10), (0, 10)], 10),
        ([(0, 10), (10, 0)], 10),
        ([(0, 10), (2, 5)], 10),
        ([(0, 10), (8, 15)], 15),
        ([(0, 10), (10, 15)], 15),
        ([(0, 4), (6, 10), (3, 7)], 10),
    ],
)
@pytest.mark.parametrize("angle", [0, 30, 90, 135, 270])
def test_lines_that_lie_on_each_other(spans: list[tuple[float, float]], length: float, angle: float) -> None:
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    lines = [Line(Point(3 + a * c, 4 + a * s), Point(3 + b * c, 4 + b * s)) for a, b in spans]
    assert _length(without_doubles(lines)[0]) == pytest.approx(length)


def test_lines_that_only_touch_stay_two() -> None:
    kept, dropped = without_doubles([Line(Point(0, 9), Point(-5, 9)), Line(Point(-5, 9), Point(-9, 9))])
    assert (len(kept), dropped) == (2, 0)


def _arc(low: float, high: float, ccw: bool = True) -> Arc:
    a, b = (Point(9 * math.cos(math.radians(t)), 9 * math.sin(math.radians(t))) for t in (low, high))
    return Arc(a, b, Point(0, 0), True) if ccw else Arc(b, a, Point(0, 0), False)


@pytest.mark.parametrize(
    ("arcs", "degrees"),
    [
        ([_arc(0, 90), _arc(0, 90)], 90),
        ([_arc(0, 90), _arc(0, 90, False)], 90),
        ([_arc(0, 90), _arc(20, 50)], 90),
        ([_arc(0, 90), _arc(60, 170)], 170),
        ([_arc(300, 20), _arc(350, 60)], 120),
        ([_arc(0, 200), _arc(180, 20)], 360),
        ([_arc(0, 180), _arc(180, 0)], 360),
    ],
)
def test_arcs_that_lie_on_each_other(arcs: list[Arc], degrees: float) -> None:
    kept, _ = without_doubles(arcs)
    assert _length(kept) == pytest.approx(math.radians(degrees) * 9)
    assert all(math.dist(s.start, s.end) > 1 for s in kept)


def test_many_doubles_of_many_lines() -> None:
    chance = random.Random(1)
    lines = [Line(Point(chance.uniform(0, 90), chance.uniform(0, 90)), Point(-k, k)) for k in range(400)]
    kept, dropped = without_doubles(lines + [s.reversed() for s in lines])
    assert len(kept) == dropped == 400


def test_a_tee_becomes_a_joint() -> None:
    flange = Line(Point(0, 0), Point(0, 20))
    parts = split_where_others_end([flange, Line(Point(0, 8), Point(-9, 8))], 0.01)
    assert sorted(s.length for s in parts) == pytest.approx([8, 9, 12])


def test_an_arc_is_split_too_and_stays_on_its_circle() -> None:
    parts = split_where_others_end([_arc(0, 180), Line(Point(0, 9), Point(0, 20))], 0.01)
    arcs = [s for s in parts if isinstance(s, Arc)]
    assert [s.length for s in arcs] == pytest.approx([9 * math.pi / 2] * 2)


def test_pieces_are_cut_where_they_cross_the_axis() -> None:
    assert [s.length for s in split_at_axis(Line(Point(0, -3), Point(0, 6)))] == pytest.approx([3, 6])
    halves = split_at_axis(_arc(270, 90))
    assert len(halves) == 2
    assert halves[0].end == pytest.approx((9, 0))
    assert split_at_axis(_arc(0, 90)) == [_arc(0, 90)]
