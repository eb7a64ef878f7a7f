"""What a setting covers: the stretch of the outline above which it leaves no more than the ridge specified.

Take the parallel of the outline at the height of the ridge. A setting of the nose removes the part of that parallel
that lies inside the nose, and what the nose sweeps on its way in and out: straight up, and along the axis on the side
from which it comes. Two settings leave no more than the ridge between them exactly when what they cover joins up, so
that the fewest settings are the fewest intervals that cover the curve, and taking each time the interval that reaches
farthest gives that number (an exchange of any other choice for it never costs a setting).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from ovolo.geometry.chain import Chain, Floats, Ints

#: Spacing of the places at which the swept rays are looked up, mm.
RAY_STEP = 0.01


@dataclass(frozen=True)
class Settings:
    """Nose centres to choose from, with their feet on the outline: place `u`, and the gap under the nose, mm.

    `shift` is how far the nose that touches lies from the tool's nose centre along x: the far corner of a blade.
    """

    x: Floats
    y: Floats
    u: Floats
    gap: Floats
    shift: Floats

    def take(self, which: NDArray[np.bool_] | Ints) -> Settings:
        """Some of them."""
        return Settings(self.x[which], self.y[which], self.u[which], self.gap[which], self.shift[which])

    @classmethod
    def joined(cls, many: Sequence[Settings]) -> Settings:
        """Those of one after the other."""
        fields = ("x", "y", "u", "gap", "shift")
        return cls(*(np.concatenate([getattr(one, field) for one in many]) for field in fields))


@dataclass(frozen=True)
class Spans:
    """What each setting covers, from `begin` to `end` along the outline, and how far along x its nose has to be taken
    at its own height to do so (`first` toward the free end, `last` toward the chuck), mm."""

    begin: Floats
    end: Floats
    first: Floats
    last: Floats

    def take(self, which: NDArray[np.bool_] | Ints) -> Spans:
        """Those of some settings."""
        return Spans(self.begin[which], self.end[which], self.first[which], self.last[which])


class Line(Protocol):
    """How far a tool can go level, and how wide it is between the corners that lead either way, mm."""

    @property
    def apart(self) -> float:
        """Between the centres of the two corners of a blade; 0 for one nose [mm]."""

    def limits(self, x: Floats, y: Floats, target: Floats, *, ahead: bool) -> Floats:
        """How far each nose can go level toward a target, which lies toward the chuck (`ahead`) or away from it."""


def nose_settings(
    chain: Chain, x: Floats, y: Floats, radius: float, shift: float, stretch: tuple[float, float]
) -> Settings:
    """The settings with the tool's nose centre at these places (rising in x) of which a nose of this radius, `shift`
    from there along x, touches a stretch of the outline or nearly so."""
    x = x + shift
    u, away = chain.project(x, y, radius * 1.5)
    near = (away < 1.5 * radius) & (u >= stretch[0] - radius) & (u <= stretch[1] + radius)
    return Settings(x[near], y[near], u[near], away[near] - radius, np.full(int(near.sum()), shift))


def spans(chain: Chain, settings: Settings, radius: float, ridge: float, line: Line) -> Spans:
    """What each setting covers at this ridge [mm]. Settings with a gap over the ridge cover nothing.

    `line` is the tool's contact line: a level sweep reaches no farther than the tool can go.
    """
    covers = settings.gap <= ridge
    some = settings.take(covers)
    k, t = chain.locate(some.u)
    curve = _Parallel.of(_places(chain), ridge)
    end = _leaves(chain, some, k, t, radius, ridge, ahead=True)
    begin = _leaves(chain, some, k, t, radius, ridge, ahead=False)
    end, last = curve.along_rays(some, end, radius, line, ahead=True)
    begin, first = curve.along_rays(some, begin, radius, line, ahead=False)
    out = Spans(*(np.full(len(covers), nothing) for nothing in (np.inf, -np.inf, 0.0, 0.0)))
    out.begin[covers], out.end[covers], out.first[covers], out.last[covers] = begin, end, first, last
    return out


def _leaves(chain: Chain, s: Settings, k: Ints, t: Floats, radius: float, ridge: float, *, ahead: bool) -> Floats:
    """Where the parallel leaves the nose, going ahead or back from each foot."""
    out = s.u.copy()
    open_, piece = np.arange(len(out)), k.copy()
    trim_start, trim_end = chain.trims(ridge)
    first, last = trim_start, chain.size - trim_end  # the part of each piece's parallel that counts
    step, entry = (1 if ahead else -1), np.clip(t, first[k], last[k])
    while len(open_):
        low, high = _inside(chain, s.x[open_], s.y[open_], piece, radius, ridge)
        leave = high if ahead else low
        outside = ~((low <= entry + 1e-9) & (high >= entry - 1e-9))
        out[open_] = chain.starts[piece] + np.where(outside, entry, np.clip(leave, 0.0, chain.size[piece]))
        goes_on = ~outside & ((leave >= last[piece]) if ahead else (leave <= first[piece]))
        goes_on &= (piece + step >= 0) & (piece + step < chain.count)
        open_, piece = open_[goes_on], piece[goes_on] + step
        entry = first[piece] if ahead else last[piece]
    return out


def _inside(chain: Chain, x: Floats, y: Floats, k: Ints, radius: float, ridge: float) -> tuple[Floats, Floats]:
    """The range of each piece's parallel that lies inside the nose, mm along the piece; (inf, -inf) where none."""
    dx, dy = x - chain.x0[k], y - chain.y0[k]
    # A straight piece: half a chord of the nose on the parallel.
    foot = dx * chain.tx[k] + dy * chain.ty[k]
    above = dx * chain.ty[k] - dy * chain.tx[k] - ridge
    half_line = np.sqrt(np.maximum(radius**2 - above**2, 0.0))
    # An arc: the law of cosines between the arc's centre, the nose and the point where the two circles meet.
    away = np.maximum(np.hypot(dx, dy), 1e-12)
    parallel = np.maximum(chain.radius[k] + chain.sign[k] * ridge, 1e-12)
    cosine = (away**2 + parallel**2 - radius**2) / (2 * away * parallel)
    half_turn = np.arccos(np.clip(cosine, -1.0, 1.0))
    sweep = np.where(chain.is_arc[k], chain.sweep[k], 1.0)
    turn = chain.sign[k] * (np.arctan2(dy, dx) - chain.angle0[k])
    turn = sweep / 2 + (turn - sweep / 2 + math.pi) % (2 * math.pi) - math.pi
    scale = chain.size[k] / sweep
    arc = chain.is_arc[k]
    middle, half = np.where(arc, turn * scale, foot), np.where(arc, half_turn * scale, half_line)
    missed = np.where(arc, cosine > 1, np.abs(above) > radius)
    return np.where(missed, np.inf, middle - half), np.where(missed, -np.inf, middle + half)


