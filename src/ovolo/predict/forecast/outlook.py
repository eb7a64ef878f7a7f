"""What to expect of a plan before it is cut: loads, scatter, time, and the blend after it.

Lengths in mm, times in seconds, volumes in mm^3.
"""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
import shapely

from ovolo.cutting.filing import Lowering, lowering, revolved_volume
from ovolo.cutting.pace import Pace, Times, WorkCounts, feed_seconds, times
from ovolo.cutting.scatter import Errors, Outlook, Touch, nose_share, outlook, station_budget
from ovolo.part.targets import curve_limits
from ovolo.plan.model import Move, Plan
from ovolo.plan.sweep.sweep import part_region
from ovolo.predict.forecast.settings import Setting, gaps, settings_of
from ovolo.predict.loads.engaged import engaged
from ovolo.predict.loads.load import Loads, loads
from ovolo.predict.loads.spindle import FEEDS
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool

__all__ = [
    "Blend",
    "Forecast",
    "depth_of",
    "errors_of",
    "forecast",
    "left_volume",
    "setting_scatter",
    "touches_of",
    "travel_a_turn",
    "work_counts_by_move",
    "work_counts_of",
]

AMPLE = 0.3
"""A figure that may be off by this much is come to without care [mm of travel] (our choice)."""

AMPLE_SHARE = 0.25
"""What such a setting takes of the time of a careful one (our estimate, no source)."""

USUAL_TURN = {"cross": 2.0, "saddle": 20.0, "top": 2.0}
"""Travel of a handwheel's turn where the job doesn't say [mm] (common practice, no source)."""

USUAL_RPM = 300.0
"""Spindle speed for the time of a cut where the job names no material [rev/min] (our assumption)."""

_SURFACE = 0.001
"""The swept surface is true to this, mm."""

PLAY_LEFT = 0.1
"""Share of a dial's backlash that is left in spite of coming to every figure from one side (our estimate)."""


class Blend(NamedTuple):
    """The ridges and their filing: metal in them [mm^3], the highest [mm], and what filing does to the diameter."""

    volume: float
    ridge: float
    lowering: Lowering


@dataclass(frozen=True)
class Forecast:
    """What to expect; `scatter` is None where the curve has no stations. `errors`: what it assumes."""

    loads: Loads
    errors: Errors
    scatter: Outlook | None
    work_counts: WorkCounts
    times: Times
    blend: Blend


def forecast(
    plan: Plan, pace: Pace | None = None, errors: Errors | None = None, runs: int | None = None, seed: int = 1,
    chance: float = 0.05,
) -> Forecast:  # fmt: skip
    """What to expect of a plan before it is cut: loads, where the outline will lie, minutes, metal to file.

    pace: the user's own; errors: his and the machine's. Left out: those of the job.
    runs, seed, chance: as `scatter.outlook` takes them; runs left out: 10,000, fewer from 200 stations on.
    """
    pace = pace or plan.job.shop.pace
    found = loads(plan)
    touches = touches_of(plan, found)
    runs = runs or runs_for(len(touches))
    assumed = errors or errors_of(plan)
    scatter = outlook(touches, assumed, runs, seed, chance, depth_of(plan)) if touches else None
    work_counts = work_counts_of(plan, found)
    ridge = plan.prediction.ridge_max
    return Forecast(
        found, assumed, scatter, work_counts, times(work_counts, pace), Blend(work_counts.filed, ridge, lowering(ridge))
    )


