"""A chain of segments as arrays: thousands of points looked up at once.

A place on a chain is its parameter `u`, mm from the start. Where two segments meet in a convex corner the normal has
to turn while the place stands still: such a corner is given a length of its own (`pivot` mm for each radian), so that
along `u` the normal never jumps at a convex corner and every parallel of the chain is one unbroken curve there.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ovolo.geometry.segments import Line, Segment

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

#: Corners that turn by less than this count as smooth, radians.
SMOOTH = 1e-6


class Chain:
    """Segments that join end to end, metal on the left; see the module's text for `u`."""

    def __init__(self, segments: Sequence[Segment], pivot: float = 1.0) -> None:
        rows: list[tuple[float, ...]] = []
        before: Segment | None = None
        for segment in segments:
            if segment.length < 1e-9:
                continue
            if before is not None:
                rows.extend(_corner(before, segment, pivot))
            rows.append(_row(segment))
            before = segment
        table = np.array(rows)
        self.is_arc: NDArray[np.bool_] = table[:, 0] > 0
        self.x0, self.y0, self.tx, self.ty = table[:, 1], table[:, 2], table[:, 3], table[:, 4]
        self.radius, self.angle0, self.sign, self.sweep = table[:, 5], table[:, 6], table[:, 7], table[:, 8]
        self.size: Floats = table[:, 9]
        self.starts: Floats = np.concatenate([[0.0], np.cumsum(self.size)])
        self.length = float(self.starts[-1])
        self.count = len(rows)
        self._turns = self._hollow_turns()

    def _hollow_turns(self) -> Floats:
        """How far the chain turns into the air where each piece ends, radians; 0 where it is smooth or bulges."""
        k = np.arange(self.count - 1)
        ax, ay = self.normals(k, self.size[k])
        bx, by = self.normals(k + 1, np.zeros(self.count - 1))
        turn = np.arctan2(ax * by - ay * bx, ax * bx + ay * by)
        return np.maximum(-np.where(np.abs(turn) < 1e-5, 0.0, turn), 0.0)

    def trims(self, h: float) -> tuple[Floats, Floats]:
        """How much of each piece's parallel at height h lies beyond its crossing with the one before and the one after,
        mm: at a hollow corner the two cross, and what is beyond stands lower over the other side. True to h²/R.
        """
        short = h * np.tan(self._turns / 2)
        start, end = np.concatenate([[0.0], short]), np.concatenate([short, [0.0]])
        return np.minimum(start, self.size / 2), np.minimum(end, self.size / 2)

    def locate(self, u: Floats) -> tuple[Ints, Floats]:
        """The piece that holds each `u`, and how far into it, mm."""
        k = np.clip(np.searchsorted(self.starts, u, side="right") - 1, 0, self.count - 1)
        return k, u - self.starts[k]

    def normals(self, k: Ints, t: Floats) -> tuple[Floats, Floats]:
        """Unit normals (into the air) `t` mm into the pieces `k`."""
        a = self.angle0[k] + self.sign[k] * self.sweep[k] * t / self.size[k]
        arc, sign = self.is_arc[k], self.sign[k]
        return np.where(arc, sign * np.cos(a), self.ty[k]), np.where(arc, sign * np.sin(a), -self.tx[k])

    def offset_points(self, k: Ints, t: Floats, h: float) -> tuple[Floats, Floats]:
        """Points `h` mm above the chain, `t` mm into the pieces `k`."""
        nx, ny = self.normals(k, t)
        arc = self.is_arc[k]
        rise = np.where(arc, self.sign[k] * self.radius[k], 0.0) + h
        along = np.where(arc, 0.0, t)
        return self.x0[k] + along * self.tx[k] + rise * nx, self.y0[k] + along * self.ty[k] + rise * ny

    def points(self, u: Floats, h: float = 0.0) -> tuple[Floats, Floats]:
        """Points of the chain's parallel at height `h` mm."""
        k, t = self.locate(u)
        return self.offset_points(k, t, h)

    def nearest(self, x: Floats, y: Floats, k: int) -> tuple[Floats, Floats]:
        """(t, distance): how far into piece `k` the nearest point lies, and how far away it is, mm."""
        if not self.is_arc[k]:
            t = np.clip((x - self.x0[k]) * self.tx[k] + (y - self.y0[k]) * self.ty[k], 0.0, self.size[k])
            return t, np.hypot(x - self.x0[k] - t * self.tx[k], y - self.y0[k] - t * self.ty[k])
        dx, dy = x - self.x0[k], y - self.y0[k]
        turn = (self.sign[k] * (np.arctan2(dy, dx) - self.angle0[k])) % (2 * math.pi)
        # Beyond the end: the nearer of the two ends, which is decided by the angle left over.
        past = turn > self.sweep[k]
        near_start = turn - self.sweep[k] > (2 * math.pi - self.sweep[k]) / 2
        turn = np.where(past, np.where(near_start, 0.0, self.sweep[k]), turn)
        a = self.angle0[k] + self.sign[k] * turn
        gap = np.hypot(dx - self.radius[k] * np.cos(a), dy - self.radius[k] * np.sin(a))
        return turn / self.sweep[k] * self.size[k], gap

    @cached_property
    def extents(self) -> tuple[Floats, Floats]:
        """Least and greatest x of every piece, mm."""
        low, high = np.empty(self.count), np.empty(self.count)
        for k in range(self.count):
            t = np.linspace(0.0, self.size[k], 9)
            x, _ = self.offset_points(np.full(9, k), t, 0.0)
            spare = self.radius[k] * (1 - math.cos(self.sweep[k] / 16)) if self.is_arc[k] else 0.0
            low[k], high[k] = x.min() - spare, x.max() + spare
        return low, high

    def project(self, x: Floats, y: Floats, within: float) -> tuple[Floats, Floats]:
        """(u, distance) of the nearest point of the chain, looking only at pieces whose x comes within `within` mm.

        `x` must be in rising order. Points with no piece near get an infinite distance.
        """
        u, best = np.zeros_like(x), np.full_like(x, np.inf)
        low, high = self.extents
        for k in range(self.count):
            i, j = np.searchsorted(x, (low[k] - within, high[k] + within))
            if i == j:
                continue
            t, gap = self.nearest(x[i:j], y[i:j], k)
            nearer = gap < best[i:j] - 1e-12
            best[i:j] = np.where(nearer, gap, best[i:j])
            u[i:j] = np.where(nearer, self.starts[k] + t, u[i:j])
        return u, best


def _row(segment: Segment) -> tuple[float, ...]:
    if isinstance(segment, Line):
        t = segment.tangent(0)
        return (0, segment.start.x, segment.start.y, t.x, t.y, 0.0, 0.0, 1.0, 0.0, segment.length)
    c, sweep = segment.centre, segment.sweep
    sign = math.copysign(1.0, sweep)
    return (1, c.x, c.y, 0.0, 0.0, segment.radius, segment.angle0, sign, abs(sweep), segment.length)


def _corner(before: Segment, after: Segment, pivot: float) -> list[tuple[float, ...]]:
    """A convex corner as an arc of no radius; nothing where the joint is smooth or hollow."""
    a, b = before.normal(before.length), after.normal(0)
    turn = math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y)
    if turn < SMOOTH:
        return []
    p = after.start
    return [(1, p.x, p.y, 0.0, 0.0, 0.0, math.atan2(a.y, a.x), 1.0, turn, pivot * turn)]
