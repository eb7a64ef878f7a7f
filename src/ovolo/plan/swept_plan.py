"""A plan's own sweep, kept: the metal after every move and the chip of each, as regions of (z, r).

Everything that shows, predicts or checks a plan asks here; nobody takes the moves over the metal again. Regions are put
together from the sweep's tiles when somebody asks for them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from shapely import affinity
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.move import Move
from ovolo.plan.stations.choose_tools import Assignment, Reach
from ovolo.plan.steps import Step
from ovolo.plan.sweep.remaining import left_standing
from ovolo.plan.sweep.sweep import Sweep, blank_region, part_region, surface, sweep
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

#: Regions after so many moves are kept ready: who asks for all of them asks in their order.
KEPT = 64


class Worked(NamedTuple):
    """What the planner found on its way to these `moves`: the job as it looked at it, which tool does what, what each
    could do, the moves in its own frame and what they take."""

    frame: Frame
    assignment: Assignment
    reaches: tuple[Reach, ...]
    steps: tuple[Step, ...]
    sweep: Sweep
    moves: tuple[Move, ...]


@dataclass(frozen=True, eq=False)
class SweptPlan:
    """A plan seen as regions in (z, r), mm; what ends in `_in_frame` is in the planner's own frame (y = r, in a bore
    -r)."""

    frame: Frame
    steps: tuple[Step, ...]
    sweep: Sweep

    @classmethod
    def of_moves(cls, frame: Frame, tools: Sequence[Tool], moves: Sequence[Move]) -> SweptPlan:
        """The same for moves that no planner has swept."""
        named = {tool.name: tool for tool in tools}
        steps = tuple(_step(frame, named[move.tool], move) for move in moves)
        return cls(frame, steps, sweep(frame, steps))

    @cached_property
    def part(self) -> BaseGeometry:
        """The finished part in the half-section."""
        return self._turned(part_region(self.frame))

    @cached_property
    def blank(self) -> BaseGeometry:
        """The piece before anything is cut, in front of the bar behind the part."""
        return self._turned(blank_region(self.frame))

    @cached_property
    def left(self) -> BaseGeometry:
        """What stands after the last move."""
        return self._turned(self.sweep.rest)

    @cached_property
    def over_curve(self) -> tuple[Floats, Floats, Floats]:
        """What stands above the curve after the last move: see `left_standing`."""
        return left_standing(self.frame, self.sweep.rest)

    @cached_property
    def chips(self) -> tuple[BaseGeometry, ...]:
        """What each move takes, move by move; an empty region where it takes nothing."""
        return tuple(self.chip(n) for n in range(1, len(self.steps) + 1))

    def chip(self, n: int) -> BaseGeometry:
        """What move `n` takes."""
        return self._turned(self.chip_in_frame(n))

    def after(self, n: int) -> BaseGeometry:
        """The metal in front of the bar after move `n`; 0 for the blank."""
        return self._turned(self.after_in_frame(n))

    def chip_in_frame(self, n: int) -> BaseGeometry:
        """What move `n` takes, in the planner's frame."""
        return self.sweep.record.chip(n)

    def after_in_frame(self, n: int) -> BaseGeometry:
        """The metal in front of the bar after move `n`, in the planner's frame; 0 for the blank."""
        if n not in self._lately:
            self._lately[n] = self.sweep.record.after(n)
            if len(self._lately) > KEPT:
                del self._lately[next(iter(self._lately))]
        return self._lately[n]

    @cached_property
    def _lately(self) -> dict[int, BaseGeometry]:
        return {}

    def border_after(self, n: int) -> list[Point]:
        """The border of the metal after move `n` from the free end toward the chuck, in the planner's frame."""
        return surface(self.frame, self.after_in_frame(n))

    def _turned(self, region: BaseGeometry) -> BaseGeometry:
        return affinity.scale(region, 1, -1, origin=(0, 0)) if self.frame.sign < 0 else region


def _step(frame: Frame, tool: Tool, move: Move) -> Step:
    """A move in the planner's frame: turned over in a bore, and back by the same turn."""
    return Step(move.stage, tool, move.slide, frame.place(*move.start), frame.place(*move.end), move.station)
