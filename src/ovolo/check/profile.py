"""The height of the finished surface at close places, for many positions of the tools at once.

What stands at a place is the lowest that any tool's underside came over it. That is exact for an outline that does not
double back, and takes microseconds where a sweep of regions takes milliseconds. Cusps of ridges are met between two
places, so that they come out low by no more than the slope of their flanks times half the step: some 1 µm.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ovolo.check.positions import Positions
from ovolo.geometry.chain import Floats, Ints
from ovolo.shop.tools import EDGE_LENGTH

__all__ = ["ASIDE", "Places", "heights", "near_surface", "places"]

UPRIGHT = 1e-9
"""An edge that leans by no more than this out of the square is upright, radians."""

WAY = 1e-9
"""Shorter ways are none, mm."""

ASIDE = 0.12
"""Beside a steep wall the moves that count change within this way, mm."""

WIDE, STRIDE = 1.6, 0.2
"""What comes nearer than this is near the surface, looked at so closely, mm."""

FAR = 1e6
"""Higher than any metal, mm."""


@dataclass(frozen=True)
class Places:
    """Places along the axis, mm, each with the moves whose tools come near the surface there: `place` and `move` are
    the pairs, sorted by place, `first` where those of each place begin; `blank` is the height of the uncut piece."""

    x: Floats
    blank: Floats
    place: Ints
    move: Ints
    first: Ints

    def some(self, which: Ints) -> Places:
        """A few of the places, in rising order of their numbers."""
        count = np.diff(np.append(self.first, len(self.place)))[which]
        pairs = np.repeat(self.first[which] - np.concatenate([[0], np.cumsum(count)[:-1]]), count)
        pairs = pairs + np.arange(int(count.sum()))
        first = np.concatenate([[0], np.cumsum(count)[:-1]]).astype(np.int64)
        place = np.repeat(np.arange(len(which)), count)
        return Places(self.x[which], self.blank[which], place, self.move[pairs], first)


def places(positions: Positions, x: Floats, near: float, aside: float = ASIDE) -> Places:
    """Places with the moves whose undersides come within `near` mm of the surface there, or `aside` mm beside it."""
    frame = positions.frame
    found_place, found_move = [], []
    for begin in range(0, len(x), _CHUNK):
        part = x[begin : begin + _CHUNK]
        able = _reaching(positions, float(part.min()) - aside, float(part.max()) + aside)
        close = np.zeros((len(part), len(able)), dtype=np.bool_)
        for share in _SHARES:
            close |= _close(positions, part + share * aside, able, near)
        seen = np.logical_and(close, ~_beneath(positions, part, able))
        close = np.where(np.any(seen, axis=1)[:, None], seen, close)
        rows, columns = np.nonzero(close)
        found_place.append(rows + begin)
        found_move.append(able[columns])
    place, move = np.concatenate(found_place), np.concatenate(found_move)
    first = np.flatnonzero(np.diff(place, prepend=-1))
    return Places(x, frame.blank_top(x), place, move, first)


def _reaching(positions: Positions, low: float, high: float) -> Ints:
    """The moves whose tools come over a stretch at all; one at least."""
    first, last = np.minimum(positions.x0, positions.x1), np.maximum(positions.x0, positions.x1)
    left, right = positions.edges
    wide = np.array([tool.extent for tool in positions.tools])[positions.tool] + positions.radius
    before = np.where(left < np.pi / 2 - UPRIGHT, EDGE_LENGTH, wide)
    after = np.where(right < np.pi / 2 - UPRIGHT, EDGE_LENGTH, wide)
    able = np.flatnonzero((first - before <= high) & (last + after >= low))
    return able if len(able) else np.array([0], dtype=np.int64)


def _close(positions: Positions, x: Floats, able: Ints, near: float) -> NDArray[np.bool_]:
    """For each place which of some moves come near to the surface there; the nearest one always."""
    frame, n = positions.frame, len(able)
    place, which = (a.ravel() for a in np.indices((len(x), n)))
    over = _under(positions, x[place], able[which]).reshape(len(x), n)
    over = np.where(_beneath(positions, x, able), FAR, over)
    level = np.minimum(over.min(axis=1), frame.blank_top(x)) + near
    close = np.asarray(over <= np.maximum(level, frame.base + near)[:, None])
    close[np.arange(len(x)), over.argmin(axis=1)] = True
    return close


def _beneath(positions: Positions, x: Floats, able: Ints) -> NDArray[np.bool_]:
    """For each place which of some moves are beneath a lip there: (places, moves)."""
    out = np.zeros((len(x), len(able)), dtype=bool)
    if positions.under is not None:
        for lip, under in zip(positions.lips, positions.under, strict=True):
            out |= ((x >= lip.low) & (x <= lip.high))[:, None] & under[able]
    return out


_CHUNK = 300
_SHARES = (0.0, -0.4, 0.4, -1.0, 1.0)


def near_surface(positions: Positions) -> Positions:
    """The moves alone that come near the finished surface: what causes of a few tenths of a mm can bring into play."""
    frame = positions.frame
    x = np.arange(frame.back, frame.front_of_part + STRIDE, STRIDE)
    return positions.only(np.unique(places(positions, x, WIDE, aside=WIDE).move))


def heights(positions: Positions, spots: Places) -> Floats:
    """Height of the surface at each place, mm, in the planner's frame; leading axes are those of the positions."""
    over = _under(positions, spots.x[spots.place], spots.move)
    lowest = np.minimum.reduceat(over, spots.first, axis=-1)
    return np.minimum(_off_centre(positions, lowest), spots.blank)


