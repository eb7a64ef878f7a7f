"""Where lines and circles meet, and the arc that rounds a corner between two segments."""

from __future__ import annotations

import math
from dataclasses import replace

from ovolo.geometry.bisection import bisected
from ovolo.geometry.segments import Arc, Line, Point, Segment


def meetings(a: Segment, b: Segment) -> list[Point]:
    """Where two segments meet when lines run on for ever and arcs go all the way round; at most two places [mm].

    >>> meetings(Line(Point(0, 0), Point(1, 0)), Line(Point(5, 1), Point(5, 2)))
    [Point(x=5.0, y=0.0)]
    """
    if isinstance(a, Line) and isinstance(b, Line):
        return _lines(a, b)
    if isinstance(a, Arc) and isinstance(b, Arc):
        return _circles(a, b)
    return _line_circle(a, b) if isinstance(a, Line) and isinstance(b, Arc) else meetings(b, a)


def foot(segment: Segment, point: Point) -> Point:
    """The nearest point of a segment run on for ever, or all the way round [mm].

    >>> foot(Line(Point(0, 0), Point(1, 0)), Point(3, 4))
    Point(x=3.0, y=0.0)
    """
    if isinstance(segment, Line):
        t = segment.tangent(0)
        along = (point.x - segment.start.x) * t.x + (point.y - segment.start.y) * t.y
        return Point(segment.start.x + along * t.x, segment.start.y + along * t.y)
    c, radius = segment.centre, segment.radius
    k = radius / (math.dist(point, c) or 1.0)
    return Point(c.x + k * (point.x - c.x), c.y + k * (point.y - c.y))


def along(segment: Segment, point: Point) -> float:
    """How far from the start a point on the segment lies, mm; a fall short of the start by rounding counts as 0.

    >>> along(Line(Point(0, 0), Point(-4, 0)), Point(-3, 0))
    3.0
    """
    if isinstance(segment, Line):
        t = segment.tangent(0)
        return (point.x - segment.start.x) * t.x + (point.y - segment.start.y) * t.y
    if math.dist(point, segment.start) < 1e-9:
        return 0.0
    return replace(segment, end=point).length


def turn_between(before: Segment, after: Segment) -> float:
    """The angle by which the second segment turns off the first where they join, radians, more than 0 to the left.

    >>> round(turn_between(Line(Point(0, 0), Point(0, 5)), Line(Point(0, 5), Point(-9, 5))), 6)
    1.570796
    """
    a, b = before.tangent(before.length), after.tangent(0)
    return math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y)


def rounded(before: Segment, after: Segment, radius: float) -> tuple[Segment, Arc, Segment] | None:
    """The corner between two segments rounded by an arc of a radius [mm] tangent to both, which are cut back to it.

    None where an arc of this radius does not fit between their far ends, or where there is no corner.
    """
    turn = turn_between(before, after)
    if abs(turn) < 1e-9:
        return None
    side = -radius if turn > 0 else radius
    try:
        centres = meetings(before.offset(side), after.offset(side))
    except ValueError:
        return None
    corner = before.end
    for centre in sorted(centres, key=lambda c: math.dist(c, corner)):
        one, two = foot(before, centre), foot(after, centre)
        kept_one, kept_two = along(before, one), along(after, two)
        if -1e-9 <= kept_one <= before.length + 1e-9 and -1e-9 <= kept_two <= after.length + 1e-9:
            return replace(before, end=one), Arc(one, two, centre, turn > 0), replace(after, start=two)
    return None


def largest_rounding(before: Segment, after: Segment) -> float:
    """The greatest radius that fits a corner, mm, found by halving to 1e-6; 0 where there is no corner."""
    high = 4 * (before.length + after.length) / max(abs(math.tan(turn_between(before, after) / 2)), 1e-9)
    return bisected(lambda radius: rounded(before, after, radius) is not None, 0.0, high, most=80)[0]


def _lines(a: Line, b: Line) -> list[Point]:
    p, d, q, e = a.start, a.tangent(0), b.start, b.tangent(0)
    det = d.x * e.y - d.y * e.x
    if abs(det) < 1e-12:
        return []
    s = ((q.x - p.x) * e.y - (q.y - p.y) * e.x) / det
    return [Point(p.x + s * d.x, p.y + s * d.y)]


def _line_circle(line: Line, arc: Arc) -> list[Point]:
    near = foot(line, arc.centre)
    square = arc.radius**2 - math.dist(near, arc.centre) ** 2
    if square < -1e-12 * arc.radius**2:
        return []
    half, t = math.sqrt(max(square, 0.0)), line.tangent(0)
    return [Point(near.x + k * half * t.x, near.y + k * half * t.y) for k in ((-1, 1) if half else (0,))]


def _circles(a: Arc, b: Arc) -> list[Point]:
    gap = math.dist(a.centre, b.centre)
    if gap < 1e-12:
        return []
    to = (gap**2 + a.radius**2 - b.radius**2) / (2 * gap)
    square = a.radius**2 - to**2
    if square < -1e-12 * a.radius**2:
        return []
    half = math.sqrt(max(square, 0.0))
    ux, uy = (b.centre.x - a.centre.x) / gap, (b.centre.y - a.centre.y) / gap
    base = Point(a.centre.x + to * ux, a.centre.y + to * uy)
    return [Point(base.x - k * half * uy, base.y + k * half * ux) for k in ((-1, 1) if half else (0,))]
