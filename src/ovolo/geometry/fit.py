"""Curves as tangent arcs: pairs of arcs (biarcs) that leave a curve by no more than a stated distance.

Each pair touches the curve at both of its ends, in place and in direction, so that the whole chain runs on
without a corner. How far a pair strays grows with the cube of its length: from one trial the next length follows.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass

from ovolo.geometry.bezier import Curve
from ovolo.geometry.segments import Arc, Line, Point, Segment

#: How far a fitted chain may stray from its curve unless given, mm.
TOLERANCE = 1e-3
#: The finest tolerance that the arithmetic carries with room to spare, mm.
FINEST = 1e-7
#: More pieces than this for one curve is taken as a curve that cannot be fitted.
MOST_PIECES = 4000
_SAMPLES = 24
_STRAIGHT = 1e-7  # an arc that rises less than this over its chord is a line, mm


class CannotFit(ValueError):
    """A curve that no chain of arcs can stand in for; its text says why."""


@dataclass(frozen=True)
class Fitted:
    """Segments that stand in for a curve, and the greatest distance found between the two, mm."""

    segments: tuple[Segment, ...]
    deviation: float


def arc_leaving(start: Point, direction: Point, end: Point) -> Segment:
    """The arc from `start` in a direction (unit vector) to `end` [mm]; a line where it is as good as one.

    Raises ValueError where the direction points straight away from `end`.

    >>> arc_leaving(Point(0, 0), Point(0, 1), Point(-9, 9)).centre
    Point(x=-9.0, y=0.0)
    """
    vx, vy = end.x - start.x, end.y - start.y
    across = -direction.y * vx + direction.x * vy
    square = vx * vx + vy * vy
    # The arc rises chord * tan(a/2)/2 with sin a = across/chord.
    if abs(across) / 4 < _STRAIGHT and direction.x * vx + direction.y * vy > 0:
        return Line(start, end)
    if across == 0:
        raise ValueError(f"no arc from {start} turns straight back to {end}")
    size = square / (2 * across)
    return Arc(start, end, Point(start.x - direction.y * size, start.y + direction.x * size), size > 0)


def biarc(start: Point, leaving: Point, end: Point, arriving: Point) -> tuple[Segment, Segment]:
    """Two arcs from `start` to `end`, tangent to each other and to the unit directions at both ends [mm].

    Both ends get tangents of equal length. Raises ValueError where no such pair exists.
    Source: derived from |joint - start| = |joint - end| along equal tangents.
    """
    vx, vy = end.x - start.x, end.y - start.y
    square = vx * vx + vy * vy
    along = vx * (leaving.x + arriving.x) + vy * (leaving.y + arriving.y)
    open_ = 2 * (1 - leaving.x * arriving.x - leaving.y * arriving.y)
    root = math.sqrt(max(along * along + open_ * square, 0.0))
    # d = (root - along)/open_, written so that it holds where the directions are the same (open_ = 0).
    under = root + along
    if square == 0 or under <= 1e-12 * math.sqrt(square):
        raise ValueError(f"no pair of arcs joins {start} and {end}")
    d = square / under
    joint = Point(
        (start.x + end.x + d * (leaving.x - arriving.x)) / 2, (start.y + end.y + d * (leaving.y - arriving.y)) / 2
    )
    second = arc_leaving(end, Point(-arriving.x, -arriving.y), joint)
    return arc_leaving(start, leaving, joint), second.reversed()


def fit_curve(
    curve: Curve, start: float, end: float, tolerance: float = TOLERANCE, breaks: Iterable[float] = ()
) -> Fitted:
    """Tangent arcs for a curve between two parameters, no farther than `tolerance` mm from it.

    breaks: parameters that must be met exactly: corners, given points, places of greatest curvature.
    Raises CannotFit where the curve is not finite, has no length, or takes more than 4,000 arcs.

    >>> from ovolo.geometry.bezier import Ellipse
    >>> fitted = fit_curve(Ellipse(Point(0, 0), Point(5, 0), Point(0, 3)), 0, math.pi / 2)
    >>> len(fitted.segments) < 20, fitted.deviation <= 1e-3
    (True, True)
    """
    if not tolerance >= FINEST:
        raise CannotFit(f"the tolerance is {tolerance} mm: arcs can be fitted to {FINEST} mm or more")
    stops = [start, *sorted(b for b in breaks if min(start, end) < b < max(start, end)), end]
    if end < start:
        stops[1:-1] = stops[-2:0:-1]
    pieces: list[Segment] = []
    worst = 0.0
    for a, b in itertools.pairwise(stops):
        part = _fit_smooth(curve, a, b, tolerance, MOST_PIECES - len(pieces))
        pieces.extend(part.segments)
        worst = max(worst, part.deviation)
    return Fitted(tuple(pieces), worst)


def _fit_smooth(curve: Curve, start: float, end: float, tolerance: float, most: int) -> Fitted:
    pieces: list[Segment] = []
    worst, at, step = 0.0, start, end - start
    tries = 0
    while at != end:
        tries += 1
        if len(pieces) >= most or tries > 2 * MOST_PIECES:
            raise CannotFit(f"more than {MOST_PIECES} arcs are needed to stay within {tolerance} mm")
        # Share what is left evenly, so that no sliver remains at the end.
        left = end - at
        parts = math.ceil(min(abs(left / step), 1e6) - 1e-9) or 1
        to = end if parts == 1 else at + left / parts
        trial = _try_pair(curve, at, to, start, end)
        if trial.deviation > tolerance:
            step = (to - at) * min(0.9 * (tolerance / trial.deviation) ** (1 / 3), 0.7)
            if abs(step) < 1e-9 * abs(end - start):
                raise CannotFit(f"the curve has a corner that no arc follows within {tolerance} mm")
            continue
        pieces.extend(trial.segments)
        worst = max(worst, trial.deviation)
        step = (to - at) * min(0.9 * (tolerance / max(trial.deviation, 1e-12)) ** (1 / 3), 2.0)
        at = to
    return Fitted(tuple(pieces), worst)


def _try_pair(curve: Curve, start: float, end: float, low: float, high: float) -> Fitted:
    """One pair of arcs between two parameters; a deviation of infinity where none exists."""
    sense = 1.0 if end > start else -1.0
    samples = [curve(start + (end - start) * i / _SAMPLES) for i in range(_SAMPLES + 1)]
    points = [p for p, _ in samples]
    if not all(math.isfinite(p.x) and math.isfinite(p.y) for p in points):
        raise CannotFit(f"the curve has a place that is not a number between {start:g} and {end:g}")
    size = max(math.dist(points[0], p) for p in points)
    if size < 1e-9:
        if start == low and end == high:
            raise CannotFit(f"the curve has no length: {size:g} mm")
        return Fitted((), size)
    try:
        pair = biarc(points[0], _heading(samples, 0, 1, sense), points[-1], _heading(samples, -1, -2, sense))
    except ValueError:
        return Fitted((), math.inf)
    return Fitted(tuple(s for s in pair if s.length > 0), _strays(pair, points))


def _heading(samples: list[tuple[Point, Point]], at: int, beside: int, sense: float) -> Point:
    """Unit direction of travel at an end; where the derivative vanishes, the way to the next sample."""
    place, slope = samples[at]
    size = math.hypot(*slope)
    chord = math.dist(samples[0][0], samples[-1][0])
    if math.isfinite(size) and size > 1e-9 * max(chord, 1e-6):
        return Point(sense * slope.x / size, sense * slope.y / size)
    other = samples[beside][0]
    back = 1.0 if at == 0 else -1.0
    gap = math.dist(place, other) or 1.0
    return Point(back * (other.x - place.x) / gap, back * (other.y - place.y) / gap)


def _strays(pair: tuple[Segment, Segment], points: list[Point]) -> float:
    """The greatest distance of the points from a pair; infinite where the pair takes a long way round."""
    if sum(s.length for s in pair) > 1.5 * sum(math.dist(a, b) for a, b in itertools.pairwise(points)):
        return math.inf
    return max(min(distance_to(s, p) for s in pair) for p in points)


def distance_to(segment: Segment, point: Point) -> float:
    """How far a point lies from a segment, its ends included, mm.

    >>> distance_to(Line(Point(0, 0), Point(-4, 0)), Point(-2, 3))
    3.0
    """
    ends = min(math.dist(point, segment.start), math.dist(point, segment.end))
    if isinstance(segment, Line):
        along = (point.x - segment.start.x) * (segment.end.x - segment.start.x)
        along += (point.y - segment.start.y) * (segment.end.y - segment.start.y)
        if not 0 < along < segment.length**2:
            return ends
        n = segment.normal(0)
        return abs((point.x - segment.start.x) * n.x + (point.y - segment.start.y) * n.y)
    turn = math.atan2(point.y - segment.centre.y, point.x - segment.centre.x) - segment.angle0
    sweep = segment.sweep
    inside = (turn % (2 * math.pi)) <= sweep if sweep > 0 else (-turn % (2 * math.pi)) <= -sweep
    return abs(math.dist(point, segment.centre) - segment.radius) if inside else ends
