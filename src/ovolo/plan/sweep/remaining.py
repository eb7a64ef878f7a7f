"""What stands above the curve when all moves are made: every place of its border, and how high it is there.

Metal stands over that place of the part's border that is nearest to it; its height is the distance.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from ovolo.geometry.chain import Floats, Ints
from ovolo.plan.sweep.sweep import centre_region, part_region
from ovolo.plan.view.frame import Frame

#: The border of what stands is looked at as closely as this, mm, and where it is highest to this.
CLOSE, FINE = 0.02, 1e-4
#: What is thinner than this on average is the rounding of two computations, no metal, mm.
HAIR = 2e-6
#: What stands no farther from the outline than this has its foot found by looking no farther, mm.
NEARBY = 1.0


@dataclass(frozen=True)
class Over:
    """Points, (n, 2), their feet on the outline, heights, mm, and whether they stand over the curve."""

    points: Floats
    u: Floats
    height: Floats
    counts: NDArray[np.bool_]

    def at(self, which: Ints | NDArray[np.bool_]) -> Over:
        """Some of them."""
        return Over(self.points[which], self.u[which], self.height[which], self.counts[which])

    def joined(self, other: Over) -> Over:
        """These and then others."""
        points, u = np.vstack([self.points, other.points]), np.concatenate([self.u, other.u])
        return Over(points, u, np.concatenate([self.height, other.height]), np.concatenate([self.counts, other.counts]))

    @property
    def highest(self) -> float:
        """The greatest height over the curve, mm."""
        return float(self.height[self.counts].max(initial=0.0))


def left_standing(frame: Frame, rest: shapely.Geometry) -> tuple[Floats, Floats, Floats]:
    """(u, height, points) of what stands above the curve: the border of the metal left, close places along it.

    `u` is the foot on the outline, `height` the distance from it, mm; `points` are (n, 2) in the planner's frame. The
    highest of them is as high as the border gets, to FINE.
    """
    parts = shapely.get_parts(shapely.difference(rest, shapely.union(part_region(frame), _nub_region(frame))))
    parts = parts[shapely.area(parts) > HAIR * shapely.length(parts)]
    rings = shapely.segmentize(shapely.get_rings(parts), CLOSE)
    points, of = shapely.get_coordinates(rings, return_index=True)
    over = _over(frame, points)
    found = [over, *_summits(frame, over, np.flatnonzero(of[1:] == of[:-1]))]
    u = np.concatenate([some.u[some.counts] for some in found])
    height = np.concatenate([some.height[some.counts] for some in found])
    return u, height, np.vstack([some.points[some.counts] for some in found])


def _nub_region(frame: Frame) -> shapely.Geometry:
    """What stays on the end of the part until the nub is cut off: nothing of it stands over the curve."""
    start = frame.outline.start
    if frame.centre is None:
        return shapely.Polygon()
    return shapely.union(centre_region(frame), shapely.box(start.x, 0.0, frame.front + 1.0, start.y))


def _over(frame: Frame, points: Floats) -> Over:
    u, height = _feet(frame, points)
    x, _ = frame.chain.points(u)
    high, low = max(frame.job.part.curve), min(frame.job.part.curve)
    counts = (x <= high + 1e-6) & (x >= low - 1e-6) & (points[:, 1] >= frame.base - 1e-9)
    # What has its foot on the very ends of the outline stands beside it, unless the outline ends on the axis.
    counts &= u >= (frame.nub_end - 1e-9 if frame.nub_end else 0.0)
    counts &= (u < frame.chain.length - 1e-9) & ((u > 1e-9) | frame.on_axis)
    return Over(points, u, height, counts & ~_over_the_end_face(frame, points, height))


def _over_the_end_face(frame: Frame, points: Floats, height: Floats) -> NDArray[np.bool_]:
    """Whether points are nearer to the end face than to the outline, which may have a hollow behind the face: what
    stands there has its foot on the face, and the part lies between it and the hollow."""
    start = frame.outline.start
    ahead = points[:, 0] - start.x
    return np.asarray((ahead >= 0) & (points[:, 1] <= start.y) & (ahead < height))


def _feet(frame: Frame, points: Floats) -> tuple[Floats, Floats]:
    """(u, distance) of the nearest places of the outline; most points lie close over it and need not look far."""
    order = np.argsort(points[:, 0], kind="stable")
    x, y = points[order].T
    u, away = frame.chain.project(x, y, NEARBY)
    far = away > NEARBY
    u[far], away[far] = frame.chain.project(x[far], y[far], 2.0 * frame.job.shop.stock.radius)
    back = np.argsort(order, kind="stable")
    return u[back], away[back]


def _summits(frame: Frame, over: Over, edges: Ints) -> list[Over]:
    """Higher places of the border than its close ones: in a hollow corner most stands right between the two sides, on
    the flank of a ridge at the very end of the curve.

    `edges` are the numbers of those points that the next one is joined to. Along an edge the height changes by no more
    than the way gone: an edge that may hide something higher by more than FINE is halved.
    """
    found: list[Over] = []
    one, other, best = over.at(edges), over.at(edges + 1), over.highest
    while True:
        size = np.hypot(*(other.points - one.points).T)
        live = (one.counts | other.counts) & (one.height + other.height + size > 2 * (best + FINE))
        if not live.any():
            return found
        one, other = one.at(live), other.at(live)
        middle = _over(frame, (one.points + other.points) / 2)
        best = max(best, middle.highest)
        found.append(middle)
        one, other = one.joined(middle), middle.joined(other)
