"""What moves cost: seconds at the job's pace, by which one plan is preferred to another.

A careful setting, the turns of a handwheel, a change of tool, a lock, and the length of each cut at its feed. What the
job does not tell takes the usual values (common practice or estimates, no source): it is the proportion of two plans
that counts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ovolo.plan.steps import Step
from ovolo.plan.view.frame import Frame
from ovolo.shop.pace import Pace
from ovolo.shop.tools import Tool

#: Cutting speed at the bar's diameter with a tool of high-speed steel, m/min (common practice, no source).
SPEEDS, USUAL_SPEED = {"brass": 60.0}, 25.0
#: The spindle turns no faster than this, turns a minute (estimate).
MOST_RPM = 1200.0
#: Feed of a turn of the work in roughing, in finishing and of a grooving blade, mm (common practice, no source).
ROUGH_FEED, FINISH_FEED, BLADE_FEED = 0.1, 0.05, 0.04
#: A grooving blade runs at this share of the turning speed (common practice, no source).
BLADE_SPEED = 0.5
#: Travel of a turn of the handwheel where the job does not tell it, mm (estimate).
CROSS_TURN, SADDLE_TURN = 2.0, 20.0
#: A move is a line to be read as well: what that is worth where two plans take the same time, s (our judgement).
LINE = 4.0
#: With fewer moves preferred, a move outweighs any saving of seconds, s.
PREFERRED_LINE = 600.0
#: Shorter ways than this are none, mm.
STILL = 1e-9


@dataclass(frozen=True)
class Price:
    """Seconds of a job's moves: `pace` with what a cut takes for each mm and a handwheel for each mm it winds."""

    pace: Pace
    rpm: float
    cross_turn: float
    saddle_turn: float
    line: float

    @classmethod
    def of(cls, frame: Frame) -> Price:
        """That of a job."""
        part, shop = frame.job.part, frame.job.shop
        bored = frame.sign < 0 and shop.stock.hole > 0
        diameter = shop.stock.hole if bored else 2 * shop.stock.radius
        speed = SPEEDS.get(part.material or "", USUAL_SPEED)
        rpm = min(MOST_RPM, 1000 * speed / (math.pi * max(diameter, 1.0)))
        along = shop.coarse.per_turn or SADDLE_TURN
        line = PREFERRED_LINE if shop.prefer == "moves" else LINE
        return cls(shop.pace, rpm, shop.cross.per_turn or CROSS_TURN, along, line)

    def feeding(self, tool: Tool, length: float, *, finish: bool = False) -> float:
        """A cut of this length, s."""
        if tool.edge.only_plunges:
            return 60 * length / (BLADE_FEED * BLADE_SPEED * self.rpm)
        return 60 * length / ((FINISH_FEED if finish else ROUGH_FEED) * self.rpm)

    def winding(self, slide: str, length: float) -> float:
        """Winding a slide so far without a cut, s."""
        return self.pace.turn * length / (self.cross_turn if slide == "cross" else self.saddle_turn)

    def change(self) -> float:
        """Taking another tool, s."""
        return self.pace.tool_change

    def seconds(self, steps: Sequence[Step], cuts: Sequence[bool]) -> float:
        """What moves take, s; `cuts` says of each whether it takes metal.

        A setting is careful where it ends a cut, and where the next cut is made at this slide's place.
        """
        careful, total = _careful(steps, cuts), 0.0
        last: Step | None = None
        for step, cut, with_care in zip(steps, cuts, careful, strict=True):
            length = abs(step.end.x - step.start.x) + abs(step.end.y - step.start.y)
            total += self.pace.setting * with_care
            if cut:
                finish = step.stage == "finish"
                total += self.feeding(step.tool, length, finish=finish)
                total += self.pace.lock * (finish and last is not None and last.slide != step.slide)
            else:
                total += self.winding(step.slide, length)
            if last is not None and last.tool.name != step.tool.name:
                total += self.change()
            last = step
        return total

    def cost(self, steps: Sequence[Step], cuts: Sequence[bool]) -> float:
        """By what plans are compared: their seconds, and a little for each line to be read."""
        return self.seconds(steps, cuts) + self.line * len(steps)


def _careful(steps: Sequence[Step], cuts: Sequence[bool]) -> list[bool]:
    """Whether each move has to stop with care: it cuts, or the next cut is made where it brings its slide."""
    out = list(cuts)
    for i, step in enumerate(steps):
        if cuts[i]:
            continue
        for j in range(i + 1, len(steps)):
            if steps[j].tool.name != step.tool.name or steps[j].slide == step.slide:
                break
            if cuts[j]:
                out[i] = True
                break
    return out
