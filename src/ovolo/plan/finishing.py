"""Finishing: from setting to setting in single-slide moves, each cut kept narrow.

Where the outline rises toward the chuck less steeply than 45°, the settings are taken outward: the cross slide is wound
out, the saddle cuts toward the chuck. Where it is steeper they are taken inward: the saddle is wound back, the cross
slide cuts toward the axis. Between two settings the nose goes round the outer corner, which is always free.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np

from ovolo.plan.frame import Frame
from ovolo.plan.metal import Metal
from ovolo.plan.stations import Pass
from ovolo.plan.walk import Walk

#: Shorter moves than this are none, mm.
STILL = 1e-9
#: Slope at which a climbing outline is cut inward instead of outward: normals nearer the axis than this, cosine.
STEEP = math.cos(math.pi / 4)
#: So near to 45° a setting may be cut either way, radians.
EITHER = math.radians(25)
#: So many settings beside those are looked at with them.
BESIDE = 3
#: Cuts smaller than this are no cuts, mm².
LEAST = 1.5e-3


@dataclass(frozen=True)
class Run:
    """Settings that follow each other without withdrawing."""

    passes: tuple[Pass, ...]


def runs(frame: Frame, passes: Sequence[Pass], metal: Metal | None = None) -> list[Run]:
    """Settings in the order in which they are cut, the free end first.

    With `metal`, where two ways meet near 45° they do so where it makes their cuts most even.
    """
    groups = [(kind, list(group)) for kind, group in groupby(passes, key=lambda p: _kind(frame, p))]
    if metal is not None:
        for (one, before), (_, after) in pairwise(groups):
            _meet(frame, metal, before, after, inward_first=one == "inward")
    return [_run(kind, group) for kind, group in groups]


def _meet(frame: Frame, metal: Metal, before: list[Pass], after: list[Pass], *, inward_first: bool) -> None:
    """Shift settings from the end of one group to the beginning of the next, so that the cuts there are most even.

    On a bulge the two ways run apart, and the first cut has metal on either side of the nose; in a hollow they run
    toward each other, and the last cut has metal on neither.
    """
    every, here = [*before, *after], len(before)
    fits = [_near_diagonal(frame, p) for p in every]
    low = high = here
    while low > 1 and fits[low - 1]:
        low -= 1
    while high < len(every) - 1 and fits[high]:
        high += 1
    if low == high:
        return
    first, last = max(low - BESIDE, 0), high + BESIDE

    def unevenness(meet: int) -> float:
        one, other = every[first:meet], every[meet:last]
        return _unevenness(metal, [*one[::-1], *other] if inward_first else [*one, *other[::-1]])

    meet = min(range(low, high + 1), key=unevenness)
    before[:], after[:] = every[:meet], every[meet:]


def _unevenness(metal: Metal, order: Sequence[Pass]) -> float:
    """The ratio of the largest to the smallest of what settings take in this order, plain passes aside."""
    metal = metal.with_tool(metal.tool)
    every = [(item.station, metal.take_level(item.y, item.first, item.last)) for item in order]
    takes = [area for station, area in every if station]
    return max(takes, default=0.0) / max(min(takes, default=0.0), LEAST)


def _near_diagonal(frame: Frame, item: Pass) -> bool:
    """Whether a setting may as well be cut one way as the other."""
    nx, _ = frame.chain.normals(*frame.chain.locate(np.array([item.foot])))
    return item.first - item.last <= STILL and abs(math.acos(max(min(nx[0], 1.0), -1.0)) - math.pi / 4) < EITHER


def _kind(frame: Frame, item: Pass) -> str:
    if item.first - item.last > STILL:  # a plain pass ends where it then goes straight up: what it promises to sweep
        return "onward"
    nx, _ = frame.chain.normals(*frame.chain.locate(np.array([item.foot])))
    return "inward" if nx[0] > STEEP else "onward"


def _run(kind: str | None, group: Iterable[Pass]) -> Run:
    group = tuple(group)
    return Run(tuple(reversed(group)) if kind == "inward" else group)


class Finisher:
    """Lays down the finishing moves of one tool."""

    def __init__(self, frame: Frame, walk: Walk, clear_y: float, number: int) -> None:
        self.frame, self.walk, self.clear_y, self.number = frame, walk, clear_y, number
        self.lattice = frame.lattice(walk.tool)

    def finish(self, passes: Sequence[Pass], metal: Metal | None = None) -> None:
        """All settings, over metal as roughing left it; numbered in the order in which they are cut."""
        self.follow(runs(self.frame, passes, metal))

    def follow(self, order: Iterable[Run]) -> None:
        """Settings in this order, with a withdrawal between two runs."""
        for run in order:
            self.walk.cross(self.clear_y)
            for item in run.passes:
                self._reach(item)
                if item.station:
                    self.walk.mark(self.number)
                    self.number += 1
                else:
                    self.walk.keep()
        self.walk.cross(self.clear_y)

    def face(self) -> bool:
        """Finish the face in front of the outline's first point, where the outline itself does not; whether it is done.

        It is no part of the curve and carries no station.
        """
        frame, tool = self.frame, self.walk.tool
        face = frame.outline.start.x
        if frame.on_axis or frame.front <= face + 1e-9 or not self._face_matters():
            return True
        x = self.lattice.x_up(face + tool.nose_radius)
        lowest = max(frame.contact_line(tool).highest(x, x), frame.face_floor(tool))
        if lowest > frame.face_floor(tool) and frame.centre is None:  # with a centre the nub stays
            return False
        self.walk.cross(self.clear_y)
        self.walk.saddle(x)
        self.walk.cross(self.lattice.y_up(lowest))
        self.walk.cross(self.clear_y)
        return True

    def _face_matters(self) -> bool:
        """Whether metal left on the end face would stand over the curve: the nearest place of the outline is in it."""
        frame, start = self.frame, self.frame.outline.start
        if frame.sign < 0:
            return frame.face_counts
        y = np.linspace(frame.base, start.y, 50)
        x = np.full_like(y, start.x + 1e-6)
        u, _ = frame.chain.project(x, y, 2 * frame.job.shop.stock.radius)
        return bool(((u > 1e-9) & (u >= frame.stretch[0]) & (u <= frame.stretch[1])).any())

    def thin(self, passes: Sequence[Pass]) -> None:
        """Go over a layer that lies farther out; its places carry no station."""
        for run in runs(self.frame, passes):
            self.walk.cross(self.clear_y)
            for item in run.passes:
                self._reach(item)
        self.walk.cross(self.clear_y)

    def _reach(self, item: Pass) -> None:
        """Bring the nose to a setting and along it, over whatever stands between."""
        walk = self.walk
        over = max(walk.y, item.y, self._top_between(walk.x, item.last))
        if over > item.y + 1e-9 or walk.x < item.first - 1e-9:
            closing = self._closing(item)
            past = item.first - closing * walk.slack.saddle
            if not self.frame.admits(walk.tool, past):
                closing, past = 0, item.first
            over = max(over, self._top_between(walk.x, item.first), self._top_between(past, item.first))
            walk.cross(over)
            walk.saddle(item.first, closing)
        idle_cut = item.last < walk.x - 1e-9  # the saddle will cut, the cross slide stands idle
        walk.cross(item.y, -1 if idle_cut else 0)
        walk.saddle(item.last)

    def _closing(self, item: Pass) -> int:
        """The way in which the saddle is brought to its figure so that the cut pushes it against its screw."""
        nx, _ = self.frame.chain.normals(*self.frame.chain.locate(np.array([item.foot])))
        return 0 if abs(nx[0]) < 1e-6 else (-1 if nx[0] > 0 else 1)

    def _top_between(self, a: float, b: float) -> float:
        """The height needed to go level from x = a to b."""
        if abs(a - b) < 1e-9:
            return -math.inf
        height = self.frame.contact_line(self.walk.tool).highest(a, b)
        return self.lattice.y_up(height) if math.isfinite(height) else height
