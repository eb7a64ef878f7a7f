"""What a setting of a form tool covers: the same question as in `coverage`, for an underside of lines and arcs.

The outline's parallel at the height of the ridge lies inside the tool between two places where it crosses the tool's
border, its underside or the flanks that run straight up. Each piece of the parallel is a line or an arc, as each piece
of the border is, so every crossing is found by a formula; the first one on either side of the foot counts. What the
tool sweeps straight up lies in the tool itself; level along the axis its lowest place sweeps what it passes over.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ovolo.geometry.chain import Chain, Floats, Ints
from ovolo.geometry.coverage import RAY_STEP, Line, Settings, Spans
from ovolo.geometry.form_contact import FLANK, form_gap
from ovolo.geometry.underside import Bend, Side, Underside
from ovolo.tolerances import ROUNDING

#: Where the parallel over the foot lies outside a sharp tool, places to its sides are tried: this many ridges along the
#: outline, and as far as this round a corner, mm.
BESIDE, ROUND_A_CORNER = 6.0, 1.6


def form_settings(chain: Chain, x: Floats, y: Floats, form: Underside) -> Settings:
    """The settings at these places, in rising order of x: their feet and gaps; those far from the outline left out."""
    within = max(1.0, (form.right - form.left) / 4)
    u, gap = form_gap(chain, x, y, form, within)
    near = np.isfinite(gap)
    return Settings(x[near], y[near], u[near], gap[near], np.zeros(int(near.sum())))


def form_spans(chain: Chain, s: Settings, form: Underside, ridge: float, line: Line) -> Spans:
    """What each setting covers at this ridge [mm]. Settings with a gap over the ridge cover nothing.

    `first` and `last` are where the tool's lowest place has to be taken, toward the free end and toward the chuck.
    """
    found = Spans(np.full_like(s.x, np.inf), np.full_like(s.x, -np.inf), s.x + form.lowest[1].x, s.x + form.lowest[0].x)
    near = np.flatnonzero(s.gap <= ridge)
    some, tool = s.take(near), _Border.of(form)
    start = _starts(chain, some, form, ridge)
    end = _leaves(chain, some, start, tool, ridge, ahead=True)
    begin = _leaves(chain, some, start, tool, ridge, ahead=False)
    found.end[near], found.last[near] = _level(chain, some, end, form, ridge, line, ahead=True)
    found.begin[near], found.first[near] = _level(chain, some, begin, form, ridge, line, ahead=False)
    return found


@dataclass(frozen=True)
class _Border:
    """The tool's border: its underside, and the pieces of it that a parallel can cross."""

    form: Underside
    bends: tuple[Bend, ...]
    sides: tuple[Side, ...]

    @classmethod
    def of(cls, form: Underside) -> _Border:
        return cls(form, tuple(b for b in form.bends if b.radius > 0), (*form.sides, *form.flanks(FLANK)))


def _inside(form: Underside, dx: Floats, dy: Floats) -> np.ndarray:
    """Whether places, seen from the tool's origin, lie in the tool."""
    within = np.clip(dx, form.left, form.right)
    return np.asarray((np.abs(dx - within) <= ROUNDING) & (dy >= form.height(within) - ROUNDING))


def _over(chain: Chain, s: Settings, k: Ints, t: Floats, ridge: float) -> tuple[Floats, Floats]:
    """Places of the parallel as each setting's tool sees them."""
    px, py = chain.offset_points(k, t, ridge)
    return px - s.x, py - s.y


def _starts(chain: Chain, s: Settings, form: Underside, ridge: float) -> Floats:
    """A place of the parallel inside each tool: over its foot, or next to it where a sharp tool leaves that out."""
    start = s.u.copy()
    outside = np.flatnonzero(~_inside(form, *_over(chain, s, *chain.locate(s.u), ridge)))
    near = np.union1d(np.linspace(0, BESIDE * ridge, 25), np.linspace(0, ROUND_A_CORNER, 17))[1:]
    for away in np.ravel(np.c_[near, -near]):
        if not len(outside):
            break
        some = s.take(outside)
        u = np.clip(some.u + away, 0.0, chain.length)
        found = _inside(form, *_over(chain, some, *chain.locate(u), ridge))
        start[outside[found]] = u[found]
        outside = outside[~found]
    return start


