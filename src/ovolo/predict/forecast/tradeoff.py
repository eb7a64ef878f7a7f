"""How many settings are worth it: ridge against number of settings against minutes, for each tool that does the curve.

Every point is exact: the fewest settings on the readout's own grid for a ridge, spread until the highest ridge is as
low as that number allows, by the planner's own search. Nothing is swept. The minutes are an estimate by the user's
pace: what the plan at hand takes before it comes to finishing, then winding, setting and cutting from setting to
setting, and the filing of what stands. Lengths in mm, times in minutes.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from ovolo.cutting.filing import ring_volume
from ovolo.cutting.pace import Pace, WorkCounts, feed_seconds, times
from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.stations.choose_tools import Assignment, Work, assign, missed_by_all, reach_of, reaches_of
from ovolo.plan.stations.search import each_number_once
from ovolo.plan.stations.stations import Choice, Pass
from ovolo.plan.view.frame import Frame
from ovolo.predict.forecast.outlook import AMPLE_SHARE, USUAL_RPM, setting_scatter, travel_a_turn, work_counts_of
from ovolo.predict.forecast.settings import gaps, settings_of_noses
from ovolo.predict.loads.load import loads
from ovolo.predict.loads.spindle import FEEDS, feed_of, material_of, turning_for
from ovolo.shop.tools import Tool

__all__ = ["COARSEST", "FILED", "Tradeoff", "TradeoffPoint", "Unsuited", "tradeoff"]

FILED = 0.1
"""A ridge higher than this is not filed away without losing the form (common practice, no source) [mm]."""

COARSEST = 0.2
"""The highest ridge looked at, unless more is wanted [mm]."""

POINTS = 11
"""This many ridges are looked at for each tool."""

_AROUND = 6
"""Moves to get to the curve and away from it, besides two for each setting."""

_THIRD = 1 / 3
"""Share of spacing times height that a ridge fills (parabola)."""


class TradeoffPoint(NamedTuple):
    """The lowest ridge that a number of settings of a tool can leave, and what it takes.

    tool:    its name; several joined by " + " where no tool does the curve alone.
    ridge:   highest of all [mm]. minutes: in all, with roughing and filing. filing: of that [min].
    """

    tool: str
    stations: int
    ridge: float
    minutes: float
    filing: float


class Unsuited(NamedTuple):
    """A tool that can't finish the curve alone to the ridge specified, and the first place that it misses, (z, r)."""

    tool: str
    at: Point


class Tradeoff(NamedTuple):
    """All points, those of one tool together, the coarsest first.

    recommended: the least minutes of all points that leave no more than was specified; None where no point does.
    quickest:    the least minutes of all that a file can still do (`FILED`), or than was specified where that is more.
    asked:       the ridge specified [mm]. floor: scatter of one setting (standard uncertainty) [mm]: ridges much lower
                 than that are lost in it.
    """

    points: tuple[TradeoffPoint, ...]
    unsuited: tuple[Unsuited, ...]
    recommended: TradeoffPoint | None
    quickest: TradeoffPoint | None
    asked: float
    floor: float


def tradeoff(plan: Plan, pace: Pace | None = None) -> Tradeoff:
    """Ridge against settings against minutes for every tool of the drawer, and for several where none does alone."""
    frame, asked = Frame(plan.job), plan.job.part.ridge
    clock = _Clock(plan, frame, pace or plan.job.shop.pace)
    points: list[TradeoffPoint] = []
    unsuited: list[Unsuited] = []
    for tool in plan.job.shop.tools:
        missed = missed_by_all(frame, reaches_of(frame, [tool], asked))
        if missed:
            x, y = frame.chain.points(np.array([missed[0][0]]))
            unsuited.append(Unsuited(tool.name, frame.place(float(x[0]), float(y[0]))))
        elif reach_of(frame, tool, asked).missed or plan.job.shop.set_over is not None:
            # It does a part of the curve from the side, or tapers in one pass by the top slide, as the plan does.
            points += _together(frame, [tool], asked, clock)
        else:
            points += _points(frame, tool, asked, clock)
    if not points:
        points = _together(frame, plan.job.shop.tools, asked, clock)
    points = [_as_swept(point, plan) for point in points]
    kept = [point for point in points if point.ridge <= asked + 1e-9]
    fileable = [point for point in points if point.ridge <= max(asked, FILED) + 1e-9]
    return Tradeoff(
        tuple(points),
        tuple(unsuited),
        min(kept, key=_by_minutes, default=None),
        min(fileable, key=_by_minutes, default=None),
        asked,
        setting_scatter(plan),
    )


def _as_swept(point: TradeoffPoint, plan: Plan) -> TradeoffPoint:
    """The plan's own point has the ridge that its sweep found, as every other text and picture of the plan has."""
    own = point.stations == plan.stations and point.tool.split(" + ") == [tool.name for tool in plan.tools]
    swept = plan.prediction.ridge_max
    return point._replace(ridge=swept) if own and swept <= plan.job.part.ridge else point


def _by_minutes(point: TradeoffPoint) -> tuple[float, float]:
    return point.minutes, point.ridge


def _coarsest(tool: Tool, asked: float) -> float:
    return min(max(COARSEST, 2 * asked), 0.9 * tool.nose_radius)


