"""Lost motion on dials: a cut must not push the slide that is idle through what is open of its screw.

Nothing holds a slide ahead of its screw: wound one way, it can be pushed on that way by its backlash, and not back. How
much is open depends on how far it went, not on its last direction alone: after less than its backlash the other way it
is open on both sides. Where a cut pushes toward the open side, the idle slide is first wound past its figure and
brought back against that push.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.steps import UNKNOWN_BACKLASH, Step, slack_of
from ovolo.plan.sweep.sweep import Sweep, tool_shape
from ovolo.plan.view.frame import Frame
from ovolo.shop.slides import Slide, SlideName

#: The share of a cut's force from which it pushes an idle slide: a saddle is heavier than a cross slide (our estimate).
PUSHES = {"cross": 0.08, "saddle": 0.2, "top": 0.2}
#: Area from which a move cuts, mm²; a way into less metal than this is free, mm²; lost motion up to this is none, mm.
CUTS, FREE, NOTHING = 1e-3, 1e-4, 1e-3
#: So many lines across a chip tell where on the edge it is taken.
LINES = 60


class Play(NamedTuple):
    """How far a slide can be pushed toward the chuck or the axis, at least and at most, mm; `whole` is its backlash."""

    least: float
    most: float
    whole: float

    def moved(self, way: float) -> Play:
        """After it was wound by `way`, outward or away from the chuck positive, mm.

        >>> Play(0.0, 0.2, 0.2).moved(-0.15).moved(0.05)
        Play(least=0.1, most=0.15, whole=0.2)
        """
        least, most = (min(self.whole, max(0.0, play - way)) for play in (self.least, self.most))
        return Play(round(least, 9), round(most, 9), self.whole)

    def open_to(self, force: float) -> float:
        """How far a push can move it for certain, mm: toward the chuck or the axis where `force` is negative."""
        return self.least if force < 0 else self.whole - self.most


def taken_up(frame: Frame, steps: Sequence[Step], swept: Sweep) -> list[Step]:
    """The moves with those that take up lost motion ahead of cuts that would push an idle slide through it."""
    plays: dict[SlideName, Play] = {}
    out: list[Step] = []
    for n, step in enumerate(steps):
        if n == 0 or steps[n - 1].tool.name != step.tool.name:
            plays = _fresh(frame, steps)
        if swept.moves[n].area > CUTS:
            for name, force in _pushed(plays, step, swept.record.chip(n + 1)):
                pair = _closing(frame, step, name, force, swept.record.after(n))
                out += pair
                for move in pair:
                    plays[name] = plays[name].moved(_way(move))
        if step.slide in plays:
            plays[step.slide] = plays[step.slide].moved(_way(step))
        out.append(step)
    return out


def _fresh(frame: Frame, steps: Sequence[Step]) -> dict[SlideName, Play]:
    """What is known of the slides that are read on dials when a tool is set: nothing."""
    shop, plays = frame.job.shop, {}
    for name in dict.fromkeys(step.slide for step in steps):
        slide = shop.slide(name)
        backlash = UNKNOWN_BACKLASH if slide.backlash is None else slide.backlash
        if slide.on_dial and backlash > NOTHING and not (name == "top" and shop.set_over is not None):
            plays[name] = Play(0.0, backlash, backlash)
    return plays


def _pushed(plays: dict[SlideName, Play], step: Step, chip: BaseGeometry) -> Iterator[tuple[SlideName, float]]:
    """The idle slides that a cut pushes through open lost motion, and the share of its force that does."""
    if step.start.x != step.end.x and step.start.y != step.end.y:
        return
    for name, play in list(plays.items()):
        if (name == "cross") == (step.slide == "cross") or (play.least <= 0.0 and play.most >= play.whole):
            continue
        force = push(tool_shape(step.tool), step.start, step.end, chip)
        if abs(force) >= PUSHES[name] and play.open_to(force) > NOTHING:
            yield name, force


def push(shape: Floats, start: Point, end: Point, chip: BaseGeometry) -> float:
    """The share of a cut's force [-1 to 1] that pushes the idle slide along its own way, outward or away from the chuck
    positive.

    Each place of the leading edge is pressed square to itself by what it takes. Simplification: the force on a place
    goes with the chip's length there.
    """
    feed = 0 if start.x != end.x else 1
    ahead = math.copysign(1.0, end[feed] - start[feed])
    ring = shapely.get_coordinates(shapely.normalize(shapely.polygons(shape)))  # clockwise
    edge = np.diff(ring, axis=0)
    long = np.hypot(*edge.T) > 1e-9
    ring, edge = ring[:-1][long] + start, edge[long]
    normal = np.column_stack([-edge[:, 1], edge[:, 0]]) / np.hypot(*edge.T)[:, None]
    leads = normal[:, feed] * ahead > 1e-9
    middle = (ring + edge / 2)[leads, 1 - feed]
    order = np.argsort(middle)
    low, high = chip.bounds[1 - feed], chip.bounds[3 - feed]
    places = np.linspace(low, high, LINES + 1)[:-1] + (high - low) / (2 * LINES)
    far = 1e4
    lines = [[(-far, w), (far, w)] if feed == 0 else [(w, -far), (w, far)] for w in places]
    taken = shapely.length(shapely.intersection(chip, shapely.linestrings(lines)))
    pressed = np.interp(places, middle[order], normal[leads][order, 1 - feed])
    return -float((pressed * taken).sum() / max(float(taken.sum()), 1e-12))


def _closing(frame: Frame, step: Step, name: SlideName, force: float, metal: BaseGeometry) -> list[Step]:
    """Past the figure the way of the push and back against it; nothing where metal is in that way."""
    by = math.copysign(_slack(frame, frame.job.shop.slide(name)), force)
    x, y = step.start
    past = Point(x, y + by) if name == "cross" else Point(x + by, y)
    shape = tool_shape(step.tool)
    track = shapely.convex_hull(shapely.union(shapely.polygons(shape + step.start), shapely.polygons(shape + past)))
    if shapely.area(shapely.intersection(track, metal)) > FREE:
        return []
    move = step._replace(slide=name, start=step.start, end=past, station=None, exact=False, enters=False)
    return [move, move._replace(start=past, end=step.start)]


def _slack(frame: Frame, slide: Slide) -> float:
    slack = slack_of(frame.job.shop, slide)
    return slack.cross if slide.name == "cross" else slack.saddle


def _way(step: Step) -> float:
    return step.end.x - step.start.x + step.end.y - step.start.y
