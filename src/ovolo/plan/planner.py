"""From a job to a plan: stations, roughing, finishing, all swept before anyone sees it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ovolo.errors import CannotPlan, Fault
from ovolo.geometry.segments import Point
from ovolo.plan.finishing import Finisher
from ovolo.plan.frame import Frame
from ovolo.plan.model import Before, Job, Move, Plan, Prediction, Proof
from ovolo.plan.roughing import Rougher
from ovolo.plan.stations import Choice, Chooser, grid_settings, uncovered
from ovolo.plan.sweep import Sweep, left_standing, surface, sweep
from ovolo.plan.walk import Step, Walk
from ovolo.shop.tools import Tool

#: A plan that cuts deeper than this into the part is an error of ours, mm.
GOUGE = 0.0015


def make_plan(
    job: Job, *, ridge: float | None = None, stations: int | None = None, tool: str | None = None
) -> Plan:
    """Plan a job: `ridge` (mm) instead of the job's own, or the least ridge for a number of `stations`; `tool` by name.

    Raises CannotPlan with every fault found: where, what, and what would do.
    """
    if ridge is not None:
        job = replace(job, part=replace(job.part, ridge=ridge))
    frame = Frame(job)
    chosen, choice, proof = choose(frame, stations, tool)
    walk = Walk(chosen, 0.0, 0.0)
    rougher = Rougher(frame, chosen)
    walk.x, walk.y = rougher.clear_x, rougher.clear_y
    rougher.along(walk)
    rougher._lift(walk)
    rougher.across(walk)
    walk.stage = "finish"
    Finisher(frame, walk, rougher.clear_x, rougher.clear_y).finish(choice.passes)
    swept = sweep(frame, walk.steps)
    return Plan(job, (chosen,), moves(frame, walk.steps, swept), (), len(choice.passes), len(choice.passes), proof,
                prediction(frame, swept))


def choose(frame: Frame, stations: int | None, name: str | None) -> tuple[Tool, Choice, Proof]:
    tool = frame.job.shop.tools[0] if name is None else next(t for t in frame.job.shop.tools if t.name == name)
    settings = grid_settings(frame, tool, frame.stretch)
    asked = frame.job.part.ridge
    gaps = uncovered(frame, tool, settings, asked)
    if gaps:
        raise CannotPlan([Fault("tool", tool.name, "reach", f"out of reach {gaps}", "?")])
    chooser = Chooser(frame, tool, frame.stretch, settings)
    choice = chooser.choose(asked)
    assert choice
    n = len(choice.passes)
    return tool, choice, Proof(n - 1, chooser.one_fewer(n, asked))


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
