"""The shape of a gauge: a plate with the curve as one of its edges, in (z, r) and mm."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.part import Part

__all__ = ["FLAT", "Plate", "Side", "plate", "stretch_of", "widened"]

Side = Literal["air", "part"]
"""Which side of the curve is plate: "air" is held against the finished part, "part" has the part's own form."""

FLAT = 1e-4
"""How far the chords of a flattened gauge may lie from its arcs, mm."""

_FINE = 64
_TINY = 1e-9


@dataclass(frozen=True)
class Plate:
    """A plate with its edge along the curve; `edge` is that edge, `rest` the straight edges back to its start."""

    side: Side
    edge: tuple[Segment, ...]
    rest: tuple[Line, ...]

    @property
    def segments(self) -> tuple[Segment, ...]:
        """All edges, closed."""
        return (*self.edge, *self.rest)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """(least z, least r, greatest z, greatest r), mm."""
        return Outline(self.segments).bounds()


def stretch_of(outline: Outline, start: float, end: float) -> tuple[Segment, ...]:
    """The piece of an outline from `start` to `end`, mm along it.

    >>> stretch_of(Outline((Line(Point(0, 9), Point(-24, 9)),)), 4.0, 10.0)
    (Line(start=Point(x=-4.0, y=9.0), end=Point(x=-10.0, y=9.0)),)
    """
    pieces: list[Segment] = []
    done = 0.0
    for segment in outline.segments:
        a, b = max(start - done, 0.0), min(end - done, segment.length)
        if b - a > _TINY:
            pieces.append(_cut(segment, a, b))
        done += segment.length
    return tuple(pieces)


def _cut(segment: Segment, a: float, b: float) -> Segment:
    first = segment.start if a <= _TINY else segment.point(a)
    last = segment.end if b >= segment.length - _TINY else segment.point(b)
    return Line(first, last) if isinstance(segment, Line) else Arc(first, last, segment.centre, segment.ccw)


def plate(part: Part, edge: Sequence[Segment], side: Side, margin: float) -> Plate:
    """The plate on one side of an edge, `margin` mm of it around the curve; it ends at the axis if nearer."""
    points = Outline(tuple(edge)).flattened(FLAT)
    low, high = min(p.y for p in points), max(p.y for p in points)
    outward = (part.surface == "outside") == (side == "air")
    level = high + margin if outward else max(0.0, low - margin)
    first, last = edge[0].start, edge[-1].end
    front = first.x + margin if side == "air" else first.x
    corners = [last, Point(last.x, level), Point(front, level), Point(front, first.y), first]
    return Plate(side, tuple(edge), tuple(_lines(corners)))


def _lines(corners: Sequence[Point]) -> Iterator[Line]:
    for a, b in pairwise(corners):
        if abs(a.x - b.x) + abs(a.y - b.y) > _TINY:
            yield Line(a, b)


def widened(shape: Plate, kerf: float) -> BaseGeometry:
    """The path to cut along with a beam `kerf` mm wide, so that the plate comes out true: half of it outside."""
    region = shapely.make_valid(shapely.Polygon(Outline(shape.segments).flattened(FLAT)))
    return region.buffer(kerf / 2, quad_segs=_FINE)
