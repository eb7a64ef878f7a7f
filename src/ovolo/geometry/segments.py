"""Lines and arcs: the exact pieces that every outline is made of.

Coordinates are a plane's own (x, y) in mm; the rooms above read them as (z, r). A segment knows its
direction of travel, and `normal` always points to the right of it: an outline is walked with the metal
on its left, so that normals point into the air.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple


class Point(NamedTuple):
    """A place in the plane, mm."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Line:
    """A straight segment from `start` to `end`."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length, mm."""
        return math.dist(self.start, self.end)

    def point(self, s: float) -> Point:
        """The point `s` mm from the start.

        >>> Line(Point(0, 0), Point(-4, 3)).point(2.5)
        Point(x=-2.0, y=1.5)
        """
        t = s / self.length
        return Point(self.start.x + t * (self.end.x - self.start.x), self.start.y + t * (self.end.y - self.start.y))

    def tangent(self, s: float) -> Point:
        """Unit direction of travel (the same everywhere) [-]."""
        size = self.length
        return Point((self.end.x - self.start.x) / size, (self.end.y - self.start.y) / size)

    def normal(self, s: float) -> Point:
        """Unit vector to the right of the direction of travel [-].

        >>> Line(Point(0, 0), Point(-4, 0)).normal(0)
        Point(x=0.0, y=1.0)
        """
        t = self.tangent(s)
        return Point(t.y, -t.x)

    def reversed(self) -> Line:
        """The same segment walked the other way."""
        return Line(self.end, self.start)

    def mirrored(self) -> Line:
        """The image in the x axis, walked the same way."""
        return Line(Point(self.start.x, -self.start.y), Point(self.end.x, -self.end.y))

    def offset(self, distance: float) -> Line:
        """The parallel segment `distance` mm to the right."""
        n = self.normal(0)
        shift = Point(n.x * distance, n.y * distance)
        return Line(
            Point(self.start.x + shift.x, self.start.y + shift.y), Point(self.end.x + shift.x, self.end.y + shift.y)
        )

    def flattened(self, sagitta: float) -> list[Point]:
        """The end points; `sagitta` is here so that lines and arcs can be used alike [mm]."""
        return [self.start, self.end]


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc round `centre`, from `start` to `end`, counter-clockwise where `ccw`.

    Walked with metal on the left, a counter-clockwise arc is convex (its centre lies in the metal).
    """

    start: Point
    end: Point
    centre: Point
    ccw: bool

    @classmethod
    def from_radius(cls, start: Point, end: Point, radius: float, *, ccw: bool, long: bool = False) -> Arc:
        """The arc of a given radius between two points: the shorter of the two possible, or the longer.

        Raises ValueError where the radius cannot span the ends.

        >>> Arc.from_radius(Point(0, 0), Point(-9, 9), 9, ccw=True).centre
        Point(x=-9.0, y=0.0)
        """
        chord = math.dist(start, end)
        if chord == 0 or chord / 2 > radius * (1 + 1e-9):
            raise ValueError(f"an arc of radius {radius} cannot span {chord:.4f} mm")
        height = math.sqrt(max(radius**2 - (chord / 2) ** 2, 0.0)) * (-1 if long else 1)
        side = 1 if ccw else -1  # a counter-clockwise arc has its centre on the left of its chord
        nx, ny = -(end.y - start.y) / chord * side, (end.x - start.x) / chord * side
        mid = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
        return cls(start, end, Point(mid.x + nx * height, mid.y + ny * height), ccw)

    @classmethod
    def through(cls, start: Point, middle: Point, end: Point) -> Arc:
        """The arc from `start` through `middle` to `end`. Raises ValueError for points on one line."""
        ax, ay, bx, by = middle.x - start.x, middle.y - start.y, end.x - start.x, end.y - start.y
        det = 2 * (ax * by - ay * bx)
        if abs(det) < 1e-12 * max(1.0, math.hypot(ax, ay) * math.hypot(bx, by)):
            raise ValueError(f"the three points lie on one line: {start}, {middle}, {end}")
        a2, b2 = ax * ax + ay * ay, bx * bx + by * by
        centre = Point(start.x + (by * a2 - ay * b2) / det, start.y + (ax * b2 - bx * a2) / det)
        return cls(start, end, centre, ccw=det > 0)

    @property
    def radius(self) -> float:
        """Radius, mm."""
        return math.dist(self.start, self.centre)

    @property
    def angle0(self) -> float:
        """Direction from the centre to the start, radians."""
        return math.atan2(self.start.y - self.centre.y, self.start.x - self.centre.x)

    @property
    def sweep(self) -> float:
        """Signed angle walked, radians; more than 0 counter-clockwise.

        >>> round(Arc(Point(1, 0), Point(0, 1), Point(0, 0), True).sweep / math.pi, 6)
        0.5
        """
        end = math.atan2(self.end.y - self.centre.y, self.end.x - self.centre.x)
        turn = (end - self.angle0) % (2 * math.pi)
        if turn < 1e-12:  # back where it began: a whole circle
            return 2 * math.pi if self.ccw else -2 * math.pi
        return turn if self.ccw else turn - 2 * math.pi

    @property
    def length(self) -> float:
        """Length along the arc, mm."""
        return abs(self.sweep) * self.radius

    def _angle(self, s: float) -> float:
        return self.angle0 + (s / self.radius) * (1 if self.ccw else -1)

    def point(self, s: float) -> Point:
        """The point `s` mm along the arc."""
        a, radius = self._angle(s), self.radius
        return Point(self.centre.x + radius * math.cos(a), self.centre.y + radius * math.sin(a))

    def tangent(self, s: float) -> Point:
        """Unit direction of travel at `s` [-]."""
        a, sign = self._angle(s), 1 if self.ccw else -1
        return Point(-sign * math.sin(a), sign * math.cos(a))

    def normal(self, s: float) -> Point:
        """Unit vector to the right of the direction of travel: away from the centre where convex [-]."""
        a, sign = self._angle(s), 1 if self.ccw else -1
        return Point(sign * math.cos(a), sign * math.sin(a))

    def reversed(self) -> Arc:
        """The same arc walked the other way."""
        return Arc(self.end, self.start, self.centre, not self.ccw)

    def mirrored(self) -> Arc:
        """The image in the x axis, walked from the image of the start."""
        start, end, centre = (Point(p.x, -p.y) for p in (self.start, self.end, self.centre))
        return Arc(start, end, centre, not self.ccw)

    def offset(self, distance: float) -> Arc:
        """The concentric arc `distance` mm to the right. Raises ValueError where it would vanish."""
        radius = self.radius + (distance if self.ccw else -distance)
        if radius <= 0:
            raise ValueError(f"an arc of radius {self.radius:.4f} mm has no parallel {distance:.4f} mm inside it")
        k, c = radius / self.radius, self.centre
        ends = [Point(c.x + k * (p.x - c.x), c.y + k * (p.y - c.y)) for p in (self.start, self.end)]
        return Arc(ends[0], ends[1], c, self.ccw)

    def flattened(self, sagitta: float) -> list[Point]:
        """Points along the arc whose chords stay within `sagitta` mm of it, ends exact."""
        step = 2 * math.acos(max(1 - sagitta / self.radius, -1.0))
        n = max(2, math.ceil(abs(self.sweep) / step))
        a0, da, (cx, cy), radius = self.angle0, self.sweep / n, self.centre, self.radius
        inner = [Point(cx + radius * math.cos(a0 + i * da), cy + radius * math.sin(a0 + i * da)) for i in range(1, n)]
        return [self.start, *inner, self.end]


Segment = Line | Arc