@dataclass(frozen=True)
class _Places:
    """Close places along an outline: where they are, their normals, and the ends of rising and falling stretches."""

    u: Floats
    x: Floats
    y: Floats
    nx: Floats
    ny: Floats
    stretches: tuple[Ints, Ints, Ints, Ints]


@lru_cache(maxsize=16)
def _places(chain: Chain) -> _Places:
    u = np.linspace(0.0, chain.length, max(3, math.ceil(chain.length / RAY_STEP)))
    x, y = chain.points(u)
    nx, ny = chain.normals(*chain.locate(u))
    leans = ny < -1e-7  # what leans over is cut by the nose itself, not by what it sweeps on its way
    falls, rises = (nx < -1e-7) | leans, (nx > 1e-7) | leans
    return _Places(u, x, y, nx, ny, (_next(falls), _next(rises), _previous(falls), _previous(rises)))


@dataclass(frozen=True)
class _Parallel:
    """The outline's parallel at the height of the ridge, at close places, with the ends of its rising and falling
    stretches: a ray swept by the nose counts only within one of them."""

    u: Floats
    x: Floats
    y: Floats
    falls_from: Ints
    rises_from: Ints
    rose_until: Ints
    fell_until: Ints

    @classmethod
    def of(cls, places: _Places, ridge: float) -> _Parallel:
        x, y = places.x + ridge * places.nx, places.y + ridge * places.ny
        return cls(places.u, x, y, *places.stretches)

    def along_rays(
        self, s: Settings, leave: Floats, radius: float, line: Line, *, ahead: bool
    ) -> tuple[Floats, Floats]:
        """Carry on where the parallel lies in what the nose sweeps straight up, or level along the axis [mm]."""
        out, reach = leave.copy(), s.x.copy()
        x, y = np.interp(leave, self.u, self.x), np.interp(leave, self.u, self.y)
        side = 1.0 if not ahead else -1.0  # ahead is toward the chuck
        i = np.searchsorted(self.u, leave, side="left" if ahead else "right") - (0 if ahead else 1)
        i = np.clip(i, 0, len(self.u) - 1)
        for level in (False, True):
            table = (
                (self.rises_from if level else self.falls_from)
                if ahead
                else (self.rose_until if level else self.fell_until)
            )
            limit = table[i]
            on = (y < s.y) & ((x - s.x) * side >= -1e-9) if level else y >= s.y - 1e-9
            on &= (limit > i) if ahead else (limit < i)
            which = np.flatnonzero(on)
            if not len(which):
                continue
            j = self._carry(s.take(which), i[which], limit[which], radius, level, ahead)
            if level:
                j = self._as_far_as(line, s.take(which), j, ahead)
            better = (self.u[j] > out[which]) if ahead else (self.u[j] < out[which])
            out[which] = np.where(better, self.u[j], out[which])
            if level:
                reach[which] = np.where(better, side * np.maximum(side * self.x[j], side * s.x[which]), reach[which])
        return out, reach

    def _as_far_as(self, line: Line, s: Settings, j: Ints, ahead: bool) -> Ints:
        """No farther than where the tool can go level."""
        leading = 0.0 if ahead else line.apart  # the corner that leads, from the tool's nose centre
        limit = line.limits(s.x - s.shift, s.y, self.x[j] - leading, ahead=ahead) + leading
        falling = -np.minimum.accumulate(self.x)
        if ahead:
            return np.minimum(j, np.maximum(np.searchsorted(falling, -limit, side="right") - 1, 0))
        return np.maximum(j, np.minimum(np.searchsorted(falling, -limit, side="left"), len(self.u) - 1))

    def _carry(self, s: Settings, i: Ints, limit: Ints, radius: float, level: bool, ahead: bool) -> Ints:
        """The farthest place up to `limit` that still lies in the ray, by halving."""
        good, bad = i.copy(), limit + (1 if ahead else -1)
        while (np.abs(bad - good) > 1).any():
            middle = good + np.fix((bad - good) / 2).astype(np.int64)  # of two neighbours the good one
            inside = self.y[middle] >= s.y - radius - 1e-9 if level else np.abs(self.x[middle] - s.x) <= radius + 1e-9
            good, bad = np.where(inside, middle, good), np.where(inside, bad, middle)
        first = self.y[i] >= s.y - radius - 1e-9 if level else np.abs(self.x[i] - s.x) <= radius + 1e-9
        back = np.clip(i - (1 if ahead else -1), 0, len(self.u) - 1)
        return np.where(first, good, back)


def _next(flags: NDArray[np.bool_]) -> Ints:
    """For each place, the next one with a flag (or the last of all).

    The outline turns somewhere between that one and the one before: what serves either side has to reach over it.
    """
    n = len(flags)
    ahead = np.where(flags, np.arange(n), n - 1)
    return np.minimum.accumulate(ahead[::-1])[::-1]


def _previous(flags: NDArray[np.bool_]) -> Ints:
    """For each place, the last one before it with a flag (or the first of all)."""
    behind = np.where(flags, np.arange(len(flags)), 0)
    return np.maximum.accumulate(behind)
