"""Tracks: what a tool sweeps on each of its moves, for all moves of a plan at once.

Along a straight move a convex polygon sweeps the hull of itself at both ends: the corners that look ahead stand at the
end of the move, the others at its start, and those between stand at both. So one table of corners serves all moves of
a tool in one direction.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from ovolo.geometry.chain import Floats, Ints
from ovolo.geometry.segments import Point
from ovolo.tolerances import ROUNDING

#: Shapely geometries, one for each move.
Geometries = NDArray[np.object_]


class Tracks:
    """The tracks of one convex shape after the other along straight moves, (start, end) of its origin, mm.

    With `mirrored`, what a track takes beyond the axis is taken on this side too, for the work turns.
    """

    def __init__(self, shapes: Sequence[Floats], moves: Sequence[tuple[Point, Point]], *, mirrored: bool) -> None:
        self.shapes = shapes
        self.starts = np.array([m[0] for m in moves], dtype=np.float64).reshape(-1, 2)
        self.ends = np.array([m[1] for m in moves], dtype=np.float64).reshape(-1, 2)
        self.regions: Geometries = np.empty(len(moves), dtype=object)
        for (_, ahead), which in self._alike().items():
            self.regions[which] = _hulls(shapes[which[0]], self.starts[which], self.ends[which], ahead)
        self.bounds: Floats = shapely.bounds(self.regions).reshape(-1, 4)
        self.turned = (self.bounds[:, 1] < 0) & mirrored
        if self.turned.any():
            self.regions[self.turned] = _with_image(self.regions[self.turned])
            self.bounds[self.turned] = shapely.bounds(self.regions[self.turned])

    def _alike(self) -> dict[tuple[int, tuple[float, float]], Ints]:
        """Moves of one shape in one direction."""
        way = self.ends - self.starts
        length = np.hypot(way[:, 0], way[:, 1])
        way = np.where(length[:, None] > 0, way / np.where(length > 0, length, 1.0)[:, None], 0.0)
        groups: dict[tuple[int, tuple[float, float]], list[int]] = defaultdict(list)
        for i, (x, y) in enumerate(way.tolist()):
            groups[id(self.shapes[i]), (x, y)].append(i)
        return {key: np.array(which) for key, which in groups.items()}

    def lowest(self, edges: Floats) -> Floats:
        """Nothing of a track lies lower than this between two neighbouring edges along x: (moves, edges - 1), mm; inf
        where the track does not come between them."""
        out = np.full((len(self.regions), len(edges) - 1), -np.inf)
        low, high = np.sort([self.starts, self.ends], axis=0)
        groups = defaultdict(list)
        for i, shape in enumerate(self.shapes):
            groups[id(shape)].append(i)
        for which in groups.values():
            x, y = _underside(self.shapes[which[0]])
            left, right = edges[:-1] - high[which, :1], edges[1:] - low[which, :1]  # of the shape over these places
            deepest = x[np.argmin(y)]
            nearest = np.clip(deepest, left, right)
            under = np.interp(nearest, x, y, left=np.inf, right=np.inf)
            out[which] = low[which, 1:] + under - ROUNDING
        out[self.turned] = -np.inf
        beyond = (edges[:-1] > self.bounds[:, 2:3]) | (edges[1:] < self.bounds[:, :1])
        out[beyond] = np.inf
        return out


def _hulls(shape: Floats, starts: Floats, ends: Floats, ahead: tuple[float, float]) -> Geometries:
    """The hulls of a convex polygon at both ends of moves in one direction."""
    shape = shape[np.hypot(*(shape - np.roll(shape, 1, axis=0)).T) > ROUNDING]
    which, at_end = _corners(shape, ahead)
    places = np.where(at_end[None, :, None], ends[:, None, :], starts[:, None, :])
    return np.asarray(shapely.polygons(shape[which] + places))


def _corners(shape: Floats, ahead: tuple[float, float]) -> tuple[Ints, NDArray[np.bool_]]:
    """The corners of a hull in order, each as a corner of the shape and whether it stands at the end of the move."""
    edge = np.roll(shape, -1, axis=0) - shape
    leans = _sense(shape) * (edge[:, 1] * ahead[0] - edge[:, 0] * ahead[1]) / np.hypot(*edge.T)
    looks_ahead = leans > ROUNDING
    before = np.roll(looks_ahead, 1)
    twice = 1 + (before != looks_ahead)
    which = np.repeat(np.arange(len(shape)), twice)
    at_end = np.repeat(before, twice)
    second = np.cumsum(twice) - 1
    at_end[second] = looks_ahead
    return which, at_end


def _with_image(regions: Geometries) -> Geometries:
    """Regions with the image of what lies beyond the axis."""
    over = shapely.intersection(regions, shapely.box(-1e4, -1e4, 1e4, 0.0))
    return np.asarray(shapely.union(regions, shapely.transform(over, lambda points: points * [1.0, -1.0])))


def _underside(shape: Floats) -> tuple[Floats, Floats]:
    """The lower corners of a convex polygon in rising order of x."""
    ring = shape[:: int(_sense(shape))]
    ring = np.roll(ring, -int(np.lexsort((ring[:, 1], ring[:, 0]))[0]), axis=0)
    last = int(np.lexsort((ring[:, 1], -ring[:, 0]))[0])
    return ring[: last + 1, 0], ring[: last + 1, 1]


def _sense(shape: Floats) -> float:
    """1 where the corners of a polygon run counter-clockwise, -1 where they run clockwise."""
    following = np.roll(shape, -1, axis=0)
    return math.copysign(1.0, float(np.sum(shape[:, 0] * following[:, 1] - shape[:, 1] * following[:, 0])))
