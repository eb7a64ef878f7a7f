"""Laying down the moves of an assignment: who roughs what, in which order the tools work, in the fewest minutes.

Recipes are compared by what roughing would cost on the quick picture of the metal. The best few are laid down in full
and swept: the coarsest roughing whose finish breaks no rule is taken.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from ovolo.geometry.segments import Point
from ovolo.plan.stations.choose_tools import Assignment
from ovolo.plan.stations.stations import Pass
from ovolo.plan.steps import Step, slack_of
from ovolo.plan.toolpath.clearing.gone_over import gone_over
from ovolo.plan.toolpath.clearing.ground import STILL, Ground
from ovolo.plan.toolpath.clearing.leave import Leave
from ovolo.plan.toolpath.clearing.regions import clear
from ovolo.plan.toolpath.finishing import Finisher
from ovolo.plan.toolpath.ground import Care
from ovolo.plan.toolpath.moves import CUTS
from ovolo.plan.toolpath.plain_passes import with_plain
from ovolo.plan.toolpath.plan_moves import Draft, _in_bays, _swept, face_stands, near_jaws, over_the_bite
from ovolo.plan.toolpath.plan_moves import lay_down as in_passes
from ovolo.plan.toolpath.recipes import Recipe, Turn, Yard, finishes, recipes
from ovolo.plan.toolpath.taper_passes import cut_along
from ovolo.plan.toolpath.thinning import layers
from ovolo.plan.toolpath.top_slide import brought
from ovolo.plan.toolpath.trial_cut import joined, make_trial, of_trials
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

#: Over a floor that a blade evens, this share of its corner is left; plunges there lie so many of its widths apart.
EVENED, PLUNGED = 0.5, 0.9
#: So many recipes are laid down in full and swept, if their estimates are this near to the best.
MOST_SWEPT, NEAR = 3, 1.03


class Tried(NamedTuple):
    """Moves that were tried: what they leave, what they cost, s, and whether a move that breaks a rule belongs to
    roughing."""

    draft: Draft
    cost: float
    too_much: bool


def lay_down(frame: Frame, assignment: Assignment, drawer: Sequence[Tool], *, strict: bool = False) -> Draft:
    """Moves for an assignment, what they take, and how many of them break a rule.

    Of all recipes the one that costs least and breaks none; roughing leaves less where every one breaks some. `strict`
    counts it as broken too where more than the ridge is left: at the end of a curve that falls, a heap that roughing
    left beside it may lean over it.
    """
    tools = [*drawer, *(w.tool for w in assignment.works)]
    yard = Yard(frame, tools)
    draft = _laid_down(yard, assignment, drawer, strict)
    if not draft.broken or not yard.made_trials or _hopeless(frame, draft):
        return draft
    plain = _laid_down(Yard(frame, tools, trials=False), assignment, drawer, strict)
    return min(draft, plain, key=lambda found: found.broken)


def _laid_down(yard: Yard, assignment: Assignment, drawer: Sequence[Tool], strict: bool) -> Draft:
    """The same with or without trial cuts: a part is rather planned without a stop to measure than not at all."""
    ranked = _ranked(yard, recipes(assignment.works, drawer), Leave())
    best, leave, at_once = _coarsest(yard, ranked, strict)
    if at_once and not best.draft.broken:
        return best.draft
    if not best.draft.broken:
        best = _between(yard, ranked, best, leave, strict)
    usual = in_passes(yard.frame, assignment, drawer, strict=strict, trials=yard.trials)
    yard.made_trials |= any(step.trial for step in usual.steps)
    cost = yard.price.cost(usual.steps, [took.area > CUTS for took in usual.swept.moves])
    return min((best.draft.broken, best.cost, best.draft), (usual.broken, cost, usual), key=lambda item: item[:2])[2]


def _coarsest(yard: Yard, ranked: Sequence[Recipe], strict: bool) -> tuple[Tried, Leave, bool]:
    """What breaks no rule, or the fewest; how much was left one try before that, and whether it was the first."""
    before = leave = Leave()
    best: Tried | None = None
    while True:
        found = min((_tried(yard, recipe, leave, strict) for recipe in ranked), key=lambda t: (t.draft.broken, t.cost))
        at_once = best is None
        best = found if best is None or found.draft.broken < best.draft.broken else best
        following = (leave.lighter() or leave.finer()) if found.too_much else (leave.finer() or leave.lighter())
        if not best.draft.broken or following is None or _hopeless(yard.frame, found.draft):
            return best, before, at_once
        before, leave = leave, following


def _hopeless(frame: Frame, draft: Draft) -> bool:
    """Whether a rule is broken however little roughing leaves: no tool gets to the end face, or a setting itself brings
    its tool too near the jaws."""
    return face_stands(frame, draft.swept) or any(s.station and near_jaws(frame, s) for s in draft.steps)


def _ranked(yard: Yard, found: Sequence[Recipe], leave: Leave) -> list[Recipe]:
    """The few recipes worth laying down, the cheapest first."""
    costs: dict[int, float] = {}
    most = math.inf
    hopeful: set[Turn] = set()
    for n, recipe in sorted(enumerate(found), key=lambda item: len(item[1])):
        others = [turn for turn in recipe if not finishes(turn.work)]
        if len(others) > 1 and not hopeful & set(others):  # neither of them saves its own change
            continue
        costs[n] = yard.estimate(recipe, leave, most)
        hopeful |= set(others) if costs[n] <= most else set()
        most = min(most, NEAR * costs[n])
    order = sorted((n for n in costs if costs[n] <= most), key=lambda n: costs[n])
    return [found[n] for n in order[:MOST_SWEPT]]


def _between(yard: Yard, ranked: Sequence[Recipe], best: Tried, coarser: Leave, strict: bool) -> Tried:
    """The same with roughing that leaves a little more, where it was tried with much more before."""
    finer = coarser.finer()
    if finer is None or finer.allowance != coarser.allowance:
        return best
    again = _tried(yard, ranked[0], replace(coarser, step=(finer.step + coarser.step) / 2), strict)
    return again if not again.draft.broken and again.cost < best.cost else best


def _tried(yard: Yard, recipe: Recipe, leave: Leave, strict: bool) -> Tried:
    """A recipe laid down and swept; without its trials, where a trial would break a rule."""
    found = _drafted(yard, recipe, leave, strict, trials=yard.trials)
    if found.draft.broken and _trial_breaks(yard.frame, found.draft):
        plain = _drafted(yard, recipe, leave, strict, trials=False)
        return min(found, plain, key=lambda tried: tried.draft.broken)
    return found


def _trial_breaks(frame: Frame, draft: Draft) -> bool:
    """Whether a move that makes a trial breaks a rule."""
    made, swept = of_trials(draft.steps), draft.swept
    over = set(over_the_bite(frame, draft.steps, swept)) & made
    return bool(over) or any(swept.moves[n].fouls or near_jaws(frame, draft.steps[n]) for n in made)


def _drafted(yard: Yard, recipe: Recipe, leave: Leave, strict: bool, *, trials: bool) -> Tried:
    frame = yard.frame
    draft = _swept(frame, _moves(yard, recipe, leave, trials=trials), Care(allowance=leave.allowance), strict)
    over = over_the_bite(frame, draft.steps, draft.swept) if draft.broken else []
    too_much = any(draft.steps[n].stage == "rough" for n in over)
    cost = yard.price.cost(draft.steps, [took.area > CUTS for took in draft.swept.moves])
    return Tried(draft, cost, too_much)


def _moves(yard: Yard, recipe: Recipe, leave: Leave, *, trials: bool) -> list[Step]:
    """Every tool in turn: rough its share, then finish its stretches."""
    metal, frame = yard.blank, yard.frame
    steps: list[Step] = []
    number, faced, finished = 1, False, False
    known = yard.roughed(recipe, leave) or []
    for n, turn in enumerate(recipe):
        if finished:  # what was finished in between is gone
            bench = yard.bench(turn.work.tool, metal, leave)
            clear(bench, turn.share)
        else:
            bench = known[n].fork()
        walk, shop = bench.walk, frame.job.shop
        if finishes(turn.work):
            walk.steps = gone_over(walk.steps, bench.cuts)
        metal, work, clear_y = bench.metal, turn.work, bench.ground.clear_y
        walk.stage = "finish"
        made = make_trial(frame, walk, metal, clear_y) if trials and work.passes else None
        yard.made_trials |= made is not None
        walk.slide, walk.slack = shop.fine.name, slack_of(shop, shop.fine)
        number = cut_along(frame, walk, work.slants, metal, clear_y, number)
        finisher = Finisher(frame, walk, clear_y, number)
        passes = with_plain(frame, work.tool, work.passes, work.stretches)
        standing = metal.with_tool(work.tool)
        for thin in layers(frame, work.tool, metal, work.passes, shop.bite):
            finisher.thin(thin, standing)
            for item in thin:
                standing.cut_level(item.y, item.first, item.last)
        if work.tool.edge.only_plunges:
            finisher.thin(_side_by_side(bench.ground, work.passes))
        faced = faced or ((bool(passes or work.slants) or frame.face_counts) and finisher.face())
        finisher.finish(passes, metal)
        if made is not None:
            walk.steps = joined(frame, walk.steps, made)
        number = finisher.number
        for item in passes:
            metal.cut_level(item.y, item.first, item.last)
        beside, number = _in_bays(frame, work, metal, Care(), Point(walk.x, walk.y), number)
        steps += brought(frame, [*walk.steps, *beside])
        finished = finished or bool(work.passes or work.slants)
    return steps


def _side_by_side(ground: Ground, passes: Sequence[Pass]) -> list[Pass]:
    """Plunges side by side to just over the floors that a blade is to even along the axis: no more may be left there
    than its corner takes."""
    width, out = ground.tool.edge.whole_width, []
    for item in (p for p in passes if p.first - p.last > STILL):
        y = ground.lattice.y_up(item.y + EVENED * ground.tool.nose_radius)
        many = math.ceil((item.first - item.last) / (PLUNGED * width)) + 1
        columns = np.linspace(item.first, item.last, many)
        out += [Pass(y, x, x, item.foot) for x in (ground.lattice.x_up(float(c)) for c in columns)]
    return out
