"""Finishing: from setting to setting in single-slide moves, round the outer corner, which is always free."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from ovolo.plan.stations.stations import Pass
from ovolo.plan.steps import Walk
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.order import runs
from ovolo.plan.toolpath.picture import STILL, Picture, Run
from ovolo.plan.view.frame import whole
from ovolo.plan.view.view import View


class Finisher:
    """Lays down the finishing moves of one tool."""

    def __init__(self, frame: View, walk: Walk, clear_y: float, number: int) -> None:
        self.frame, self.walk, self.clear_y, self.number = frame, walk, clear_y, number
        self.lattice = frame.lattice(walk.tool)

    def finish(self, passes: Sequence[Pass], metal: Metal | None = None) -> None:
        """All settings, over metal as roughing left it; numbered in the order in which they are cut."""
        self.follow(runs(self.frame, passes, metal), metal)

    def follow(self, order: Iterable[Run], metal: Metal | None = None) -> None:
        """Settings in this order, with a withdrawal between two runs; over metal that stands so."""
        for item in self._reached(order, metal):
            if item.station:
                self.walk.mark(self.number)
                self.number += 1
            else:
                self.walk.keep()

    def _reached(self, order: Iterable[Run], metal: Metal | None) -> Iterator[Pass]:
        """Go from setting to setting, and tell each as soon as the nose has been brought along it."""
        picture = None if metal is None else Picture(self.frame, metal)
        for run in order:
            self.walk.cross(self.clear_y)
            before: Pass | None = None
            for item in run.passes:
                if picture is not None:
                    before = self._lead(picture, before, item)
                self._reach(item)
                yield item
                if picture is not None:
                    picture.take(picture.metal, before, item)
                before = item
        self.walk.cross(self.clear_y)

    def _lead(self, picture: Picture, before: Pass | None, item: Pass) -> Pass | None:
        """Bring the nose near a setting, where reaching it at once would take too wide a cut; where it comes from."""
        if before is None:
            self._enter(picture.entry(picture.metal, item), item)
            return None
        for place in picture.between(picture.metal, before, item):
            self._reach(place)
            picture.take(picture.metal, before, place)
            before = place
        return before

    def _enter(self, x: float, item: Pass) -> None:
        """Feed in beside a setting, where that is narrower."""
        if abs(x - item.first) > STILL and self.frame.admits(self.walk.tool, x):
            self.walk.saddle(x)
            self.walk.cross(item.y)

    def face(self) -> bool:
        """Finish the face in front of the outline's first point, where the outline itself does not; whether it is done.

        It is no part of the curve and carries no station.
        """
        frame, tool = whole(self.frame), self.walk.tool
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
        frame = whole(self.frame)
        start = frame.outline.start
        if frame.sign < 0:
            return frame.face_counts
        y = np.linspace(frame.base, start.y, 50)
        x = np.full_like(y, start.x + 1e-6)
        u, _ = frame.chain.project(x, y, 2 * frame.job.shop.stock.radius)
        return bool(((u > 1e-9) & (u >= frame.stretch[0]) & (u <= frame.stretch[1])).any())

    def thin(self, passes: Sequence[Pass], metal: Metal | None = None) -> None:
        """Go over a layer that lies farther out, over metal that stands so; its places carry no station."""
        for _ in self._reached(runs(self.frame, passes, metal), metal):
            continue

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