def _ridges(frame: Frame, coarsest: float, asked: float) -> list[float]:
    """Ridges from the coarsest to the finest that the slides can be set to; the one specified among them."""
    finest = max(frame.job.shop.cross.step, frame.job.shop.saddle.step)
    spread = np.geomspace(coarsest, min(finest, coarsest / 2), POINTS)
    return sorted({*(float(ridge) for ridge in spread), min(asked, coarsest)}, reverse=True)


def _points(frame: Frame, tool: Tool, asked: float, clock: "_Clock") -> list[TradeoffPoint]:
    """The points of a tool that does the curve alone, each number of settings once, found as the planner finds them."""

    def at(ridge: float) -> tuple[int, Choice] | None:
        reach = reach_of(frame, tool, ridge)
        choice = None if reach.missed else reach.chooser(frame, frame.stretch).choose(ridge)
        return None if choice is None else (len(choice.passes), choice)

    found = each_number_once(_ridges(frame, _coarsest(tool, asked), asked), at)
    return [clock.point([(tool, choice.passes)], choice.ridge) for choice in found.values()]


def _together(frame: Frame, tools: Sequence[Tool], asked: float, clock: "_Clock") -> list[TradeoffPoint]:
    """The points of the fewest tools that do the curve between them."""

    def at(ridge: float) -> tuple[int, Assignment] | None:
        shared = assign(frame, reaches_of(frame, tools, ridge), ridge)
        return None if shared is None else (shared.stations, shared)

    ridges = _ridges(frame, max(COARSEST, 2 * asked), asked)
    found = each_number_once([r for r in ridges if r < min(tool.nose_radius for tool in tools)], at)
    return [
        clock.point([(w.tool, _all_passes(w)) for w in a.works], max(w.highest for w in a.works))
        for a in found.values()
    ]


def _all_passes(work: Work) -> list[Pass]:
    """The settings of a tool, those in bays as they stand on the lathe, and cones as one each."""
    beside = []
    for side in work.sides:
        for item in side.passes:
            at = side.view.back_from(Point(item.last, item.y))
            beside.append(Pass(at.y, at.x, at.x, item.foot))
    along = [
        Pass((item.start.y + item.end.y) / 2, middle, middle, (item.piece.begin + item.piece.end) / 2)
        for item in work.slants
        for middle in ((item.start.x + item.end.x) / 2,)
    ]
    return [*work.passes, *beside, *along]


class _Clock:
    """How long the finishing with some settings takes, after all that comes before it."""

    def __init__(self, plan: Plan, frame: Frame, pace: Pace) -> None:
        self.plan, self.frame, self.pace = plan, frame, pace
        rough = replace(plan, moves=tuple(move for move in plan.moves if move.stage == "rough"))
        self.before = times(work_counts_of(rough, loads(rough))._replace(filed=0.0, tool_changes=0), pace)

    def point(self, works: Sequence[tuple[Tool, Sequence[Pass]]], ridge: float) -> TradeoffPoint:
        """The point of some settings that leave `ridge` at most."""
        work_counts = [self._work_counts(tool, passes, ridge) for tool, passes in works]
        total = WorkCounts(*(sum(values) for values in zip(*work_counts, strict=True)))
        taken = times(total, self.pace)
        stations = sum(len(passes) for _, passes in works)
        name = " + ".join(tool.name for tool, _ in works)
        return TradeoffPoint(name, stations, ridge, self.before.minutes + taken.minutes, taken.filing / 60)

    def _work_counts(self, tool: Tool, passes: Sequence[Pass], ridge: float) -> WorkCounts:
        """Two careful moves a setting, half the way between two of them under the cut, and what is then filed."""
        shop = self.plan.job.shop
        along = sum(abs(one.last - other.last) for one, other in pairwise(passes))
        across = sum(abs(one.y - other.y) for one, other in pairwise(passes))
        sweeps = sum(abs(item.first - item.last) for item in passes)
        lockable = (shop.cross.lock + shop.saddle.lock) / 2
        return WorkCounts(
            turns=along / 2 / travel_a_turn(shop.saddle) + across / 2 / travel_a_turn(shop.cross),
            settings=2 * len(passes) + round(AMPLE_SHARE * _AROUND),
            locks=round(2 * lockable * len(passes)),
            tool_changes=1,
            feed_seconds=self._feeding(tool, (along + across) / 2 + sweeps),
            filed=self._filed(tool, passes, ridge),
        )

    def _feeding(self, tool: Tool, length: float) -> float:
        row = material_of(self.plan)
        if row is None:
            return feed_seconds(length, FEEDS["finish"], USUAL_RPM)
        turning = turning_for(self.plan, row, "finish", tool.name, 2 * self.plan.job.shop.stock.radius)
        slower = min((self.plan.job.shop.cross, self.plan.job.shop.saddle), key=lambda slide: feed_of(turning, slide))
        return feed_seconds(length, feed_of(turning, slower), turning.rpm)

    def _filed(self, tool: Tool, passes: Sequence[Pass], ridge: float) -> float:
        """Metal in the ridges, each a ring of a third of its spacing times its height [mm^3]."""
        noses = [(n, Point(item.last, item.y), tool) for n, item in enumerate(passes)]
        settings = settings_of_noses(self.frame, noses)
        total = 0.0
        for (one, other), height in zip(pairwise(settings), gaps(self.frame, settings), strict=True):
            area = _THIRD * math.dist(one.foot, other.foot) * min(height, ridge)
            total += ring_volume(area, abs(one.foot.y + other.foot.y) / 2)
        return total
