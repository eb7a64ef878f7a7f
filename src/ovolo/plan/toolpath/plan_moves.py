"""Laying down the moves of an assignment: in which order its tools work, who roughs, and no rule broken."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise, permutations
from typing import NamedTuple

import numpy as np
import shapely

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.stations.choose_tools import Assignment, Work
from ovolo.plan.steps import Step, Walk, slack_of
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.sweep.jaws import too_near
from ovolo.plan.sweep.remaining import left_standing
from ovolo.plan.sweep.sweep import Sweep, Swept, limits_of, sweep
from ovolo.plan.toolpath.finishing import Finisher
from ovolo.plan.toolpath.ground import CLEAR, Care
from ovolo.plan.toolpath.lost_motion import taken_up
from ovolo.plan.toolpath.plain_passes import with_plain
from ovolo.plan.toolpath.roughing import Rougher
from ovolo.plan.toolpath.taper_passes import cut_along, in_parts, is_slant
from ovolo.plan.toolpath.thinning import layers
from ovolo.plan.toolpath.top_slide import brought
from ovolo.plan.toolpath.trial_cut import joined, make_trial
from ovolo.plan.toolpath.undercut import do_side
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

#: A plan that cuts deeper than this into the part is an error of ours, mm.
GOUGE = 0.0015
#: How far the sweep may differ from what the settings promise, mm.
TOLERANCE = 0.0015
#: Metal of less than this is none, mm²; and a distance beyond every job, mm.
STANDS, FAR = 1e-3, 1e4
#: How often roughing is planned again, leaving less each time.
TRIES = 6
#: An order whose draft breaks so many more rules than the best is not drawn again; nor any, where the best of a round
#: breaks so many and is no better than those before.
HOPELESS = 10
#: A draft of so many moves takes so long that it is not drawn again where that is hopeless.
LONG = 300
#: How many drafts of one round are swept.
MOST_SWEPT = 4
#: A draft that breaks a rule is worth another try when it has fewer moves than this share of the best that breaks none.
WORTH_WAITING = 0.75
#: How many other tools of the drawer are tried for roughing.
MOST_OTHERS = 4
#: What a change of tool is worth, in moves: it has to be set anew.
CHANGE = 24
#: A tool that can plunge this many times deeper than another does the pockets in its stead.
DEEPER = 2.0


class Draft(NamedTuple):
    """Moves that were tried, what they take, how many of them break a rule, and what roughing was asked to leave."""

    steps: list[Step]
    swept: Sweep
    broken: int
    care: Care


def lay_down(
    frame: Frame, assignment: Assignment, drawer: Sequence[Tool], *, strict: bool = False, trials: bool = True
) -> Draft:
    """Moves for an assignment, what they take, and how many of them break a rule.

    Of all orders of the tools, with and without another tool to rough with, the one with the fewest moves that breaks
    none; roughing is planned again with less left where every one breaks some. `strict` counts it as broken too where
    more than the ridge is left: at the end of a curve that falls, a heap that roughing left beside it may lean over it.
    """
    orders = _orders(assignment.works, drawer)
    best: Draft | None = None
    care, fewest = Care(), math.inf
    for _ in range(TRIES):
        drafts = sorted(
            ((_moves(frame, order, care, trials=trials), order) for order in orders), key=lambda d: _cost(d[0])
        )
        broken, long = {}, set()
        for steps, order in drafts[:MOST_SWEPT]:
            if best is not None and not best.broken and _cost(steps) >= _cost(best.steps):
                break
            draft = _swept(frame, steps, care, strict)
            broken[id(order)] = draft.broken
            long |= {id(order)} if len(steps) > LONG else set()
            if best is None or draft.broken < best.broken or not draft.broken:
                best = draft
        assert best is not None
        if not best.broken and _cost(drafts[0][0]) > WORTH_WAITING * _cost(best.steps):
            break
        least = min(broken.values(), default=0)
        if least >= max(fewest, HOPELESS) and len(long) == len(broken):
            break  # less left does not help
        fewest = min(fewest, least)
        orders = [o for o in orders if id(o) not in long or broken[id(o)] < HOPELESS + least]
        care = care.more()
    assert best is not None
    return best


def _swept(frame: Frame, steps: list[Step], care: Care, strict: bool) -> Draft:
    swept = sweep(frame, steps)
    broken = rules_broken(frame, steps, swept)
    if broken:
        steps, swept, broken = _parted(frame, steps, swept, broken)
    closed = taken_up(frame, steps, swept)
    if len(closed) > len(steps):
        steps, swept = closed, sweep(frame, closed)
        broken = rules_broken(frame, steps, swept)
    if strict and not broken:
        broken = int(_leans_over(frame, swept))
    return Draft(steps, swept, broken, care)


def _leans_over(frame: Frame, swept: Sweep) -> bool:
    """Whether more than the ridge stands over the curve."""
    _, height, _ = left_standing(frame, swept.rest)
    return bool(height.max(initial=0.0) > frame.job.part.ridge + TOLERANCE)


def _parted(frame: Frame, steps: list[Step], swept: Sweep, broken: int) -> tuple[list[Step], Sweep, int]:
    """The same with long finishing cuts made in two or more, where each takes more than any roughing move did."""
    heaviest = _heaviest(steps, swept)
    if not heaviest:
        return steps, swept, broken
    out: list[Step] = []
    for step, took in zip(steps, swept.moves, strict=True):
        heavy = step.stage == "finish" and took.area > heaviest and not took.thick
        out += _in_parts(frame, step, math.ceil(took.area / heaviest * 1.05)) if heavy else [step]
    if len(out) == len(steps):
        return steps, swept, broken
    again = sweep(frame, out)
    return out, again, rules_broken(frame, out, again)


def _in_parts(frame: Frame, step: Step, parts: int) -> list[Step]:
    """One move as several, each ending on a figure; the last of them carries the station."""
    lattice, (a, b) = frame.lattice(step.tool), (step.start, step.end)
    over = frame.job.shop.set_over
    if over is not None and is_slant(a, b):
        return in_parts(over, step, parts)
    places = [a]
    for i in range(1, parts):
        x, y = a.x + (b.x - a.x) * i / parts, a.y + (b.y - a.y) * i / parts
        at = Point(lattice.x_up(x), a.y) if step.slide != "cross" else Point(a.x, lattice.y_up(y))
        if math.dist(at, places[-1]) > 1e-9 and math.dist(at, b) > 1e-9:
            places.append(at)
    cuts = [step._replace(start=p, end=q, station=None, exact=False) for p, q in pairwise([*places, b])]
    return [*cuts[:-1], cuts[-1]._replace(station=step.station, exact=step.exact)]


def _heaviest(steps: Sequence[Step], swept: Sweep) -> float:
    return max((t.area for s, t in zip(steps, swept.moves, strict=True) if s.stage == "rough"), default=0.0)


def rules_broken(frame: Frame, steps: Sequence[Step], swept: Sweep) -> int:
    """How many moves break a rule: a shank in metal, a tool too near the jaws, a bite over the limit, a finishing cut
    too heavy; a gouge anywhere counts as one more, metal left on the end face of a bore where it counts as another."""
    too_much = set(over_the_bite(frame, steps, swept))
    fouls = {n for n, took in enumerate(swept.moves) if took.fouls}
    near = {n for n, step in enumerate(steps) if near_jaws(frame, step)}
    return int(swept.gouge > GOUGE) + int(face_stands(frame, swept)) + len(too_much | fouls | near)


def near_jaws(frame: Frame, step: Step) -> bool:
    """Whether a move brings its tool too near the jaws."""
    return too_near(frame, step, frame.job.shop.slide(step.slide).step)


def over_the_bite(frame: Frame, steps: Sequence[Step], swept: Sweep) -> list[int]:
    """The moves, counted from 0, that take too much: wider or thicker than they may, or more than all of roughing's."""
    heaviest, widest = _heaviest(steps, swept), limits_of(frame.job.shop, steps).widest
    moves = enumerate(zip(steps, swept.moves, widest.tolist(), strict=True))
    return [n for n, (step, took, limit) in moves if took.bite > limit or _too_heavy(step, took, heaviest)]


