"""An outline: a chain of segments, walked with the metal on the left."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.tolerances import ROUNDING


@dataclass(frozen=True)
class Outline:
    """Segments that join end to end, in mm, in the half-section (x is z, y is r)."""

    segments: tuple[Segment, ...]

    @property
    def start(self) -> Point:
        """The free end (z, r) [mm]."""
        return self.segments[0].start

    @property
    def end(self) -> Point:
        """The end toward the chuck (z, r) [mm]."""
        return self.segments[-1].end

    @cached_property
    def length(self) -> float:
        """Length along the outline, mm."""
        return sum(s.length for s in self.segments)

    @property
    def nodes(self) -> tuple[Point, ...]:
        """The points where segments meet, both ends included [mm]."""
        return (self.start, *(s.end for s in self.segments))

    def bounds(self) -> tuple[float, float, float, float]:
        """(least x, least y, greatest x, greatest y), mm, arcs included to 1e-5 mm."""
        points = self.flattened(1e-5)
        xs, ys = [p.x for p in points], [p.y for p in points]
        return min(xs), min(ys), max(xs), max(ys)

    def mirrored(self) -> Outline:
        """The image in the axis (y changes sign), walked from the same end."""
        return Outline(tuple(s.mirrored() for s in self.segments))

    def flattened(self, sagitta: float) -> list[Point]:
        """Points along the outline whose chords stay within `sagitta` mm of it."""
        points = [self.start]
        for s in self.segments:
            points.extend(s.flattened(sagitta)[1:])
        return points

    def stretch(self, start: float, end: float) -> tuple[Segment, ...]:
        """The segments between two lengths along the outline, mm.

        >>> Outline((Line(Point(0, 9), Point(-24, 9)),)).stretch(4.0, 10.0)
        (Line(start=Point(x=-4.0, y=9.0), end=Point(x=-10.0, y=9.0)),)
        """
        pieces: list[Segment] = []
        done = 0.0
        for segment in self.segments:
            a, b = max(start - done, 0.0), min(end - done, segment.length)
            if b - a > ROUNDING:
                pieces.append(part_of(segment, a, b))
            done += segment.length
        return tuple(pieces)

    def tightest_concave(self) -> float:
        """The least radius among the concave arcs, mm; infinite where there is none."""
        return min((s.radius for s in self.segments if isinstance(s, Arc) and not s.ccw), default=math.inf)


def part_of(segment: Segment, a: float, b: float) -> Segment:
    """A segment from `a` to `b` mm along it; its own ends where they are as near."""
    first = segment.start if a <= ROUNDING else segment.point(a)
    last = segment.end if b >= segment.length - ROUNDING else segment.point(b)
    return Line(first, last) if isinstance(segment, Line) else Arc(first, last, segment.centre, segment.ccw)
