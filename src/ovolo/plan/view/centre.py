"""The tailstock's centre: it holds the free end and stands in the way, and what stays round it is cut off last.

A centre of 60° stands in a centre hole of the blank's front. Round the hole a rim of metal has to stay, or the centre
would have nothing to bear on: rim and hole together are the nub, a short cylinder round the axis between the part and
the front of the blank. The planner's tools keep clear of nub and centre as they keep clear of the part.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Point
from ovolo.shop.lathe import Lathe

#: Rise of the centre's point for each mm along the axis: half of 60°.
SLOPE = math.tan(math.radians(30))
#: Tools stay this far from the centre, mm.
CLEAR = 0.5
#: The rim of metal round the hole: half its radius, and never less than this, mm (common practice, no source).
LEAST_RIM = 1.0
#: How far the centre is taken to run on, mm.
FAR = 300.0
#: A nub shorter than this is none, mm.
NO_NUB = 0.01
#: Chordal error of the outline where the end of the nub is looked for, mm.
CHORD = 1e-3


@dataclass(frozen=True)
class Centre:
    """A centre in the end of the work, mm: the mouth of its hole at x = `front`, radii of mouth and body; the nub ends
    on the part at x = `inner`."""

    front: float
    hole: float
    body: float
    inner: float

    @property
    def nub(self) -> float:
        """Radius of the nub, mm.

        >>> Centre(front=0.5, hole=2.0, body=8.0, inner=0.0).nub
        3.0
        """
        return self.hole + max(self.hole / 2, LEAST_RIM)

    @property
    def nub_length(self) -> float:
        """How far the nub stands out of the part, mm; 0 where no metal stands in front of it.

        >>> Centre(front=0.5, hole=2.0, body=8.0, inner=0.0).nub_length
        0.5
        """
        length = self.front - self.inner
        return length if length > NO_NUB else 0.0

    @property
    def tip(self) -> float:
        """Where the point of the centre ends on the axis, x, mm."""
        return self.front - self.hole / SLOPE

    @cached_property
    def border(self) -> tuple[Point, ...]:
        """What tools stay out of, from the far end to the part: body and point with the clearance, and the nub."""
        body, mouth = self.body + CLEAR, self.hole + CLEAR / math.cos(math.radians(30))
        far = self.front + FAR
        if body <= self.nub:
            return (Point(far, self.nub), Point(self.inner, self.nub))
        shoulder, foot = (self.front + (y - mouth) / SLOPE for y in (body, self.nub))
        return (Point(far, body), Point(shoulder, body), Point(foot, self.nub), Point(self.inner, self.nub))

    @cached_property
    def chain(self) -> Chain:
        """The same as a chain, for contact lines."""
        return Chain(tuple(Line(a, b) for a, b in pairwise(self.border)))

    @property
    def top(self) -> float:
        """The highest place of it, mm."""
        return max(p.y for p in self.border)

    def height(self, x: Floats) -> Floats:
        """How high it stands at each x; -inf behind the end of the nub."""
        points = np.array(self.border)[::-1]
        return np.asarray(np.interp(x, points[:, 0], points[:, 1], left=-np.inf))


def centre_of(lathe: Lathe, outline: Outline, front: float) -> Centre | None:
    """The centre in front of an outline (in the planner's frame), where there is one and the job says how large it is.

    >>> centre_of(Lathe(), Outline((Line(Point(0, 5), Point(-9, 5)),)), 0.5) is None
    True
    """
    if lathe.holding == "chuck" or lathe.centre_hole is None or lathe.centre_body is None:
        return None
    found = Centre(front, lathe.centre_hole / 2, lathe.centre_body / 2, front)
    return Centre(found.front, found.hole, found.body, _reaches(outline, found.nub))


def hole_left(centre: Centre, outline: Outline) -> tuple[float, float] | None:
    """Radius and depth of the cone that the centre's hole leaves in the finished end, mm; None where the metal in front
    holds all of it.

    A hole of 4 mm, 1 mm in front of a flat end: 1 mm of its 3.46 mm is faced away.

    >>> end = Outline((Line(Point(0, 6), Point(-9, 6)),))
    >>> [round(size, 2) for size in hole_left(Centre(1.0, 2.0, 8.0, 0.0), end)]
    [1.42, 2.46]
    """
    points = np.vstack([[outline.start.x, 0.0], outline.flattened(CHORD)])
    over = points[:, 1] - (points[:, 0] - centre.tip) * SLOPE  # how far the part's surface lies outside the cone
    inside = np.flatnonzero(over < -CHORD)
    if not len(inside) or inside[-1] == len(points) - 1:
        return None
    i = int(inside[-1])
    share = over[i] / (over[i] - over[i + 1])
    radius = float(points[i, 1] + share * (points[i + 1, 1] - points[i, 1]))
    return radius, radius / SLOPE


def _reaches(outline: Outline, height: float) -> float:
    """Where an outline first reaches a height, coming from the free end; its far end where it never does."""
    points = np.array(outline.flattened(CHORD))
    over = np.flatnonzero(points[:, 1] >= height - 1e-9)
    return float(points[over[0], 0]) if len(over) else float(points[-1, 0])
