"""The contact line as a height: how low a nose may stand above an outline at each x.

The nose centre may not come nearer to the outline than the nose radius, nor may the two edges of the tool, which run
on upward from the nose, cut what is next to it. For an outline that never turns back the places allowed are those
on or above one height at each x, exact from the segments' own parallels.
"""

from __future__ import annotations

import math

import numpy as np

from ovolo.geometry.chain import Chain, Floats
from ovolo.tolerances import ROUNDING

#: A nose that comes this near to a point at its side only touches it, mm.
TOUCHING = 1e-7


def contact_height(chain: Chain, x: Floats, radius: float, edges: tuple[float, float]) -> Floats:
    """Least height of the nose centre at each x, mm; -inf where nothing is touched.

    `x` in rising order, closely spaced (a shadow edge is found to the square of the spacing over 8 radii);
    `edges` the directions of the tool's left and right edge, radians from +x, between 0 and pi.
    """
    height = np.full_like(x, -np.inf)
    low, high = chain.extents
    for k in range(chain.count):
        i, j = np.searchsorted(x, (low[k] - radius, high[k] + radius + 1e-12))
        if i < j:
            height[i:j] = np.maximum(height[i:j], _piece_height(chain, k, x[i:j], radius))
    return _with_shadows(x, height, edges)


def _piece_height(chain: Chain, k: int, x: Floats, radius: float) -> Floats:
    ends = np.array([0.0, chain.size[k]])
    px, py = chain.offset_points(np.array([k, k]), ends, 0.0)
    height = np.maximum(_disc_over(x, px[0], py[0], radius), _disc_over(x, px[1], py[1], radius))
    if not chain.is_arc[k]:
        return np.maximum(height, _over_line(chain, k, x, radius))
    return np.maximum(height, _over_arc(chain, k, x, radius))


def _disc_over(x: Floats, px: float, py: float, radius: float) -> Floats:
    """Height of a disc that rests on one point."""
    inside = radius**2 - (x - px) ** 2
    return np.where(inside >= 2 * radius * TOUCHING, py + np.sqrt(np.maximum(inside, 0.0)), -np.inf)


def _over_line(chain: Chain, k: int, x: Floats, radius: float) -> Floats:
    nx, ny = chain.ty[k], -chain.tx[k]
    if ny < 1e-12:  # upright or overhanging: its ends decide
        return np.full_like(x, -np.inf)
    t = (x - chain.x0[k] - radius * nx) / chain.tx[k]
    on = (t >= 0) & (t <= chain.size[k])
    return np.where(on, chain.y0[k] + t * chain.ty[k] + radius * ny, -np.inf)


def _over_arc(chain: Chain, k: int, x: Floats, radius: float) -> Floats:
    sign = chain.sign[k]
    r = chain.radius[k] + sign * radius
    if r <= 0:  # the nose does not fit a hollow: it rests on the ends
        return np.full_like(x, -np.inf)
    dx = x - chain.x0[k]
    dy = sign * np.sqrt(np.maximum(r * r - dx * dx, 0.0))
    turn = (sign * (np.arctan2(dy, dx) - chain.angle0[k])) % (2 * math.pi)
    # At the side of a bulge the nose only touches; at the end of a hollow it is in it.
    on = (np.abs(dx) <= r - sign * TOUCHING) & ((turn <= chain.sweep[k] + 1e-6) | (turn > 2 * math.pi - 1e-6))
    return np.where(on, chain.y0[k] + dy, -np.inf)


def _with_shadows(x: Floats, height: Floats, edges: tuple[float, float]) -> Floats:
    """Raise the height where an edge would cut what is next to the nose."""
    left, right = edges
    if right < math.pi / 2 - ROUNDING:  # the right edge leans over the metal on the right
        height = _shadow(x, height, math.tan(right))
    if left > math.pi / 2 + ROUNDING:
        height = _shadow(-x[::-1], height[::-1], math.tan(math.pi - left))[::-1]
    return height


def _shadow(x: Floats, height: Floats, slope: float) -> Floats:
    """The height under lines that fall to the left with `slope` from every place."""
    level = np.maximum.accumulate((height - slope * x)[::-1])[::-1]
    return np.maximum(height, level + slope * x)
