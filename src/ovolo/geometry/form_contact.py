"""How low a form tool may stand above an outline at each x, and how near it comes to it: exact, bend by bend.

Two shapes touch where their normals are opposite. So every bend of the tool is held against every piece of the outline
as a disc would be, but only where the contact falls among the normals of that bend; every straight side of it against
the points where pieces join and against the place of a bulge whose normal is opposite to its own. What a disc does is
in `contact`; a corner is a disc of no radius.
"""

from __future__ import annotations

import math

import numpy as np

from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.contact import TOUCHING
from ovolo.geometry.underside import Bend, Side, Underside

#: A line nearer to upright than this (the cosine of its normal to straight up) is met by its ends, not along itself.
STEEP = 1e-3
#: How far up its flanks a tool is looked at, mm.
FLANK = 60.0
#: How far inside the metal a touching tool may seem to be by rounding, mm.
ROUNDING = 1e-5


def form_height(chain: Chain, x: Floats, form: Underside) -> Floats:
    """Least height of the tool's own origin at each x (rising), mm; -inf where nothing is touched."""
    height = np.full_like(x, -np.inf)
    for k in range(chain.count):
        for bend in form.bends:
            left, right = bend.at(bend.begin).x, bend.at(bend.end).x
            i, j = _near(chain, x, k, left, right, 2 * TOUCHING)
            if i < j:
                height[i:j] = np.maximum(height[i:j], _over_piece(chain, k, x[i:j], bend) - bend.y)
    # A tool that only passes a point doesn't touch it.
    left, right = form.left + TOUCHING, form.right - TOUCHING
    for px, py in _points(chain):
        i, j = np.searchsorted(x, (px - right, px - left))
        if i < j:
            height[i:j] = np.maximum(height[i:j], py - form.height(px - x[i:j]))
    for side in form.sides:
        for px, py in _tangent_points(chain, side):
            i, j = np.searchsorted(x, (px - side.end.x, px - side.start.x))
            if i < j:
                height[i:j] = np.maximum(height[i:j], py - _on_side(side, px - x[i:j]))
    return height


def _near(chain: Chain, x: Floats, k: int, left: float, right: float, spare: float) -> tuple[int, int]:
    """The range of x at which a part of the tool from left to right lies over a piece."""
    low, high = chain.extents
    i, j = np.searchsorted(x, (low[k] - right - spare, high[k] - left + spare))
    return int(i), int(j)


def _points(chain: Chain) -> list[tuple[float, float]]:
    """Where the pieces of a chain begin and end."""
    k = np.arange(chain.count)
    x, y = chain.offset_points(k, np.zeros(chain.count), 0.0)
    end = chain.offset_points(k[-1:], chain.size[-1:], 0.0)
    places = [*zip(x.tolist(), y.tolist(), strict=True), (float(end[0][0]), float(end[1][0]))]
    return list(dict.fromkeys(places))


def _tangent_points(chain: Chain, side: Side) -> list[tuple[float, float]]:
    """The places of bulging arcs whose normal is opposite to a straight side's."""
    places = []
    for k in np.flatnonzero(chain.is_arc & (chain.sign > 0) & (chain.radius > 0)):
        turn = (side.normal + math.pi - chain.angle0[k]) % (2 * math.pi)
        if turn <= chain.sweep[k]:
            px, py = chain.offset_points(np.array([k]), np.array([turn / chain.sweep[k] * chain.size[k]]), 0.0)
            places.append((float(px[0]), float(py[0])))
    return places


def _on_side(side: Side, dx: Floats) -> Floats:
    rise = (side.end.y - side.start.y) / (side.end.x - side.start.x) if side.end.x > side.start.x else 0.0
    return side.start.y + (dx - side.start.x) * rise


def _over_piece(chain: Chain, k: int, x: Floats, bend: Bend) -> Floats:
    """Height of the bend's centre where it rests on the inside of a piece."""
    if not chain.is_arc[k]:
        return _over_line(chain, k, x, bend)
    return _over_arc(chain, k, x, bend) if chain.radius[k] > 0 else np.full_like(x, -np.inf)


def _over_line(chain: Chain, k: int, x: Floats, bend: Bend) -> Floats:
    nx, ny = chain.ty[k], -chain.tx[k]
    if ny < 1e-12 or not bend.holds(np.array([math.atan2(-ny, -nx) % (2 * math.pi)]))[0]:
        return np.full_like(x, -np.inf)
    t = (x + bend.x - chain.x0[k] - bend.radius * nx) / chain.tx[k]
    past = TOUCHING if ny > STEEP else 0.0
    on = (t >= -past) & (t <= chain.size[k] + past)
    along = np.clip(t, 0.0, chain.size[k])
    return np.where(on, chain.y0[k] + along * chain.ty[k] + bend.radius * ny, -np.inf)


