"""The underside of a convex tool: lines and arcs from its end on the left to its end on the right, straight up beyond.

Kept as bends: arcs, and corners as arcs of no radius, in the order in which the outward normal turns from the left
(-x) through straight down to the right (+x). A straight piece is what joins two bends, square to the normal that they
share. So a parallel of the whole is the same bends with the distance added to each radius. Lengths in mm, angles in
radians.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.tolerances import ROUNDING

#: Corners that turn by less than this are none, radians: half a circle written to four decimals ends in such a one.
SMOOTH = math.radians(1)
#: Chordal error where a quick picture will do, mm.
ROUGH = 1e-4


@dataclass(frozen=True)
class Bend:
    """A part of the underside that turns about (x, y) with this radius, mm; a corner has radius 0.

    `begin`, `end`: directions of its outward normals, radians, from pi (left) to 2 pi (right)."""

    x: float
    y: float
    radius: float
    begin: float
    end: float

    def at(self, angle: float) -> Point:
        """The place whose outward normal points in this direction [mm]; direction [rad]."""
        return Point(self.x + self.radius * math.cos(angle), self.y + self.radius * math.sin(angle))

    def holds(self, angle: Floats) -> np.ndarray:
        """Which of these directions, from 0 to 2 pi, are among its normals [rad]."""
        angle = np.where(angle < 1.0, angle + 2 * math.pi, angle)  # straight to the right may come out as 0
        return np.asarray((angle >= self.begin - 1e-7) & (angle <= self.end + 1e-7))


@dataclass(frozen=True)
class Side:
    """A straight piece of the underside, from `start` to `end`; `normal` is the direction of its outward normal."""

    start: Point
    end: Point
    normal: float


@dataclass(frozen=True)
class Underside:
    """The underside of a convex tool as its bends, from left to right."""

    bends: tuple[Bend, ...]

    @classmethod
    def of(cls, segments: Sequence[Segment]) -> Underside:
        """From segments that join end to end from the left end to the right one, the tool above them.

        They must be convex (the reader of a document tests that); a turn the wrong way by less than
        can be seen is shared between its two neighbours.
        """
        ways = [_normals(segment) for segment in segments]
        joints = [math.pi, *((a[1] + b[0]) / 2 for a, b in pairwise(ways)), 2 * math.pi]
        bends: list[Bend] = []
        for i, (segment, (first, last)) in enumerate(zip(segments, ways, strict=True)):
            before = ways[i - 1][1] if i else math.pi
            if first - before > ROUNDING:
                bends.append(Bend(*segment.start, 0.0, before, first))
            if isinstance(segment, Arc):
                begin = first if first >= before else joints[i]
                after = ways[i + 1][0] if i + 1 < len(ways) else 2 * math.pi
                bends.append(Bend(*segment.centre, segment.radius, begin, last if last <= after else joints[i + 1]))
        if 2 * math.pi - ways[-1][1] > ROUNDING:
            bends.append(Bend(*segments[-1].end, 0.0, ways[-1][1], 2 * math.pi))
        return cls(tuple(bends))

    @cached_property
    def sides(self) -> tuple[Side, ...]:
        """The straight pieces between the bends."""
        found = []
        for one, other in pairwise(self.bends):
            a, b = one.at(one.end), other.at(other.begin)
            if math.dist(a, b) > ROUNDING:
                found.append(Side(a, b, one.end))
        return tuple(found)

    def parallel(self, distance: float) -> Underside:
        """The underside of the same tool grown by a distance all round [mm]."""
        return Underside(tuple(Bend(b.x, b.y, b.radius + distance, b.begin, b.end) for b in self.bends))

    @cached_property
    def left(self) -> float:
        """Its least x [mm]."""
        return self.bends[0].at(math.pi).x

    @cached_property
    def right(self) -> float:
        """Its greatest x [mm]."""
        return self.bends[-1].at(2 * math.pi).x

    @cached_property
    def lowest(self) -> tuple[Point, Point]:
        """The ends of its lowest stretch, which are one place unless that is level [mm]."""
        down = 1.5 * math.pi
        touching = [b for b in self.bends if b.begin - ROUNDING <= down <= b.end + ROUNDING]
        return touching[0].at(down), touching[-1].at(down)

    @property
    def low(self) -> float:
        """Its least y [mm]."""
        return self.lowest[0].y

    @cached_property
    def ends(self) -> tuple[Point, Point]:
        """Where it leaves its flanks: the left end and the right one [mm]."""
        return self.bends[0].at(math.pi), self.bends[-1].at(2 * math.pi)

    def flanks(self, length: float) -> tuple[Side, Side]:
        """The straight pieces that run up from its ends, `length` mm long."""
        a, b = self.ends
        return Side(Point(a.x, a.y + length), a, math.pi), Side(b, Point(b.x, b.y + length), 2 * math.pi)

    @property
    def runs_into_left_flank(self) -> bool:
        """Whether its left end is round, with no corner between it and the flank."""
        first = self.bends[0]
        return first.radius > 0 or first.end - first.begin < SMOOTH

    @cached_property
    def tightest(self) -> float:
        """The least radius of its bends, 0 where it has a corner, mm; corners at the two ends count too."""
        turns = [b.radius for b in self.bends if b.end - b.begin > SMOOTH]
        return min(turns or [b.radius for b in self.bends if b.radius > 0], default=0.0)

    def height(self, dx: Floats) -> Floats:
        """Height of the underside at each x, mm; inf outside the tool."""
        out = np.full_like(dx, np.inf)
        for side in self.sides:
            width = side.end.x - side.start.x
            if width < ROUNDING:
                continue
            share = (dx - side.start.x) / width
            on = (share >= -1e-12) & (share <= 1 + 1e-12)
            out = np.where(on, side.start.y + share * (side.end.y - side.start.y), out)
        for bend in self.bends:
            low, high = bend.at(bend.begin).x, bend.at(bend.end).x
            on = (dx >= low - 1e-12) & (dx <= high + 1e-12)
            if bend.radius == 0.0:
                on &= ~np.isfinite(out)
            out = np.where(on, bend.y - np.sqrt(np.maximum(bend.radius**2 - (dx - bend.x) ** 2, 0.0)), out)
        return out

    @cached_property
    def _coarse(self) -> Floats:
        return self.points(ROUGH)

    def rough_height(self, dx: Floats) -> Floats:
        """The same, quickly, true to 1e-4 mm: it follows chords."""
        return np.interp(dx, self._coarse[:, 0], self._coarse[:, 1], left=np.inf, right=np.inf)

    def width_at(self, y: float) -> float:
        """How wide the tool is at a height, mm; 0 below its lowest place."""
        points = self._coarse
        low = int(np.argmin(points[:, 1]))
        if y < points[low, 1]:
            return 0.0
        right, left = points[low:], points[low::-1]
        return float(np.interp(y, right[:, 1], right[:, 0]) - np.interp(y, left[:, 1], left[:, 0]))

    def points(self, chord: float = 1e-5) -> Floats:
        """Places on it from left to right, (n, 2), between which straight chords stay within `chord` mm of it."""
        found: list[Point] = []
        for bend in self.bends:
            turn = bend.end - bend.begin
            step = 2 * math.acos(max(1 - chord / bend.radius, 0.0)) if bend.radius > chord else math.pi / 2
            many = max(1, math.ceil(turn / step)) if bend.radius > 0 else 0
            found += [bend.at(bend.begin + turn * i / max(many, 1)) for i in range(many + 1)]
        return np.array(found)


def _normals(segment: Segment) -> tuple[float, float]:
    """Directions of the outward normal where a segment begins and where it ends, from pi to 2 pi."""
    if isinstance(segment, Line):
        way = _outward(segment.tangent(0))
        return way, way
    return _outward(segment.tangent(0)), _outward(segment.tangent(segment.length))


def _outward(tangent: Point) -> float:
    return math.atan2(tangent.y, tangent.x) + 1.5 * math.pi
