"""The trial cut: before a tool finishes it turns a short cylinder as finely as it will finish, and goes over it again.

That cylinder is measured; what it is off by is the tool's own error, since the cut bends work and tool no more than
finishing does. So much is left over the outline that the part is good whatever is found. A blade makes a groove of its
own width instead: it is not fed along the axis.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product
from typing import NamedTuple

import numpy as np
import shapely

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.steps import STILL, Step, Walk
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.clearing.ground import CLEAR, round_figures
from ovolo.plan.view.frame import Frame
from ovolo.shop.setting_errors import SettingErrors
from ovolo.shop.tools import Tool

__all__ = ["Made", "Trial", "joined", "make_trial", "of_trials", "room_for", "trial_cut"]

#: A touching off is hardly ever off by more than so many of its standard uncertainties (99.7 % of a normal one).
SURE = 3.0
#: Lengths of cylinder that are tried, mm: for a micrometer's anvils (6.3 mm), a caliper's jaws, their edges alone.
LENGTHS = (6.5, 4.0, 3.0, 2.0)
#: A shorter cylinder is taken only where there is no longer one anywhere, mm.
ENOUGH = 2.9
#: The trial takes at least this, and no more than the finishing allowance or this, mm (common practice, no source).
LEAST, MOST = 0.03, 0.2
#: Places to try lie so far apart, mm.
APART = 0.3
#: A trial begins no farther in front of its cylinder than this, mm.
AIR = 12.0
#: Cuts of less than this are none, mm².
NOTHING = 1e-6


class Made(NamedTuple):
    """A trial that was laid down: how many steps the walk had ahead of its way back, and the metal then."""

    back: int
    metal: Metal


class Trial(NamedTuple):
    """A level pass of the nose centre from x = `first` to `last` at height y, in the planner's frame, mm."""

    y: float
    first: float
    last: float


def room_for(errors: SettingErrors) -> float:
    """How far metal has to stand over the outline so that a tool touched off wrongly has not cut into it yet, mm.

    The tool is off by its touching off and by the setting of the trial; both are standard uncertainties.

    >>> round(room_for(SettingErrors()), 4)
    0.0335
    """
    return SURE * math.hypot(errors.touching_cross, errors.setting_cross)


def trial_cut(frame: Frame, tool: Tool, metal: Metal) -> Trial | None:
    """Where a tool makes its trial over metal that stands so; None where nothing long enough stands high enough."""
    if not tool.edge.noses or frame.job.shop.set_over is not None:
        return None
    shop = frame.job.shop
    room = room_for(shop.errors)
    for spare in sorted({max(room, shop.allowance / 2), room}, reverse=True):
        low = np.maximum(frame.height(metal.x, tool, spare), frame.deepest(tool))
        found = _best(frame, metal, _found(frame, tool, metal, low))
        if found is not None:
            return found
    return None


def _best(frame: Frame, metal: Metal, found: Iterator[Trial]) -> Trial | None:
    """The longest that is open toward the free end, where finishing mostly begins; else the longest."""
    best: Trial | None = None
    in_front = frame.front + metal.tool.nose_radius + CLEAR
    for trial in found:
        best = trial if best is None else best
        if max(abs(trial.first - trial.last), metal.tool.edge.lowest[1]) < ENOUGH:
            return best
        if metal.try_level(trial.y, max(trial.first, trial.last), in_front).area <= NOTHING:
            return trial
    return best


def _deepest(frame: Frame) -> float:
    """The deepest that a trial cuts, mm."""
    return max(frame.job.shop.allowance, MOST)


def _found(frame: Frame, tool: Tool, metal: Metal, low: Floats) -> Iterator[Trial]:
    """Trials that stay over `low`: of each length, the longest first, that nearest to where the tool comes from."""
    deepest, flat = _deepest(frame), tool.edge.lowest[1] - tool.edge.lowest[0]
    for length in (0.0,) if tool.edge.only_plunges else LENGTHS:
        if length + flat < LENGTHS[-1]:
            return
        for place, y in _level(metal, tool, low, (length, flat), deepest):
            trial = _from_the_air(frame, metal, low, _on_figures(frame, tool, place, y, length))
            if _cuts_evenly(metal, trial, deepest):
                yield trial
                break