def _over_arc(chain: Chain, k: int, x: Floats, bend: Bend) -> Floats:
    sign = chain.sign[k]
    r = chain.radius[k] + sign * bend.radius
    if r <= 0:  # the bend does not fit a hollow: other places of the tool touch it
        return np.full_like(x, -np.inf)
    dx = x + bend.x - chain.x0[k]
    dy = sign * np.sqrt(np.maximum(r * r - dx * dx, 0.0))
    turn = (sign * (np.arctan2(dy, dx) - chain.angle0[k])) % (2 * math.pi)
    on = (np.abs(dx) <= r - sign * TOUCHING) & ((turn <= chain.sweep[k] + 1e-6) | (turn > 2 * math.pi - 1e-6))
    on &= bend.holds(np.arctan2(-sign * dy, -sign * dx) % (2 * math.pi))
    return np.where(on, chain.y0[k] + dy, -np.inf)


def form_gap(chain: Chain, x: Floats, y: Floats, form: Underside, within: float) -> tuple[Floats, Floats]:
    """(u, gap): the place of the outline nearest to the tool, its origin at (x, y), and how far away that is, mm.

    `x` in rising order. Gaps over `within` mm are infinite.
    """
    u, best = np.zeros_like(x), np.full_like(x, np.inf)

    def keep(i: int, j: int, place: Floats, gap: Floats) -> None:
        nearer = (gap < best[i:j] - 1e-12) & (gap >= -ROUNDING) & (gap <= within)
        best[i:j], u[i:j] = np.where(nearer, gap, best[i:j]), np.where(nearer, place, u[i:j])

    for k in range(chain.count):
        for bend in form.bends:
            left, right = bend.at(bend.begin).x, bend.at(bend.end).x
            i, j = _near(chain, x, k, left, right, within)
            if i < j:
                keep(i, j, *_bend_gap(chain, k, x[i:j], y[i:j], bend))
    for side in (*form.sides, *form.flanks(FLANK)):
        for place, (px, py) in _met_by(chain, side):
            i, j = np.searchsorted(x, (px - side.end.x - within, px - side.start.x + within))
            if i < j:
                gap = _side_gap(side, px - x[i:j], py - y[i:j])
                keep(int(i), int(j), np.full(len(gap), place), gap)
    return u, best


def _bend_gap(chain: Chain, k: int, x: Floats, y: Floats, bend: Bend) -> tuple[Floats, Floats]:
    """How far a piece of the outline lies from a bend, along one of the bend's normals; and where."""
    cx, cy = x + bend.x, y + bend.y
    t, away = chain.nearest(cx, cy, k)
    t, away, on = _sighted(chain, k, cx, cy, t, away, bend)
    for end in (0.0, float(chain.size[k])):  # a place farther off may lie before the bend where the nearest does not
        other = np.full_like(cx, end)
        px, py = chain.offset_points(np.full(len(cx), k), other, 0.0)
        _, far, there = _sighted(chain, k, cx, cy, other, np.hypot(px - cx, py - cy), bend)
        better = there & (~on | (far < away))
        t, away, on = np.where(better, other, t), np.where(better, far, away), on | there
    return chain.starts[k] + t, np.where(on, away - bend.radius, np.inf)


def _sighted(
    chain: Chain, k: int, cx: Floats, cy: Floats, t: Floats, away: Floats, bend: Bend
) -> tuple[Floats, Floats, np.ndarray]:
    """The same places, and whether each lies in the direction of one of the bend's normals."""
    px, py = chain.offset_points(np.full(len(cx), k), t, 0.0)
    way = np.arctan2(py - cy, px - cx) % (2 * math.pi)
    return t, away, bend.holds(way) | (away < 1e-9)


def _met_by(chain: Chain, side: Side) -> list[tuple[float, tuple[float, float]]]:
    """(u, place) of all that a straight side can meet: the bulges, corners too, and where pieces join."""
    k = np.arange(chain.count)
    turn = (side.normal + math.pi - chain.angle0) % (2 * math.pi)
    bulges = np.flatnonzero(chain.is_arc & (chain.sign > 0) & (turn <= chain.sweep))
    t = turn[bulges] / chain.sweep[bulges] * chain.size[bulges]
    pieces = np.concatenate([bulges, k, k[-1:]])
    t = np.concatenate([t, np.zeros(chain.count), chain.size[-1:]])
    x, y = chain.offset_points(pieces, t, 0.0)
    places = zip(x.tolist(), y.tolist(), strict=True)
    return list(zip((chain.starts[pieces] + t).tolist(), places, strict=True))


def _side_gap(side: Side, dx: Floats, dy: Floats) -> Floats:
    """How far places lie from a straight side, outward; inf where they are not square to it."""
    ax, ay = side.end.x - side.start.x, side.end.y - side.start.y
    size = math.hypot(ax, ay)
    along = ((dx - side.start.x) * ax + (dy - side.start.y) * ay) / size
    out = ((dx - side.start.x) * ay - (dy - side.start.y) * ax) / size
    return np.where((along >= -1e-9) & (along <= size + 1e-9), out, np.inf)
