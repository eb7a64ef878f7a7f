"""Where the axis of a turned part lies in its drawing: given, drawn as a centre line, or found."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import NamedTuple, NoReturn

from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files.drawing import Asked, Piece, refusal, refuse_file

_MIRRORED = 1e-3  # how exact a mirror image or a touch has to be, mm
_ONE = re.compile(r"\s*([xy])\s*=\s*([-+0-9.eE]+)\s*")
_NUMBER = r"([-+]?[0-9.]+(?:[eE][-+]?[0-9]+)?)"
_TWO = re.compile(rf"\s*{_NUMBER}\s*,\s*{_NUMBER}[\s;]+{_NUMBER}\s*,\s*{_NUMBER}\s*")


class Axis(NamedTuple):
    """A line in the drawing: a place on it, its unit direction (to the right, or up), and how it was come by."""

    origin: Point
    along: Point
    how: str


def find_axis(segments: Sequence[Segment], centre: Sequence[Piece], asked: Asked, scale: float, flipped: bool) -> Axis:
    """The axis as given, else a centre line, else the line that mirrors the section, else the edge of a half-section.

    scale: mm in one unit of the file. flipped: y grows downward there. Raises JobFaults where more than one line would
    do, or none.
    """
    if asked.axis is not None:
        return _told(asked.axis, scale, flipped)
    return _drawn(centre) or _deduced(segments, asked)


def _deduced(segments: Sequence[Segment], asked: Asked) -> Axis:
    """The axis from the shape alone. Where two readings are possible it has to be given; nothing is guessed."""
    mirrors = _mirrors(segments)
    through = [m for m in mirrors if _is_through_zero(m)]
    if len(through) == 1:
        return through[0]
    if len(mirrors) == 2:
        _ask("it mirrors itself about two lines, and either may be the axis", segments)
    standing = _standing(segments)
    if standing is not None:
        if any(abs(m.along.x * standing.along.x + m.along.y * standing.along.y) > 0.5 for m in mirrors):
            _ask("it may be a half-section that stands on its axis, or a whole one about its middle", segments)
        return standing
    touching = _through_zero(segments, asked)
    if mirrors:
        if touching is not None or _is_half_maybe(segments, mirrors[0]):
            _ask("it mirrors itself about a line, yet may be a half-section as well", segments)
        return mirrors[0]
    return touching or _edge(segments)


def _is_through_zero(axis: Axis) -> bool:
    off = axis.origin.x * axis.along.y - axis.origin.y * axis.along.x
    return abs(off) <= _MIRRORED and min(abs(axis.along.x), abs(axis.along.y)) < 1e-9


def _is_half_maybe(segments: Sequence[Segment], mirror: Axis) -> bool:
    """Whether an edge square to the mirror line is longer than the drawing is along that line: an axis, maybe."""
    framed = [to_frame(s, mirror) for s in segments]
    x0, _, x1, _ = _bounds(framed)
    faces = [s.length for s in framed if isinstance(s, Line) and abs(s.start.x - s.end.x) <= _MIRRORED]
    return _closed(segments) and max(faces, default=0.0) > x1 - x0


def _ask(says: str, segments: Sequence[Segment]) -> NoReturn:
    x0, y0, x1, y1 = _bounds(segments)
    says = f"the axis is not certain: {says} (x {x0:.3f} to {x1:.3f}, y {y0:.3f} to {y1:.3f} mm)"
    refuse_file("axis", None, says, 'Give the axis, such as "y=0" or "x=0", or draw a centre line')


def _axis(a: Point, b: Point, how: str) -> Axis:
    size = math.dist(a, b)
    t = _squared(Point((b.x - a.x) / size, (b.y - a.y) / size))
    if t.x < -1e-9 or (abs(t.x) <= 1e-9 and t.y < 0):
        t = Point(-t.x, -t.y)
    return Axis(a, t, how)


def _told(text: str, scale: float, flipped: bool) -> Axis:
    up = -scale if flipped else scale
    plain = text.strip().lower()
    if plain in ("x", "y"):
        return Axis(Point(0.0, 0.0), Point(1.0, 0.0) if plain == "x" else Point(0.0, 1.0), "as given")
    try:
        if one := _ONE.fullmatch(plain):
            value = float(one[2])
            if math.isfinite(value):
                if one[1] == "y":
                    return Axis(Point(0.0, value * up), Point(1.0, 0.0), "as given")
                return Axis(Point(value * scale, 0.0), Point(0.0, 1.0), "as given")
        if two := _TWO.fullmatch(plain):
            x1, y1, x2, y2 = (float(v) for v in two.groups())
            if math.dist((x1, y1), (x2, y2)) > 0:
                return _axis(Point(x1 * scale, y1 * up), Point(x2 * scale, y2 * up), "as given")
    except (ValueError, OverflowError):
        pass
    raise refusal("axis", text, "it is not an axis", 'Write x, y, "y=12.5", "x=40" or two points "0,0 100,30"')


def _drawn(centre: Sequence[Piece]) -> Axis | None:
    """The longest centre line, where all the others that run the same way lie on it."""
    lines = [p.segment for p in centre if isinstance(p.segment, Line) and p.segment.length > 0]
    if not lines:
        return None
    longest = max(lines, key=lambda s: s.length)
    return _axis(longest.start, longest.end, "along the centre line")


def sample(segments: Sequence[Segment], most: int = 400) -> list[Point]:
    """Points spread over the segments, a few on each [mm]."""
    each = max(2, min(9, most // max(len(segments), 1)))
    step = max(1, len(segments) * each // (4 * most))
    return [s.point(s.length * (i + 0.5) / each) for s in segments[::step] for i in range(each)]


def _mirrors(segments: Sequence[Segment]) -> list[Axis]:
    """The lines that mirror the section, of the two principal axes of its lines; the longer way first."""
    import numpy as np
    import shapely

    parts = [(s.point(s.length * (i + 0.5) / 8), s.length / 8) for s in segments for i in range(8)]
    xy, w = np.array([tuple(p) for p, _ in parts]), np.array([size for _, size in parts])
    middle = (xy * w[:, None]).sum(0) / w.sum()
    d = xy - middle
    vectors = np.linalg.eigh((d * w[:, None]).T @ d)[1]
    ink = shapely.MultiLineString([[tuple(p) for p in s.flattened(2e-4)] for s in segments])
    points = np.array([tuple(p) for p in sample(segments)])
    found = []
    for k in (1, 0):
        t = _squared(Point(float(vectors[0, k]), float(vectors[1, k])))
        along = (points - middle) @ np.array(t)
        image = 2 * (middle + along[:, None] * np.array(t)) - points
        if float(np.max(shapely.distance(shapely.points(image), ink))) <= _MIRRORED:
            a = Point(float(middle[0]), float(middle[1]))
            found.append(_axis(a, Point(a.x + t.x, a.y + t.y), "where the section mirrors itself"))
    return found


def _squared(t: Point) -> Point:
    """A direction that is all but along x or y, made so."""
    if abs(t.x) < 1e-6:
        return Point(0.0, math.copysign(1.0, t.y))
    return Point(math.copysign(1.0, t.x), 0.0) if abs(t.y) < 1e-6 else t


def _bounds(segments: Sequence[Segment]) -> tuple[float, float, float, float]:
    points = [p for s in segments for p in s.flattened(1e-4)]
    xs, ys = [p.x for p in points], [p.y for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def _standing(segments: Sequence[Segment]) -> Axis | None:
    """A half-section with a straight edge on x or y of the drawing, all of it on one side of that."""
    x0, y0, x1, y1 = _bounds(segments)
    on_x = _lying(segments, 1, 0.0) if min(abs(y0), abs(y1)) <= _MIRRORED else 0.0
    on_y = _lying(segments, 0, 0.0) if min(abs(x0), abs(x1)) <= _MIRRORED else 0.0
    if max(on_x, on_y) == 0:
        return None
    if not _closed(segments):
        # A straight edge of an open outline may be its end face as well as its axis, which is as long as all of it.
        if (on_x > on_y and on_x < x1 - x0 - _MIRRORED) or (on_y > on_x and on_y < y1 - y0 - _MIRRORED):
            return None
        _ask("one straight edge may be the end face or the axis", segments)
    if on_x >= on_y:
        return Axis(Point(0.0, 0.0), Point(1.0, 0.0), "along the edge on x")
    return Axis(Point(0.0, 0.0), Point(0.0, 1.0), "along the edge on y")


def _through_zero(segments: Sequence[Segment], asked: Asked) -> Axis | None:
    """An outline that touches x or y of the drawing, all of it on one side; that of a bore need not touch."""
    x0, y0, x1, y1 = _bounds(segments)
    on_x, on_y = min(abs(y0), abs(y1)) <= _MIRRORED, min(abs(x0), abs(x1)) <= _MIRRORED
    if on_x and on_y:
        face_x, face_y = _lying(segments, 1, 0.0), _lying(segments, 0, 0.0)
        level = x1 - x0 >= y1 - y0 if face_x == face_y else face_y > face_x
        how = f"along {'x' if level else 'y'} through 0, though the outline touches {'y' if level else 'x'} too"
        return Axis(Point(0.0, 0.0), Point(1.0, 0.0) if level else Point(0.0, 1.0), how)
    if on_x or (y0 > 0 and not _closed(segments)) or (asked.surface == "bore" and y0 > 0):
        return Axis(Point(0.0, 0.0), Point(1.0, 0.0), "along x through 0")
    if on_y or (x0 > 0 and not _closed(segments)):
        return Axis(Point(0.0, 0.0), Point(0.0, 1.0), "along y through 0")
    return None


def _closed(segments: Sequence[Segment]) -> bool:
    """Whether every end meets another one."""
    ends: dict[tuple[int, int], int] = {}
    for s in segments:
        for p in (s.start, s.end):
            key = (round(p.x / 0.02), round(p.y / 0.02))
            ends[key] = ends.get(key, 0) + 1
    return all(n > 1 for n in ends.values())


def _lying(segments: Sequence[Segment], k: int, level: float) -> float:
    """How much straight edge lies on x = level (k = 0) or y = level (k = 1), mm."""
    return sum(
        s.length
        for s in segments
        if isinstance(s, Line) and abs(s.start[k] - level) <= _MIRRORED and abs(s.end[k] - level) <= _MIRRORED
    )


def _edge(segments: Sequence[Segment]) -> Axis:
    """The longest straight edge that all of a closed half-section lies on one side of."""
    edges = [s for s in segments if isinstance(s, Line) and _all_on_one_side(segments, s)]
    edges.sort(key=lambda s: -s.length)
    if edges and _closed(segments) and (len(edges) == 1 or edges[0].length > 1.01 * edges[1].length):
        return _axis(edges[0].start, edges[0].end, "along the longest straight edge of the half-section")
    _ask("nothing in it stands on x or y, mirrors itself, or is a closed half-section", segments)


def _all_on_one_side(segments: Sequence[Segment], line: Line) -> bool:
    n = line.normal(0)
    heights = []
    for s in segments:
        for p in (s.start, s.end, s.point(s.length / 2)):
            heights.append((p.x - line.start.x) * n.x + (p.y - line.start.y) * n.y)
    return min(heights) >= -_MIRRORED or max(heights) <= _MIRRORED


def to_frame(s: Segment, axis: Axis) -> Segment:
    """A segment in the frame of the axis: x along it, y its distance to the left of it."""

    def turned(p: Point) -> Point:
        dx, dy = p.x - axis.origin.x, p.y - axis.origin.y
        return Point(dx * axis.along.x + dy * axis.along.y, dy * axis.along.x - dx * axis.along.y)

    if isinstance(s, Line):
        return Line(turned(s.start), turned(s.end))
    return Arc(turned(s.start), turned(s.end), turned(s.centre), s.ccw)