def _level(
    metal: Metal, tool: Tool, low: Floats, extent: tuple[float, float], deepest: float
) -> Iterator[tuple[float, float]]:
    """Where the nose centre may start and how low it may go, so that it takes enough all along and nowhere too much."""
    length, flat = extent
    travel, cut = (max(1, math.ceil(mm / metal.pitch)) for mm in (length, length + flat))
    windows = np.lib.stride_tricks.sliding_window_view
    count = len(metal.x) - cut - 1
    if count < 1:
        return
    shift = round(tool.edge.lowest[0] / metal.pitch)
    over = np.roll(metal.height, -shift)
    high, least = (f(windows(over, cut + 1)[:count], axis=1) for f in (np.max, np.min))
    under = -tool.nose_radius
    y = np.maximum(windows(low, travel + 1)[:count].max(axis=1), high - deepest - under)
    good = np.flatnonzero((least - (y + under) >= LEAST) & (high - least <= deepest - LEAST))
    order = good if tool.edge.cuts_away else good[::-1]
    last = -math.inf
    for i in order:
        if abs(metal.x[i] - last) >= APART:
            last = float(metal.x[i])
            yield last, float(y[i])


def _on_figures(frame: Frame, tool: Tool, low: float, y: float, length: float) -> Trial:
    """The same on round figures of the saddle and a figure of the cross slide."""
    exact = frame.coarse_lattice(tool)
    grid = round_figures(frame, exact)
    rounded = grid.y_up(y)
    height = rounded if rounded - y <= LEAST / 2 else exact.y_up(y)
    left = grid.x_up(low)
    right = max(grid.x(grid.column_at(low + length, False)), left)
    return Trial(height, left, right) if tool.edge.cuts_away else Trial(height, right, left)


def _from_the_air(frame: Frame, metal: Metal, low: Floats, trial: Trial) -> Trial:
    """The same begun where the tool is fed in beside the metal, if that is near and the way from there stays as high
    over the outline."""
    y, first, last = trial
    grid = round_figures(frame, frame.coarse_lattice(metal.tool))
    way = math.copysign(grid.dx, first - last) if first != last else 0.0
    for n in range(1, int(AIR / grid.dx) if way else 0):
        x = first + n * way
        i, j = np.searchsorted(metal.x, sorted((first, x)))
        if low[i : j + 1].max(initial=-math.inf) > y:
            return trial
        if metal.try_plunge(x, y).area <= NOTHING:
            return trial._replace(first=x)
    return trial


def _cuts_evenly(metal: Metal, trial: Trial, deepest: float) -> bool:
    """Whether feeding in and going along take a thin chip each and nothing stands in the way."""
    y, first, last = trial
    fed, gone = metal.try_plunge(first, y), metal.try_level(y, first, last)
    return gone.area > NOTHING and max(fed.tall, gone.tall) <= 1.5 * deepest


def make_trial(frame: Frame, walk: Walk, metal: Metal, clear_y: float) -> Made | None:
    """Lay down a trial of the walk's tool, over metal that is cut too; None where there is no place for one."""
    found = trial_cut(frame, walk.tool, metal)
    if found is None:
        return None
    trial = _reached(frame, walk, metal, found)
    if trial.first != walk.x and walk.y < trial.y - STILL:
        walk.cross(clear_y)
    walk.saddle(trial.first)
    walk.cross(trial.y, -1)
    walk.saddle(trial.last)
    walk.steps[-1] = walk.steps[-1]._replace(trial=True)
    metal.cut_level(trial.y, trial.first, trial.last)
    back = len(walk.steps)
    walk.saddle(trial.first)
    return Made(back, metal.with_tool(walk.tool))


def _reached(frame: Frame, walk: Walk, metal: Metal, trial: Trial) -> Trial:
    """The trial that takes the fewest moves to come to: level, or begun where the tool was fed in last, a little in
    front of the cylinder or, by a tool that cuts either way, right there. A lift just made is taken back for that."""
    if _level_way(walk, metal, trial.y, trial.first):
        _lower(walk)
        return trial
    y, first, last = trial
    in_front = (walk.x - first) * (first - last) > 0 and abs(walk.x - first) <= AIR
    if in_front and _unlifted(walk) < y and metal.try_level(y, walk.x, first).area <= NOTHING:
        _lower(walk)
        return trial._replace(first=walk.x)
    edge = walk.tool.edge
    here = _here(frame, walk, metal) if edge.cuts_both_ways and not edge.only_plunges else None
    if here is None:
        return trial
    _lower(walk)
    return here