def face_stands(frame: Frame, swept: Sweep) -> bool:
    """Whether metal is left on the end face of a bore where it counts: not every tool gets there."""
    if not frame.face_counts:
        return False
    front, (low, high) = frame.front_of_part + frame.job.part.ridge, frame.face_span
    return bool(shapely.area(shapely.clip_by_rect(swept.rest, front, low, front + FAR, high)) > STANDS)


def _too_heavy(step: Step, took: Swept, heaviest: float) -> bool:
    return step.stage == "finish" and (took.thick or took.area > heaviest > 0)


def _orders(works: Sequence[Work], drawer: Sequence[Tool]) -> list[tuple[Work, ...]]:
    """The orders worth trying: any order of up to three tools, each also after a tool that only roughs."""
    orders = list(permutations(works)) if len(works) <= 3 else [tuple(works)]
    others = [t for t in drawer if all(t.name != w.tool.name for w in works)]
    return orders + [(Work(t, (), (), 0.0), *order) for t in others[:MOST_OTHERS] for order in orders]


def _cost(steps: Sequence[Step]) -> int:
    """Moves, with a change of tool counted as several."""
    changes = sum(a.tool.name != b.tool.name for a, b in pairwise(steps))
    return len(steps) + CHANGE * changes


def _moves(frame: Frame, works: Sequence[Work], care: Care, *, trials: bool) -> list[Step]:
    """Every tool in turn: rough what it reaches, then finish its stretches."""
    metal = blank_metal(frame, [w.tool for w in works])
    steps: list[Step] = []
    number, faced = 1, False
    depths, shop = {w.tool.name: _plunge(frame, w.tool) for w in works}, frame.job.shop
    for i, work in enumerate(works):
        rougher = Rougher(frame, work.tool, metal, care, again=bool(steps))
        walk = Walk(work.tool, rougher.clear_x, rougher.clear_y, slack_of(shop, shop.coarse), slide=shop.coarse.name)
        better = any(depths[w.tool.name] > DEEPER * depths[work.tool.name] for w in works[i + 1 :])
        rougher.rough(walk, pockets=not better)
        walk.stage = "finish"
        made = make_trial(frame, walk, rougher.metal, rougher.clear_y) if trials and work.passes else None
        walk.slide, walk.slack = shop.fine.name, slack_of(shop, shop.fine)
        number = cut_along(frame, walk, work.slants, rougher.metal, rougher.clear_y, number)
        finisher = Finisher(frame, walk, rougher.clear_y, number)
        thickest = care.cut * frame.job.shop.bite
        passes = with_plain(frame, work.tool, work.passes, work.stretches)
        standing = rougher.metal.with_tool(work.tool)
        for layer in layers(frame, work.tool, rougher.metal, work.passes, thickest):
            finisher.thin(layer, standing)
            for item in layer:
                standing.cut_level(item.y, item.first, item.last)
        faced = faced or ((bool(passes or work.slants) or frame.face_counts) and finisher.face())
        finisher.finish(passes, rougher.metal)
        if made is not None:
            walk.steps = joined(frame, walk.steps, made)
        metal = rougher.metal
        number = finisher.number
        for item in passes:
            metal.cut_level(item.y, item.first, item.last)
        beside, number = _in_bays(frame, work, metal, care, Point(walk.x, walk.y), number)
        steps += brought(frame, [*walk.steps, *beside])
    return steps


