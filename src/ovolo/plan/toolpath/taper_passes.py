"""Laying down the passes of a top slide that is set over, and what is said of them.

The top slide stands at its figure 0 while saddle and cross slide move; only there do their figures mean the tool's
place. So a pass goes from 0 and comes back to 0 along its own cut, which takes nothing, before either is moved again.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from ovolo.geometry.segments import Point
from ovolo.plan.move import Before, Move
from ovolo.plan.stations.taper import SlantPass
from ovolo.plan.steps import STILL, Step, Walk
from ovolo.plan.sweep.height_field import Metal, under_way
from ovolo.plan.view.frame import Frame
from ovolo.shop.set_over import SetOver

#: A pass takes no thicker chip than this share of the bite.
SHARE = 0.9
#: More passes than this along one cone are never worth it.
MOST = 12


def is_slant(start: Point, end: Point) -> bool:
    """Whether a move goes along the axis and across it at once."""
    return abs(end.x - start.x) > STILL and abs(end.y - start.y) > STILL


def cut_along(frame: Frame, walk: Walk, items: Sequence[SlantPass], metal: Metal, clear_y: float, number: int) -> int:
    """Lay down the passes along the cones, each in as many cuts as the bite asks for; the next station's number."""
    for item in items:
        heights = _heights(frame, item, metal)
        for y in heights:
            start = Point(item.start.x, y)
            end = Point(item.end.x, item.end.y + y - item.start.y)
            _cut(walk, start, end, clear_y, item)
            metal.height = np.minimum(metal.height, under_way(item.tool, metal.x, start, end))
            if y == heights[-1]:
                there = len(walk.steps) - 3  # out along the cone, back, and the cross slide out
                walk.steps[there] = walk.steps[there]._replace(station=number, exact=True)
                _brought_exactly(walk, there)
                number += 1
    return number


def _heights(frame: Frame, item: SlantPass, metal: Metal) -> list[float]:
    """The heights from which the cuts along a cone start, the last of them its own."""
    thick = np.maximum(metal.height - under_way(item.tool, metal.x, item.start, item.end), 0.0)
    upright = abs(math.cos(math.atan2(item.end.y - item.start.y, item.end.x - item.start.x)))
    cuts = math.ceil(float(thick.max()) * upright / (SHARE * frame.job.shop.bite) - STILL)
    many, lattice = max(1, min(cuts, MOST)), frame.lattice(item.tool)
    step = float(thick.max()) / many
    out = [lattice.y_up(item.start.y + k * step) for k in range(many - 1, 0, -1)]
    return [*out, item.start.y]


def _cut(walk: Walk, start: Point, end: Point, clear_y: float, item: SlantPass) -> None:
    """One cut: saddle and cross slide bring the tool, the top slide goes along and back, the cross slide clears."""
    walk.cross(clear_y)
    walk.saddle(start.x, -1 if item.piece.angle > 0 else 1)
    walk.cross(start.y, -1)
    walk.steps.append(Step(walk.stage, walk.tool, "top", start, end))
    walk.steps.append(Step(walk.stage, walk.tool, "top", end, start))
    walk.x, walk.y = start
    walk.cross(clear_y)


def _brought_exactly(walk: Walk, there: int) -> None:
    """What brings the tool to where a cone is finished from has to be as exact as a setting: both slides."""
    for slide in ("cross", walk.slide):
        at = next((i for i in range(there - 1, -1, -1) if walk.steps[i].slide == slide), None)
        if at is not None and walk.steps[at].stage == "finish":
            walk.steps[at] = walk.steps[at]._replace(exact=True)


def in_parts(over: SetOver, step: Step, parts: int) -> list[Step]:
    """One cut along a cone as several, each ending on a figure of the top slide; the last of them carries the station.

    One more than asked for: a cone takes more where it is thick than where it is thin.
    """
    whole, parts = math.dist(step.start, step.end), parts + 1
    ways = [over.slide.count * round(whole * i / parts / over.slide.count) for i in range(1, parts)]
    inner = [w for w in dict.fromkeys(ways) if STILL < w < whole - STILL]
    dx, dy = ((b - a) / whole for a, b in zip(step.start, step.end, strict=True))
    places = [step.start, *(Point(step.start.x + w * dx, step.start.y + w * dy) for w in inner), step.end]
    cuts = [step._replace(start=p, end=q, station=None, exact=False) for p, q in pairwise(places)]
    return [*cuts[:-1], cuts[-1]._replace(station=step.station, exact=step.exact)]


def figures_of(over: SetOver | None, steps: Sequence[Step]) -> list[float | None]:
    """What the top slide reads after each of its own moves, in its unit; None for those of the other slides."""
    out: list[float | None] = []
    stands = 0.0
    for step in steps:
        mine = over is not None and step.slide == "top"
        if over is not None and mine:
            stands += math.copysign(math.dist(step.start, step.end), step.end.x - step.start.x)
            out.append(over.slide.figure(stands))
        else:
            out.append(None)
    return out


def about_slants(frame: Frame, moves: Sequence[Move]) -> list[Before]:
    """What to do with the top slide before each tool that uses it, and where it takes over."""
    over = frame.job.shop.set_over
    return [] if over is None else list(_said(over, moves, *frame.job.measure))


def _said(over: SetOver, moves: Sequence[Move], unit: float, name: str) -> Iterator[Before]:
    mine = [move for move in moves if move.slide == "top"]
    for tool in dict.fromkeys(move.tool for move in mine):
        own = [move for move in mine if move.tool == tool]
        first = next(move for move in moves if move.tool == tool)
        figure = max(abs(move.figure) for move in own)
        wind = "wind it out, bring it back in against its lost motion" if over.slide.on_dial else "wind it back"
        yield Before(
            first.n,
            "say",
            f"Top slide, set over: {wind} to where it can still go {figure:.4g} {name} toward the chuck, call that 0, "
            "and leave it there: the figures of the other slides hold only so",
        )
        yield Before(
            own[0].n,
            "say",
            "The top slide takes over: lock saddle and cross slide, and go along the taper with the top slide alone; "
            f"wind it back to {over.slide.text(0.0)} the same way before any other slide is moved",
        )