def _here(frame: Frame, walk: Walk, metal: Metal) -> Trial | None:
    """A trial either way from where the tool was fed in last; None where there is no cylinder in it."""
    shop, tool = frame.job.shop, walk.tool
    spare, deepest = max(room_for(shop.errors), shop.allowance / 2), _deepest(frame)
    low = np.maximum(frame.height(metal.x, tool, spare), frame.deepest(tool))
    exact = frame.coarse_lattice(tool)
    grid = round_figures(frame, exact)
    for length, way in product(LENGTHS, (-1, 1)):
        last = grid.x_up(walk.x + way * length)
        i, j = np.searchsorted(metal.x, sorted((walk.x, last)))
        high, least = float(metal.height[i : j + 1].max()), float(metal.height[i : j + 1].min())
        y = exact.y_up(max(float(low[i : j + 1].max()), high - deepest + tool.nose_radius))
        trial = Trial(y, walk.x, last)
        if least - (y - tool.nose_radius) >= LEAST and _cuts_evenly(metal, trial, deepest):
            return trial
    return None


def _unlifted(walk: Walk) -> float:
    """The height of the tool before it was lifted last, if that is what it did last."""
    lift = walk.steps[-1] if walk.steps and walk.steps[-1].slide == "cross" else None
    return lift.start.y if lift is not None and lift.end.y > lift.start.y else walk.y


def _lower(walk: Walk) -> None:
    """Take back a lift just made."""
    height = _unlifted(walk)
    if height < walk.y:
        walk.steps.pop()
        walk.y = height


def _level_way(walk: Walk, metal: Metal, y: float, x: float) -> bool:
    """Whether the tool is, or was before it was lifted, where it can go level to x, at y or over it."""
    height = _unlifted(walk)
    return height >= y - STILL and metal.try_level(height, walk.x, x).area <= NOTHING


def joined(frame: Frame, steps: list[Step], made: Made) -> list[Step]:
    """The same moves with the way back of a trial going on to where finishing begins, where that way is free; the tool
    is not even wound out in between where it is clear there."""
    back, metal = made
    ahead = [s.slide == "cross" for s in steps[back : back + 5]]
    past = ahead == [False, True, False, False, True]  # wound past a figure of the saddle and back
    if not past and ahead[:4] != [False, True, False, True]:
        return steps
    home, up, *across, down = steps[back : back + 4 + past]
    if any(step.slide != home.slide for step in across):  # the top slide takes over here
        return steps
    x, y, far = across[-1].end.x, home.start.y, across[0].end.x
    gone_over = (x - home.start.x) * math.copysign(1.0, home.end.x - home.start.x)
    if gone_over < min(LENGTHS[-1], abs(home.end.x - home.start.x)) or any(
        metal.try_level(y, home.start.x, end).area > NOTHING for end in (x, far)
    ):
        return steps
    level = [home._replace(end=Point(far, y)), *(s._replace(start=Point(far, y), end=Point(x, y)) for s in across[1:])]
    into = [up._replace(start=Point(x, y), end=Point(x, up.end.y)), down]
    if down.end.y < y and _clear(frame, metal, down.tool, Point(x, y)):
        into = [down._replace(start=Point(x, y))]
    return [*steps[:back], *level, *into, *steps[back + 4 + past :]]


def of_trials(steps: Sequence[Step]) -> set[int]:
    """The moves that make trials, counted from 0: coming to the place, the cut, the way back."""
    return {n + k for n, step in enumerate(steps) if step.trial for k in (-2, -1, 0, 1)}


def _clear(frame: Frame, metal: Metal, tool: Tool, place: Point) -> bool:
    """Whether a tool is clear of metal and jaws with its nose centre there, and all the way out."""
    out, wide = frame.job.shop.stock.stick_out, tool.extent + 2 * CLEAR
    if frame.sign < 0 or frame.centre is not None or (out is not None and place.x - wide < -out):
        return False
    i, j = np.searchsorted(metal.x, (place.x - wide, place.x + wide))
    standing = shapely.LineString(np.column_stack([metal.x[i:j], metal.height[i:j]]))
    shape = tool.edge.shape() + np.asarray(place)
    way = shapely.MultiPoint(np.vstack([shape, shape + np.array((0.0, 2 * frame.top))])).convex_hull
    return bool(shapely.distance(way, standing) >= CLEAR + metal.pitch)