def runs_for(stations: int) -> int:
    """The number of runs drawn for a plan: 10,000, but no more than 2 million settings, and 1,000 at the least.

    >>> runs_for(16), runs_for(800), runs_for(5000)
    (10000, 2500, 1000)
    """
    return min(10_000, max(1_000, 2_000_000 // max(stations, 1)))


def depth_of(plan: Plan) -> float:
    """What may be missing below the outline [mm]: what the tolerance allows, else 0.05 mm or 0.002 in (ours)."""
    part, low, high = plan.job.part, *sorted(plan.job.part.curve)
    on_curve = [r for segment in part.outline.segments for z, r in (segment.start, segment.end) if low <= z <= high]
    return curve_limits(part.tolerance, 2 * max(on_curve, default=0.0), part.ridge, plan.job.units).below


def errors_of(plan: Plan) -> Errors:
    """Errors that are assumed [mm]: those of the job's `[errors]`, else the usual ones; its counts and backlash."""
    shop = plan.job.shop
    noses = [tool.nose_radius_u for tool in plan.tools if tool.nose_radius_u is not None]
    return Errors(
        setting_z=shop.errors.setting_saddle,
        setting_r=shop.errors.setting_cross,
        count_z=shop.fine.step,
        count_r=shop.cross.step,
        play_z=_play(shop.fine),
        play_r=_play(shop.cross),
        touching_z=shop.errors.touching_saddle,
        touching_r=shop.errors.touching_cross,
        height=shop.errors.height,
        nose=max(noses, default=shop.errors.nose),
    )


def setting_scatter(plan: Plan) -> float:
    """Scatter of one setting against its neighbours, where the outline leans by 45 degrees (standard uncertainty) [mm].

    Only what changes from setting to setting; what stays the same for a run moves the whole surface.
    """
    errors = replace(errors_of(plan), touching_z=0.0, touching_r=0.0, nose=0.0, height=0.0, force=0.0)
    return station_budget(Touch(plan.job.shop.stock.radius, math.pi / 4), errors).u


def _play(slide: Slide) -> float:
    return PLAY_LEFT * (slide.backlash or 0.0) if slide.on_dial else 0.0


def touches_of(plan: Plan, found: Loads) -> tuple[Touch, ...]:
    """The stations as the scatter takes them: radius, direction, ridge to the next one, bending under the cut, own
    distance off the outline, and what an error of the nose does there.

    No ridge is taken for higher than the sweep has it.
    """
    tools = {tool.name: tool for tool in plan.job.shop.tools}
    made = {move.n: tools[move.tool] for move in plan.moves}
    settings = settings_of(plan)
    heights = [*gaps(plan.frame, settings), 0.0] if settings else []
    bends = {load.n: load.bends or 0.0 for load in found.moves}
    places = {tool.name: k for k, tool in enumerate(plan.tools)}
    return tuple(
        Touch(
            abs(setting.foot.y),
            setting.normal,
            min(height, plan.prediction.ridge_max),
            bends.get(setting.move, 0.0),
            _away(setting),
            _nose(plan, setting, made[setting.move]),
            places.get(plan.moves[setting.move - 1].tool, 0),
        )
        for setting, height in zip(settings, heights, strict=True)
    )


def _away(setting: Setting) -> float:
    """How far a station lies off the outline [mm]: whole counts seldom lie on it. A form tool touches."""
    return max(math.dist(setting.centre, setting.foot) - setting.nose_radius, 0.0) if setting.nose_radius else 0.0


def _nose(plan: Plan, setting: Setting, tool: Tool) -> float:
    """What a nose larger by 1 leaves at a setting; nothing for a form tool, which has none."""
    if not setting.nose_radius:
        return 0.0
    z, r = (part / tool.nose_radius for part in tool.reference)
    into_air = math.atan2(plan.frame.sign * math.sin(setting.normal), math.cos(setting.normal))
    return nose_share(into_air, z, r)


def work_counts_of(plan: Plan, found: Loads) -> WorkCounts:
    """How much there is to wind, set, lock, change, measure, feed and file, all moves together.

    Metal is filed as the sweep leaves it.
    """
    moves = work_counts_by_move(plan, found)
    whole = WorkCounts(*(sum(values) for values in zip(*moves, strict=True))) if moves else WorkCounts()
    measured = Counter(before.kind for before in plan.before)["measure"]
    return whole._replace(settings=round(whole.settings), measurings=measured, filed=left_volume(plan))


def work_counts_by_move(plan: Plan, found: Loads) -> tuple[WorkCounts, ...]:
    """The work of each move, counted, with what has to happen ahead of it.

    A move that may be off by `AMPLE` counts a quarter; each finishing cut locks the slide that stands, where it can be,
    and frees it again.
    """
    lengths = _cut_lengths(plan, found)
    rates = {load.n: (load.feed, load.rpm) for load in found.moves}
    measured = Counter(before.move for before in plan.before if before.kind == "measure")
    out = []
    for last, move in zip((None, *plan.moves), plan.moves, strict=False):
        length = lengths.get(move.n, 0.0)
        locks = move.cuts and move.stage == "finish" and _idle(plan, move).lock
        out.append(
            WorkCounts(
                turns=max(move.travel - length, 0.0) / travel_a_turn(_slide(plan, move)),
                settings=1.0 if move.within < AMPLE else AMPLE_SHARE,
                locks=2 if locks else 0,
                tool_changes=int(last is None or last.tool != move.tool),
                measurings=measured[move.n],
                feed_seconds=feed_seconds(length, *rates.get(move.n, (FEEDS[move.stage], USUAL_RPM))),
            )
        )
    return tuple(out)


def travel_a_turn(slide: Slide) -> float:
    """Travel of a turn of a handwheel [mm]: the job's, or what is usual.

    >>> travel_a_turn(Slide("cross", "diameter", "out", 0.01))
    2.0
    """
    return slide.per_turn or USUAL_TURN[slide.name]


def _slide(plan: Plan, move: Move) -> Slide:
    return plan.job.shop.slide(move.slide)


def _idle(plan: Plan, move: Move) -> Slide:
    return plan.job.shop.cross if move.slide != "cross" else plan.job.shop.fine


def _cut_lengths(plan: Plan, found: Loads) -> dict[int, float]:
    if found.moves:
        return {load.n: load.length for load in found.moves}
    return {cut.n: cut.length for cut in engaged(plan)}


def left_volume(plan: Plan) -> float:
    """Metal in the ridges above the curve when the plan is done [mm^3], by Pappus from the swept surface.

    What stands higher than the highest ridge belongs to no ridge: the corner behind the curve, where no nose gets.
    """
    frame = plan.frame
    surface = [(p.x, frame.sign * p.y) for p in plan.prediction.surface]
    if len(surface) < 3:
        return 0.0
    end, front = surface[-1][0], surface[0][0]
    rest = shapely.make_valid(shapely.Polygon([(front, frame.base), *surface, (end, frame.base)]))
    high, low = max(plan.job.part.curve), min(plan.job.part.curve)
    # What stands in front of a curve that begins on the axis belongs to it: nothing else is there.
    ahead = max(high, front) + 1.0 if frame.on_axis else high
    strip = shapely.box(low, frame.base, ahead, frame.base + 4 * plan.job.shop.stock.radius)
    part = part_region(frame)
    near = shapely.intersection(strip, shapely.buffer(part, plan.prediction.ridge_max + _SURFACE))
    return _revolved(shapely.get_parts(shapely.intersection(shapely.difference(rest, part), near)))


def _revolved(parts: Sequence[shapely.Geometry] | np.ndarray) -> float:
    total = 0.0
    for part in parts:
        if isinstance(part, shapely.Polygon) and not part.is_empty:
            ring = [(float(x), abs(float(y))) for x, y in shapely.get_coordinates(part.exterior)[:-1]]
            total += revolved_volume(ring)
    return total