def _in_bays(frame: Frame, work: Work, metal: Metal, care: Care, at: Point, number: int) -> tuple[list[Step], int]:
    """What a tool then does from the side, and the number of the next station."""
    steps: list[Step] = []
    shop = frame.job.shop
    slacks = slack_of(shop, shop.coarse), slack_of(shop, shop.fine)
    for side in work.sides:
        more, number = do_side(frame, side, metal, care, at, number, slacks)
        steps += more
        at = more[-1].end if more else at
    return steps, number


def _plunge(frame: Frame, tool: Tool) -> float:
    """How deep a nose may be fed straight into a flat without a cut wider than the bite, roughly, mm."""
    bite, radius = frame.job.shop.bite, tool.nose_radius
    return radius - math.sqrt(max(radius**2 - bite**2 / 4, 0.0)) if bite < 2 * radius else bite


def blank_metal(frame: Frame, tools: Sequence[Tool]) -> Metal:
    """The metal before the first cut, on places that all the tools can use."""
    radius = max(t.extent for t in tools)
    x_low = frame.back - 2 * radius - 1.0
    x_high = max(frame.front, frame.front_of_part) + 2 * radius + 2 * CLEAR
    pitch = max(0.01, (x_high - x_low) / 3000)
    x: Floats = x_low + pitch * np.arange(math.ceil((x_high - x_low) / pitch) + 1, dtype=np.float64)
    return Metal(x, frame.blank_top(x), tools[0])