def _off_centre(positions: Positions, y: Floats) -> Floats:
    """The radius that is cut at a radius of the slide, with the tool off centre height; no lower than the base."""
    frame, h = positions.frame, np.asarray(positions.height)[..., None]
    y = np.maximum(y, frame.base)
    if not np.any(h):
        return y
    return np.asarray(frame.sign * np.hypot(y, h))


def _under(positions: Positions, x: Floats, move: Ints) -> Floats:
    """The lowest underside over each of these places on each of these moves, pair by pair."""
    x0, x1, y0, y1 = (a[..., move] for a in (positions.x0, positions.x1, positions.y0, positions.y1))
    low, high = np.minimum(x0, x1), np.maximum(x0, x1)
    way = x1 - x0
    along = np.abs(way) > WAY
    slope = np.where(along, (y1 - y0) / np.where(along, way, 1.0), 0.0)
    radius = positions.radius[..., move]
    spot = radius * slope / np.hypot(1.0, slope) + positions.lowest[move]
    centre = np.clip(x - spot, low, high)
    y = np.where(along, y0 + slope * (centre - x0), np.minimum(y0, y1))
    return y + _shape(positions, x - centre, radius, move)


def _shape(positions: Positions, dx: Floats, radius: Floats, move: Ints) -> Floats:
    """Height of the underside over the nose centre, `dx` from it."""
    left, right = (edge[move] for edge in positions.edges)
    beyond = np.maximum(dx - positions.flat[..., move], 0.0)
    under = np.where(dx > 0, _side(radius, beyond, right), _side(radius, -np.minimum(dx, 0.0), left))
    for n, tool in enumerate(positions.tools):
        if not tool.edge.noses:
            mine = positions.tool[move] == n
            under[..., mine] = np.minimum(tool.edge.over(dx[..., mine]), FAR)
    return under


def _side(radius: Floats, away: Floats, angle: Floats) -> Floats:
    """One side of a tool: the nose, then an edge that rises at `angle`, or straight up."""
    nose = -np.sqrt(np.maximum(radius**2 - away**2, 0.0))
    leans = angle < np.pi / 2 - UPRIGHT
    if not leans.any():
        return np.where(away <= radius, nose, FAR)
    slanting = np.where(leans, angle, 0.5)
    edge = (away - radius * np.sin(slanting)) * np.tan(slanting) - radius * np.cos(slanting)
    on_edge = np.where(leans, away > radius * np.sin(slanting), away > radius)
    return np.where(on_edge, np.where(leans, edge, FAR), nose)
