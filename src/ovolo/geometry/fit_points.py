"""Rows of points as lines and arcs: as few pieces as a stated distance allows, ends on given points."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from ovolo.geometry.fit import Fitted
from ovolo.geometry.segments import Arc, Line, Point, Segment

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: An arc with more than this many times its chord as radius is taken as a line.
_FLATTEST = 1e5


def fit_points(points: Sequence[Point], tolerance: float) -> Fitted:
    """Lines and arcs through a row of points, none of which lies farther off than `tolerance` mm.

    Each piece ends on given points and takes in as many as it can; arcs turn by half a circle at most. Raises
    ValueError for fewer than two points. Cost: n log n for n points on few pieces.

    >>> row = [Point(-9 + 9 * math.cos(a / 20), 9 * math.sin(a / 20)) for a in range(32)]
    >>> fitted = fit_points([*row, Point(-30, row[-1].y)], 1e-6)
    >>> [type(s).__name__ for s in fitted.segments]
    ['Arc', 'Line']
    """
    import numpy as np

    if len(points) < 2:
        raise ValueError(f"{len(points)} points make no outline")
    xy = np.array([tuple(p) for p in points], dtype=float)
    pieces: list[Segment] = []
    worst, at, last = 0.0, 0, len(points) - 1
    reach = 2
    while at < last:
        to, piece, off = _longest(xy, at, last, tolerance, reach)
        pieces.append(piece)
        worst, reach, at = max(worst, off), max(2, to - at), to
    return Fitted(tuple(pieces), worst)


def scatter(points: Sequence[Point]) -> float:
    """How much the points of a row jump about, mm: a robust estimate of one standard deviation across the row.

    From third differences, which smooth stretches hardly have, so that a shape of few corners counts for nothing.

    >>> scatter([Point(-x, 5.0) for x in range(20)])
    0.0
    """
    import numpy as np

    if len(points) < 8:
        return 0.0
    xy = np.array([tuple(p) for p in points], dtype=float)
    chords = xy[3:] - xy[:-3]
    sizes = np.hypot(chords[:, 0], chords[:, 1])
    third = xy[3:] - 3 * xy[2:-1] + 3 * xy[1:-2] - xy[:-3]
    across = np.abs(third[:, 1] * chords[:, 0] - third[:, 0] * chords[:, 1]) / np.maximum(sizes, 1e-12)
    # The differences 1, -3, 3, -1 widen scatter by the root of 20; 0.6745 turns a median into a deviation.
    return float(np.median(across) / (0.6745 * math.sqrt(20)))


def _longest(xy: Floats, at: int, last: int, tolerance: float, reach: int) -> tuple[int, Segment, float]:
    """The piece from a point to the farthest one that it can take in: doubled, then halved."""
    best = (at + 1, *_piece(xy, at, at + 1, tolerance))
    step = reach
    low, high = at + 1, last + 1
    while low < last:
        to = min(at + step, last)
        piece, off = _piece(xy, at, to, tolerance)
        if off > tolerance:
            high = to
            break
        best, low = (to, piece, off), to
        step *= 2
    while high - low > 1:
        middle = (low + high) // 2
        piece, off = _piece(xy, at, middle, tolerance)
        if off <= tolerance:
            best, low = (middle, piece, off), middle
        else:
            high = middle
    return best


def _piece(xy: Floats, i: int, j: int, tolerance: float) -> tuple[Segment, float]:
    """The line or arc between two points of the row that lies nearest to those between, and how far off they lie."""
    import numpy as np

    start, end = Point(*map(float, xy[i])), Point(*map(float, xy[j]))
    chord = math.dist(start, end)
    if j == i + 1 or chord < 1e-9:
        return Line(start, end), (0.0 if j == i + 1 else math.inf)
    t = (xy[j] - xy[i]) / chord
    d = xy[i + 1 : j] - xy[i]
    u, v = d @ t, d[:, 1] * t[0] - d[:, 0] * t[1]
    if not bool(np.all(np.diff(np.concatenate([[0.0], u, [chord]])) > -tolerance)):
        return Line(start, end), math.inf
    flat = float(np.max(np.abs(v)))
    if flat <= tolerance:
        return Line(start, end), flat
    bend = _bend(u, v, chord, tolerance)
    if bend is None:
        return Line(start, end), math.inf
    radius = 1 / abs(bend)
    if radius > _FLATTEST * chord or radius < chord / 2:
        return Line(start, end), math.inf
    arc = Arc.from_radius(start, end, radius, ccw=bend < 0)
    off = np.abs(np.hypot(xy[i + 1 : j, 0] - arc.centre.x, xy[i + 1 : j, 1] - arc.centre.y) - radius)
    return arc, float(np.max(off))


def _bend(u: Floats, v: Floats, chord: float, tolerance: float) -> float | None:
    """The curvature of the arc over a chord that suits all points, more than 0 where it bulges to the left.

    A point at (u, v) lies on the circle through the chord's ends of curvature k = 2 v / √((u(c-u)-v²)² + c²v²)... in
    the sense of its sagitta; each allows a span of curvatures, and the middle of what all allow is taken.
    """
    import numpy as np

    room = u * (chord - u)
    inside = room > 1e-12
    if not bool(np.any(inside)):
        return None
    u, v, room = u[inside], v[inside], room[inside]

    def curvature(height: Floats) -> Floats:
        # The centre's height above the chord: w = (v² - u(c - u)) / (2 v), so k = 1/√(w² + c²/4), signed as v.
        safe = np.where(np.abs(height) < 1e-15, 1e-15, height)
        w = (safe * safe - room) / (2 * safe)
        k = 1 / np.sqrt(w * w + chord * chord / 4)
        # Past half a circle the same curvature comes back: out of reach for one piece.
        return np.asarray(np.sign(safe) * np.where(w * np.sign(safe) > 0, 2 / chord, k))

    low, high = float(np.max(curvature(v - tolerance))), float(np.min(curvature(v + tolerance)))
    if low > high:
        return None
    middle = (low + high) / 2
    return middle if middle != 0 else None
