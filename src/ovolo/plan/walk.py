"""Moves as they are laid down: one slide at a time, never a move of no length."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from ovolo.geometry.segments import Point
from ovolo.plan.model import SlideName, Stage
from ovolo.shop.tools import Tool

#: Shorter moves than this are none, mm.
STILL = 1e-9


class Step(NamedTuple):
    """A move in the planner's frame, before it has been swept."""

    stage: Stage
    tool: Tool
    slide: SlideName
    start: Point
    end: Point
    station: int | None = None


@dataclass
class Walk:
    """The nose of one tool on its way; `x`, `y` where it stands."""

    tool: Tool
    x: float
    y: float
    stage: Stage = "rough"
    steps: list[Step] = field(default_factory=list)

    def saddle(self, x: float) -> None:
        """Wind the saddle to x."""
        self._go("saddle", Point(x, self.y))

    def cross(self, y: float) -> None:
        """Wind the cross slide to y."""
        self._go("cross", Point(self.x, y))

    def _go(self, slide: SlideName, end: Point) -> None:
        start = Point(self.x, self.y)
        if abs(end.x - start.x) + abs(end.y - start.y) > STILL:
            self.steps.append(Step(self.stage, self.tool, slide, start, end))
            self.x, self.y = end

    def mark(self, station: int) -> None:
        """Say that the last move brought the nose onto the finished outline."""
        self.steps[-1] = self.steps[-1]._replace(station=station)
