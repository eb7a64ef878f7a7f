"""From a job to a plan: tools, stations, roughing, finishing, all of it swept before anyone sees it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import permutations

import numpy as np

from ovolo.errors import CannotPlan, Fault
from ovolo.geometry.segments import Point
from ovolo.plan.assign import Assignment, Reach, Work, assign, reach_of
from ovolo.plan.finishing import Finisher
from ovolo.plan.frame import Frame
from ovolo.plan.metal import Metal
from ovolo.plan.model import Before, Job, Move, Plan, Prediction, Proof
from ovolo.plan.roughing import CLEAR, Care, Rougher
from ovolo.plan.sweep import Sweep, left_standing, surface, sweep
from ovolo.plan.walk import Step, Walk
from ovolo.shop.tools import Tool

#: A plan that cuts deeper than this into the part is an error of ours, mm.
GOUGE = 0.0015
#: How often roughing is planned again, leaving less each time.
TRIES = 6
#: How many drafts of one round are swept.
MOST_SWEPT = 4
#: How many other tools of the drawer are tried for roughing.
MOST_OTHERS = 4
#: What a change of tool is worth, in moves: it has to be set anew.
CHANGE = 24
#: A tool that can plunge this many times deeper than another does the pockets in its stead.
DEEPER = 2.0


def make_plan(job: Job, *, ridge: float | None = None, stations: int | None = None, tool: str | None = None) -> Plan:
    """Plan a job: `ridge` (mm) instead of the job's own, or the least ridge for a number of `stations`; `tool` by name.

    Raises CannotPlan with every fault found: where, what, and what would do.
    """
    if ridge is not None:
        job = replace(job, part=replace(job.part, ridge=ridge))
    frame = Frame(job)
    reaches = [reach_of(frame, t, job.part.ridge) for t in job.shop.tools if tool in (None, t.name)]
    assignment = assign(frame, reaches, job.part.ridge)
    if assignment is None:
        raise CannotPlan([Fault("tool", [r.tool.name for r in reaches], "reach", f"out of reach {reaches[0].missed}", "?")])
    steps, swept = lay_down(frame, assignment, [r.tool for r in reaches])
    return Plan(
        job,
        tuple(w.tool for w in assignment.works),
        moves(frame, steps, swept),
        (),
        assignment.stations,
        assignment.stations,
        assignment.proof,
        prediction(frame, swept),
    )


def lay_down(frame: Frame, assignment: Assignment, drawer: Sequence[Tool]) -> tuple[list[Step], Sweep]:
    """Moves for an assignment: of all orders of its tools, with and without another tool to rough with, the one with
    the fewest moves that breaks no rule; roughing is planned again with less left where every one breaks some."""
    orders = _orders(assignment.works, drawer)
    best: tuple[int, list[Step], Sweep] | None = None
    care = Care()
    for _ in range(TRIES):
        drafts = sorted((_moves(frame, order, care) for order in orders), key=_cost)
        for steps in drafts[:MOST_SWEPT]:
            swept = sweep(frame, steps)
            broken = _broken(frame, steps, swept)
            if not broken:
                return steps, swept
            if best is None or broken < best[0]:
                best = (broken, steps, swept)
        care = care.more()
    assert best is not None
    return best[1], best[2]


def _orders(works: Sequence[Work], drawer: Sequence[Tool]) -> list[tuple[Work, ...]]:
    """The orders worth trying: any order of up to three tools, each also after a tool that only roughs."""
    orders = list(permutations(works)) if len(works) <= 3 else [tuple(works)]
    others = [t for t in drawer if all(t.name != w.tool.name for w in works)]
    return orders + [(Work(t, (), (), 0.0), *order) for t in others[:MOST_OTHERS] for order in orders]


def _cost(steps: Sequence[Step]) -> int:
    """Moves, with a change of tool counted as several."""
    changes = sum(a.tool.name != b.tool.name for a, b in zip(steps, steps[1:], strict=False))
    return len(steps) + CHANGE * changes


def _broken(frame: Frame, steps: Sequence[Step], swept: Sweep) -> int:
    """How many moves break a rule: a gouge, a bite over the limit, a finishing cut too heavy or too thick."""
    bite = frame.job.shop.bite
    heaviest = max((t.area for s, t in zip(steps, swept.moves, strict=True) if s.stage == "rough"), default=0.0)
    count = int(swept.gouge > GOUGE)
    for step, took in zip(steps, swept.moves, strict=True):
        if step.stage == "rough" or heaviest == 0:
            count += took.bite > bite * 1.02 + 0.01
        if step.stage == "finish":
            count += took.thick or (heaviest > 0 and took.area > heaviest)
    return count


def _moves(frame: Frame, works: Sequence[Work], care: Care) -> list[Step]:
    """Every tool in turn: rough what it reaches, then finish its stretches."""
    metal = _blank(frame, [w.tool for w in works])
    steps: list[Step] = []
    number, faced = 1, False
    depths = {w.tool.name: _plunge(frame, w.tool) for w in works}
    for i, work in enumerate(works):
        rougher = Rougher(frame, work.tool, metal, care)
        walk = Walk(work.tool, rougher.clear_x, rougher.clear_y)
        better = any(depths[w.tool.name] > DEEPER * depths[work.tool.name] for w in works[i + 1 :])
        rougher.rough(walk, pockets=not better)
        walk.stage = "finish"
        finisher = Finisher(frame, walk, rougher.clear_y, number)
        for spare, passes in rougher.thinning(work.passes):
            finisher.thin(passes, spare)
        faced = faced or bool(work.passes) and finisher.face()
        finisher.finish(work.passes)
        number = finisher.number
        metal = rougher.metal
        for item in work.passes:
            metal.cut_level(item.y, item.first, item.last)
        steps += walk.steps
    return steps


def _plunge(frame: Frame, tool: Tool) -> float:
    """How deep a nose may be fed straight into a flat without a cut wider than the bite, roughly, mm."""
    bite, radius = frame.job.shop.bite, tool.nose_radius
    return radius - math.sqrt(max(radius**2 - bite**2 / 4, 0.0)) if bite < 2 * radius else bite


def _blank(frame: Frame, tools: Sequence[Tool]) -> Metal:
    radius = max(t.nose_radius for t in tools)
    x_low = frame.back - 2 * radius - 1.0
    x_high = max(frame.front, frame.outline.start.x) + 2 * radius + 2 * CLEAR
    pitch = max(0.01, (x_high - x_low) / 4000)
    x = x_low + pitch * np.arange(math.ceil((x_high - x_low) / pitch) + 1)
    return Metal(x, np.where(x <= frame.front, frame.top, frame.base - 10.0), tools[0])


def moves(frame: Frame, steps: list[Step], swept: Sweep) -> tuple[Move, ...]:
    out = []
    shop = frame.job.shop
    for n, (step, took) in enumerate(zip(steps, swept.moves, strict=True), 1):
        slide = shop.saddle if step.slide == "saddle" else shop.cross
        figure = frame.figure(slide, step.tool, *step.end)
        out.append(Move(n, step.stage, step.tool.name, step.slide, frame.place(*step.start), frame.place(*step.end), figure,
                        str(figure), 0.02, took.area > 1e-4, took.area, took.bite, step.station))
    return tuple(out)


def prediction(frame: Frame, swept: Sweep) -> Prediction:
    u, height, points = left_standing(frame, swept.rest)
    i = int(np.argmax(height)) if len(height) else 0
    return Prediction(float(height[i]) if len(height) else 0.0, Point(*points[i]) if len(height) else Point(0, 0), swept.gouge,
                      tuple(frame.place(*p) for p in surface(frame, swept.rest)))
