"""From a job to a plan: tools, stations, roughing, finishing, all of it swept before anyone sees it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ovolo.errors import CannotPlan, Fault
from ovolo.plan.job import Job
from ovolo.plan.model import Plan, Worked
from ovolo.plan.move import Prediction
from ovolo.plan.report.advice import out_of_reach
from ovolo.plan.report.broken_rules import broken_faults, ridge_fault
from ovolo.plan.report.machine_limits import chuck_faults
from ovolo.plan.report.measuring_stop import set_exactly
from ovolo.plan.report.notes import notes
from ovolo.plan.report.operator_steps import ahead
from ovolo.plan.stations.choose_tools import (
    Assignment,
    Reach,
    allocate,
    equalised,
    proof_of,
    reach_over,
    reaches_of,
    stations_for,
)
from ovolo.plan.stations.search import least_ridge
from ovolo.plan.stations.taper import slant_faults
from ovolo.plan.swept_plan import SweptPlan
from ovolo.plan.toolpath.lay_down import lay_down
from ovolo.plan.toolpath.moves import moves_of, predict
from ovolo.plan.toolpath.plan_moves import TOLERANCE, Draft
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

#: Ridges between which the least one for a number of stations is looked for, mm.
FINEST, COARSEST = 5e-4, 8.0
#: How closely it is found, as a share of it.
CLOSE = 5e-4


def make_plan(job: Job, *, ridge: float | None = None, stations: int | None = None, tool: str | None = None) -> Plan:
    """Plan a job, on the grid of its slides, and sweep it.

    `ridge` (mm) stands in for the job's own; with `stations` the least ridge that so many can keep is found instead;
    `tool` names the one tool to use. The job in the plan carries the ridge that was planned for.

    Raises CannotPlan with every fault found: where, why, and what would do.
    """
    job = _asked(job, ridge)
    tools = _drawer(job, tool)
    if stations is not None:
        job = _asked(job, ridge_for(job, stations, tools=[t.name for t in tools]))
    return _plan(*choose_tools(job, tools))


def choose_tools(job: Job, tools: Sequence[Tool]) -> tuple[Frame, Assignment, list[Reach]]:
    """Tools and settings; the finish is carried a little past the curve where that costs no station.

    Raises CannotPlan where no tools reach the whole curve.
    """
    ridge, exact = job.part.ridge, Frame(job)
    at_no_cone = slant_faults(exact, tools)
    if at_no_cone:
        raise CannotPlan(at_no_cone)
    reaches = reaches_of(exact, tools, ridge)
    shared = allocate(exact, reaches, ridge)
    if shared is None:
        raise CannotPlan(out_of_reach(exact, reaches, ridge))
    proof = proof_of(exact, shared[1], ridge)
    ample = exact.carried_on()
    wider = [reach_over(ample, r, ridge) for r in reaches]
    again = allocate(ample, wider, ridge)
    if again is not None and again[0] == shared[0]:
        return ample, equalised(ample, again[1], ridge, proof), wider
    return exact, equalised(exact, shared[1], ridge, proof), reaches


def _plan(frame: Frame, assignment: Assignment, reaches: Sequence[Reach]) -> Plan:
    draft, prediction = _laid(frame, assignment, [r.tool for r in reaches if r.side is None])
    steps, swept, care = draft.steps, draft.swept, draft.care
    moves = moves_of(frame, steps, swept, max(frame.job.part.ridge - prediction.ridge_max, 0.0))
    faults = chuck_faults(frame, moves)
    faults += broken_faults(frame, draft)
    if _too_high(frame, prediction):
        faults.append(ridge_fault(frame, prediction.ridge_max))
    if faults:
        raise CannotPlan(faults)
    names = list(dict.fromkeys(s.tool.name for s in steps))
    used = tuple(next(r.tool for r in reaches if r.tool.name == name) for name in names)
    entries = [n for n, step in enumerate(steps, 1) if step.enters]
    trials = [n for n, step in enumerate(steps, 1) if step.trial]
    before = ahead(frame, moves, entries, trials, SweptPlan(frame, tuple(steps), swept).border_after)
    moves = set_exactly(moves, before, frame.job.shop.cross.step)
    return Plan(
        job=frame.job,
        tools=used,
        moves=moves,
        before=before,
        stations=assignment.stations,
        fewest=assignment.fewest,
        proof=assignment.proof,
        prediction=prediction,
        notes=notes(frame, assignment, reaches, care),
        worked=Worked(frame, assignment, tuple(reaches), tuple(steps), swept, moves),
    )


def _laid(frame: Frame, assignment: Assignment, drawer: Sequence[Tool]) -> tuple[Draft, Prediction]:
    """The moves and what they leave; where that is too much and no rule was broken, once more with that as a rule."""
    draft = lay_down(frame, assignment, drawer)
    prediction = predict(frame, draft.swept)
    if draft.broken or not _too_high(frame, prediction):
        return draft, prediction
    again = lay_down(frame, assignment, drawer, strict=True)
    return (draft, prediction) if again.broken else (again, predict(frame, again.swept))


def _too_high(frame: Frame, prediction: Prediction) -> bool:
    return prediction.ridge_max > frame.job.part.ridge + TOLERANCE


def _asked(job: Job, ridge: float | None) -> Job:
    return job if ridge is None else replace(job, part=replace(job.part, ridge=ridge))


def _drawer(job: Job, name: str | None) -> list[Tool]:
    found = [t for t in job.shop.tools if name in (None, t.name)]
    if not found:
        names = ", ".join(t.name for t in job.shop.tools)
        raise CannotPlan(
            [Fault("tool", name, f"one of: {names}", "the drawer has no tool of this name", "Name one of it")]
        )
    return found


def ridge_for(job: Job, stations: int, tools: Sequence[str] | None = None) -> float:
    """The least ridge that so many stations can keep, mm, with the best choice of tools.

    Raises CannotPlan where even a very high ridge takes more.
    """
    frame = Frame(job)
    drawer = [t for t in job.shop.tools if tools is None or t.name in tools]
    counts: list[int] = []

    def count(ridge: float) -> int | None:
        found = stations_for(frame, drawer, ridge)
        counts.extend([] if found is None else [found])
        return found

    found = least_ridge(count, stations, near=job.part.ridge, finest=FINEST, coarsest=COARSEST, close=CLOSE)
    if found is None:
        limit = f"at least {min(counts)}" if counts else "more"
        says = "so few settings cannot shape the curve"
        raise CannotPlan([Fault("stations", stations, limit, says, "Allow as many as that")])
    return found
