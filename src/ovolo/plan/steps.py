"""Moves as they are laid down: one slide at a time, never a move of no length."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import NamedTuple

from ovolo.geometry.segments import Point
from ovolo.plan.move import Stage
from ovolo.shop.shop import Shop
from ovolo.shop.slides import Slide, SlideName
from ovolo.shop.tools import Tool
from ovolo.tolerances import ROUNDING

#: Shorter moves than this are none, mm.
STILL = ROUNDING


class Slack(NamedTuple):
    """How far the cross slide and the saddle (or the top slide in its stead) are wound past a figure so that they can
    be brought back to it, mm; 0 on a readout."""

    cross: float = 0.0
    saddle: float = 0.0


class Step(NamedTuple):
    """A move in the planner's frame, before it has been swept; `exact` where it brings the nose onto the outline,
    `enters` where it is the first of the moves with which a tool goes in under a lip, `trial` where it turns what is
    measured before finishing."""

    stage: Stage
    tool: Tool
    slide: SlideName
    start: Point
    end: Point
    station: int | None = None
    exact: bool = False
    enters: bool = False
    trial: bool = False


NO_SLACK = Slack()

#: Backlash taken where a slide is read on its dial and its own is not told, mm (common practice, no source).
UNKNOWN_BACKLASH = 0.25


def slack_of(shop: Shop, along: Slide) -> Slack:
    """How far to wind past and come back where a slide is read on its dial, mm: its backlash and a little more.

    `along` is the slide that goes along the axis.
    """
    cross = shop.cross

    def past(on_dial: bool, backlash: float | None, step: float) -> float:
        wish = 1.5 * (UNKNOWN_BACKLASH if backlash is None else backlash) + 0.05
        return step * math.ceil(wish / step) if on_dial else 0.0

    return Slack(past(cross.on_dial, cross.backlash, cross.step), past(along.on_dial, along.backlash, along.step))


@dataclass
class Walk:
    """The nose of one tool on its way; `x`, `y` where it stands; `slide` what moves it along the axis.

    A slide that will stand idle under a cut must not be on the open side of its backlash: `closing` is the direction
    (1 or -1 along the slide) in which it has to be brought to its figure, against the push of the cut. It is left as it
    is where winding past would take the nose over the `ceiling`.
    """

    tool: Tool
    x: float
    y: float
    slack: Slack = NO_SLACK
    stage: Stage = "rough"
    slide: SlideName = "saddle"
    ceiling: float = math.inf
    steps: list[Step] = field(default_factory=list)

    def saddle(self, x: float, closing: int = 0) -> None:
        """Wind the saddle, or the top slide where `slide` says so, to x."""
        if self._open(self.slide, x - self.x, closing, self.slack.saddle):
            self._go(self.slide, Point(x - closing * self.slack.saddle, self.y))
        self._go(self.slide, Point(x, self.y))

    def cross(self, y: float, closing: int = 0) -> None:
        """Wind the cross slide to y."""
        past = y - closing * self.slack.cross
        if past <= self.ceiling + STILL and self._open("cross", y - self.y, closing, self.slack.cross):
            self._go("cross", Point(self.x, past))
        self._go("cross", Point(self.x, y))

    def _open(self, slide: SlideName, way: float, closing: int, slack: float) -> bool:
        """Whether a slide would be left on the open side of its backlash."""
        if not closing or not slack:
            return False
        way = self._last_way(slide) if abs(way) <= STILL else way
        return math.copysign(1, way) != closing

    def _last_way(self, slide: SlideName) -> float:
        """The direction in which a slide went last."""
        for step in reversed(self.steps):
            if step.slide == slide:
                return step.end.x - step.start.x + step.end.y - step.start.y
        return 0.0

    def _go(self, slide: SlideName, end: Point) -> None:
        start = Point(self.x, self.y)
        if abs(end.x - start.x) + abs(end.y - start.y) > STILL:
            self.steps.append(Step(self.stage, self.tool, slide, start, end))
            self.x, self.y = end

    def mark(self, station: int) -> None:
        """Say that the last move brought the nose onto the finished outline."""
        self.steps[-1] = self.steps[-1]._replace(station=station, exact=True)

    def keep(self) -> None:
        """Say that the last move finished a plain pass: its figure is kept as exactly as a station's."""
        self.steps[-1] = self.steps[-1]._replace(exact=True)