def _leaves(chain: Chain, s: Settings, start: Floats, tool: _Border, ridge: float, *, ahead: bool) -> Floats:
    """Where the parallel leaves each tool, going ahead or back from a place inside it."""
    out = start.copy()
    open_ = np.arange(len(out))
    piece, t = chain.locate(start)
    trim_start, trim_end = chain.trims(ridge)
    first, last = trim_start, chain.size - trim_end  # the part of each piece's parallel that counts
    step, entry = (1 if ahead else -1), np.clip(t, first[piece], last[piece])
    while len(open_):
        some = s.take(open_)
        inside = _inside(tool.form, *_over(chain, some, piece, entry, ridge))
        leave = _crossing(chain, some, piece, entry, tool, ridge, ahead=ahead)
        stop = last[piece] if ahead else first[piece]
        leave = np.minimum(leave, stop) if ahead else np.maximum(leave, stop)
        # A tool that is only touched at the entry is left at once: half way to the next crossing decides.
        inside &= _inside(tool.form, *_over(chain, some, piece, (entry + leave) / 2, ridge))
        through = inside & (leave == stop)
        reached = np.where(through, chain.size[piece] if ahead else 0.0, np.where(inside, leave, entry))
        out[open_] = chain.starts[piece] + reached
        goes_on = through & (piece + step >= 0) & (piece + step < chain.count)
        open_, piece = open_[goes_on], piece[goes_on] + step
        entry = first[piece] if ahead else last[piece]
    return out


def _crossing(chain: Chain, s: Settings, k: Ints, entry: Floats, tool: _Border, ridge: float, *, ahead: bool) -> Floats:
    """The first place along each piece, going ahead or back from the entry, where its parallel crosses the border."""
    best = np.full(len(k), np.inf if ahead else -np.inf)
    arc = chain.is_arc[k]
    for which, crossings in ((np.flatnonzero(~arc), _on_lines), (np.flatnonzero(arc), _on_arcs)):
        if not len(which):
            continue
        for t in crossings(chain, s.take(which), k[which], tool, ridge):
            with np.errstate(invalid="ignore"):
                beyond = (t > entry[which] + ROUNDING) if ahead else (t < entry[which] - ROUNDING)
            found = np.where(beyond, t, best[which])
            best[which] = np.minimum(best[which], found) if ahead else np.maximum(best[which], found)
    return best


def _on_lines(chain: Chain, s: Settings, k: Ints, tool: _Border, ridge: float) -> list[Floats]:
    """Where the parallels of straight pieces cross the border, mm along each; nan where they don't."""
    tx, ty = chain.tx[k], chain.ty[k]
    ax, ay = chain.x0[k] + ridge * ty - s.x, chain.y0[k] - ridge * tx - s.y
    found = []
    for side in tool.sides:
        dx, dy = side.end.x - side.start.x, side.end.y - side.start.y
        cross = tx * dy - ty * dx
        level = np.where(np.abs(cross) < 1e-12, np.nan, cross)
        t = ((side.start.x - ax) * dy - (side.start.y - ay) * dx) / level
        share = ((side.start.x - ax) * ty - (side.start.y - ay) * tx) / level
        with np.errstate(invalid="ignore"):
            found.append(np.where((share >= -ROUNDING) & (share <= 1 + ROUNDING), t, np.nan))
    for bend in tool.bends:
        bx, by = bend.x - ax, bend.y - ay
        middle, off = bx * tx + by * ty, bx * ty - by * tx
        half = np.sqrt(np.where(np.abs(off) <= bend.radius, bend.radius**2 - off**2, np.nan))
        for t in (middle - half, middle + half):
            way = np.arctan2(t * ty - by, t * tx - bx)
            found.append(np.where(_holds(bend, way), t, np.nan))
    return found


def _on_arcs(chain: Chain, s: Settings, k: Ints, tool: _Border, ridge: float) -> list[Floats]:
    """The same for arcs."""
    cx, cy = chain.x0[k] - s.x, chain.y0[k] - s.y
    radius = np.maximum(chain.radius[k] + chain.sign[k] * ridge, 1e-12)
    along_arc, found = _along(chain, k), []
    for side in tool.sides:
        dx, dy = side.end.x - side.start.x, side.end.y - side.start.y
        size = math.hypot(dx, dy)
        along = ((cx - side.start.x) * dx + (cy - side.start.y) * dy) / size
        off = ((cx - side.start.x) * dy - (cy - side.start.y) * dx) / size
        half = np.sqrt(np.where(np.abs(off) <= radius, radius**2 - off**2, np.nan))
        for at in (along - half, along + half):
            px, py = side.start.x + at * dx / size - cx, side.start.y + at * dy / size - cy
            with np.errstate(invalid="ignore"):
                on = (at >= -ROUNDING) & (at <= size + ROUNDING)
            found.append(np.where(on, along_arc(np.arctan2(py, px)), np.nan))
    for bend in tool.bends:
        bx, by = bend.x - cx, bend.y - cy
        away = np.maximum(np.hypot(bx, by), 1e-12)
        cosine = (away**2 + radius**2 - bend.radius**2) / (2 * away * radius)
        half = np.arccos(np.where(np.abs(cosine) <= 1, cosine, np.nan))
        toward = np.arctan2(by, bx)
        for angle in (toward - half, toward + half):
            way = np.arctan2(radius * np.sin(angle) - by, radius * np.cos(angle) - bx)
            found.append(np.where(_holds(bend, way), along_arc(angle), np.nan))
    return found


