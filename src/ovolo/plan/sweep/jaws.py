"""How near a tool comes to the jaws of the chuck, in outside work; inside a hole they hold the outside of the piece.

What has to stay free covers how well the length that the bar stands out is known and how far a feed runs on when it is
knocked off (common practice, no source); how far a move may be off comes on top of that.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from ovolo.plan.steps import Step
from ovolo.plan.sweep.sweep import body_shapes, tool_shape
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool
from ovolo.tolerances import SAME_PLACE

#: What has to stay free between a tool and the jaws, over what a move may be off, mm.
FROM_JAWS = 0.5


def reach_toward_chuck(tool: Tool, level: float) -> float:
    """How far edges and shank reach toward the chuck from the nose centre, up to a height `level` over it, mm.

    A left-hand knife of 55° at 93° leans back at 32° over the work: 10 mm up it has gone 16 mm.

    >>> knife = Tool("knife", "pointed", 0.4, "left")
    >>> [round(reach_toward_chuck(knife, level), 2) for level in (0.0, 10.0)]
    [0.75, 16.76]
    """
    return _reach(tool, round(level, 6))


@lru_cache(maxsize=4096)
def _reach(tool: Tool, level: float) -> float:
    found = [-math.inf]
    for shape in (tool_shape(tool), *body_shapes(tool)):
        (x, y), (next_x, next_y) = shape.T, np.roll(shape, -1, axis=0).T
        found.append(float((-x[y <= level]).max(initial=-math.inf)))
        crosses = (y - level) * (next_y - level) < 0
        share = (level - y[crosses]) / (next_y[crosses] - y[crosses])
        found.append(float((-(x[crosses] + share * (next_x[crosses] - x[crosses]))).max(initial=-math.inf)))
    return max(found)


def jaw_top(frame: Frame) -> float:
    """How high the jaws are taken to stand, in the planner's frame, mm."""
    return frame.bar_top + frame.job.shop.lathe.jaws_stand


def free_of_jaws(frame: Frame, step: Step) -> float:
    """What stays free between the jaws and a tool on its move, mm; inf where the job does not tell where they are, or
    the tool stays over them."""
    shop = frame.job.shop
    if frame.sign < 0 or shop.stock.stick_out is None or shop.lathe.jaws is None:
        return math.inf
    top = jaw_top(frame)
    nearest = min(p.x - reach_toward_chuck(step.tool, top - p.y) for p in (step.start, step.end))
    return nearest + shop.stock.stick_out


def too_near(frame: Frame, step: Step, within: float) -> bool:
    """Whether a move that may be `within` mm off comes nearer to the jaws than it may."""
    return free_of_jaws(frame, step) < within + FROM_JAWS - SAME_PLACE


def within_of_jaws(frame: Frame, step: Step, within: float, least: float) -> float:
    """How far off a move may be, mm, where it would else come too near to the jaws: no less than `least`."""
    return min(within, max(free_of_jaws(frame, step) - FROM_JAWS, least))