def _holds(bend: Bend, way: Floats) -> np.ndarray:
    with np.errstate(invalid="ignore"):
        return bend.holds(way % (2 * math.pi))


def _along(chain: Chain, k: Ints) -> Callable[[Floats], Floats]:
    """What turns directions from the centres of arcs into mm along them, less than 0 before their start."""
    half, sign, first, scale = chain.sweep[k] / 2, chain.sign[k], chain.angle0[k], chain.size[k] / chain.sweep[k]

    def along(angle: Floats) -> Floats:
        turn = sign * (angle - first)
        return np.asarray((turn - 2 * math.pi * np.rint((turn - half) / (2 * math.pi))) * scale)

    return along


@lru_cache(maxsize=16)
def _places(chain: Chain) -> tuple[Floats, Floats, Floats, Floats, Floats, Ints, Ints]:
    """Close places along an outline: u, x, y, normal x and y; the last one, going ahead and going back, before the
    outline rises or leans over."""
    u = np.linspace(0.0, chain.length, max(3, math.ceil(chain.length / RAY_STEP)))
    x, y = chain.points(u)
    nx, ny = chain.normals(*chain.locate(u))
    n, leans = len(u), ny < -1e-7
    ahead = np.minimum.accumulate(np.where((nx > 1e-7) | leans, np.arange(n), n)[::-1])[::-1] - 1
    back = np.maximum.accumulate(np.where((nx < -1e-7) | leans, np.arange(n), -1)) + 1
    return u, x, y, nx, ny, ahead, back


def _level(
    chain: Chain, s: Settings, leave: Floats, form: Underside, ridge: float, line: Line, *, ahead: bool
) -> tuple[Floats, Floats]:
    """Carry on where the parallel runs level or falls: the tool taken along the axis sweeps it with its lowest place.

    Also where that place has to come to."""
    u, x, y, nx, ny, *limits = _places(chain)
    x, y = x + ridge * nx, y + ridge * ny
    side, edge = (-1.0, form.lowest[0].x) if ahead else (1.0, form.lowest[1].x)
    low = s.y + form.low - ROUNDING
    out, reach = leave.copy(), s.x + edge
    i = np.clip(np.searchsorted(u, leave, side="left" if ahead else "right") - (0 if ahead else 1), 0, len(u) - 1)
    limit = limits[0][i] if ahead else limits[1][i]
    on = (side * (np.interp(leave, u, x) - s.x - edge) >= -ROUNDING) & (np.interp(leave, u, y) >= low)
    which = np.flatnonzero(on & ((limit > i) if ahead else (limit < i)))
    if not len(which):
        return out, reach
    some, good, bad = s.take(which), i[which], limit[which] + (1 if ahead else -1)
    swept = y[good] >= low[which]
    while (apart := np.abs(bad - good) > 1).any():
        middle = (good + bad) // 2
        free = y[middle] >= low[which]
        good, bad = np.where(apart & free, middle, good), np.where(apart & ~free, middle, bad)
    farthest = line.limits(some.x, some.y, x[good] - edge, ahead=ahead) + edge
    falling = -np.minimum.accumulate(x)
    if ahead:
        good = np.minimum(good, np.maximum(np.searchsorted(falling, -farthest, side="right") - 1, 0))
    else:
        good = np.maximum(good, np.minimum(np.searchsorted(falling, -farthest, side="left"), len(u) - 1))
    better = swept & ((u[good] > out[which]) if ahead else (u[good] < out[which]))
    out[which] = np.where(better, u[good], out[which])
    there = side * np.maximum(side * x[good], side * reach[which])
    reach[which] = np.where(better, there, reach[which])
    return out, reach
