"""Recipes: which tools rough what, in which order the tools work, and what roughing by each recipe would cost."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import permutations, product
from typing import NamedTuple

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.plan.stations.choose_tools import Work
from ovolo.plan.steps import Walk, slack_of
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.clearing.bench import LEFT, Bench
from ovolo.plan.toolpath.clearing.ground import CLEAR, Ground, Share
from ovolo.plan.toolpath.clearing.leave import Leave
from ovolo.plan.toolpath.clearing.regions import clear
from ovolo.plan.toolpath.minutes import Price
from ovolo.plan.view.frame import Frame
from ovolo.shop.limits import limit_of
from ovolo.shop.tools import Tool

#: Places of the quick picture of the metal lie so far apart, mm, or so many share the length of the job.
PITCH, PLACES = 0.03, 3000
#: So many tools that only rough are tried together at most.
MOST_OTHERS = 2
#: Of tools that only rough, so many are tried: those that reach most first.
MOST_TRIED = 5
#: Every order is tried of so many finishing tools.
ANY_ORDER = 3

ALL, OPENED, POCKETS = Share(), Share(pockets=False), Share(opened=False)


class Turn(NamedTuple):
    """One tool's turn: what it roughs, then what it finishes."""

    work: Work
    share: Share = ALL


#: The turns of all tools, in order.
Recipe = tuple[Turn, ...]


def recipes(works: Sequence[Work], drawer: Sequence[Tool]) -> list[Recipe]:
    """The recipes worth looking at: any order of up to three finishing tools, alone or after others that only rough."""
    orders = list(permutations(works)) if len(works) <= ANY_ORDER else [tuple(works)]
    others = [t for t in drawer if all(t.name != w.tool.name for w in works)][:MOST_TRIED]
    before: list[tuple[Turn, ...]] = [()]
    before += [(_rough(t, share),) for t, share in product(others, (ALL, OPENED, POCKETS))]
    if MOST_OTHERS > 1:
        before += [(_rough(a, OPENED), _rough(b, POCKETS)) for a, b in permutations(others, 2)]
    return [(*first, *(Turn(w) for w in order)) for first in before for order in orders]


def _rough(tool: Tool, share: Share) -> Turn:
    return Turn(Work(tool, (), (), 0.0), share)


class Yard:
    """Where recipes are tried: one picture of the blank for all tools, and what was cleared there before; with `trials`
    each tool makes a trial cut before it finishes, and `made_trials` says whether any has found a place for one."""

    def __init__(self, frame: Frame, tools: Sequence[Tool], *, trials: bool = True) -> None:
        self.frame, self.price, self.trials = frame, Price.of(frame), trials
        self.made_trials = False
        self.blank = blank_metal(frame, tools)
        self._grounds: dict[tuple[str, Leave], Ground] = {}
        self._cleared: dict[tuple[object, ...], tuple[Bench, float]] = {}

    def ground(self, tool: Tool, leave: Leave) -> Ground:
        """What a tool may do on this job."""
        key = tool.name, leave
        if key not in self._grounds:
            self._grounds[key] = ground_of(self.frame, tool, self.blank.x, leave)
        return self._grounds[key]

    def bench(self, tool: Tool, metal: Metal, leave: Leave) -> Bench:
        """A tool before its first move."""
        ground, shop = self.ground(tool, leave), self.frame.job.shop
        walk = Walk(tool, ground.clear_x, ground.clear_y, slack_of(shop, shop.coarse), slide=shop.coarse.name)
        return Bench(ground, metal.with_tool(tool), walk, self.price)

    def roughed(self, recipe: Recipe, leave: Leave, most: float = math.inf) -> list[Bench] | None:
        """The turns of a recipe one after the other, roughing only, as if nothing were finished in between; None where
        that costs over `most`."""
        out: list[Bench] = []
        metal, spent = self.blank, 0.0
        key: tuple[object, ...] = (leave,)
        for n, turn in enumerate(recipe):
            key = (*key, turn.work.tool.name, turn.share)
            spent += self.price.change() if n else 0.0
            if spent > most:
                return None
            if key not in self._cleared or (self._cleared[key][1] < most - spent and self._cleared[key][1] < math.inf):
                bench = self.bench(turn.work.tool, metal, leave)
                clear(bench, turn.share, most - spent)
                self._cleared[key] = bench, math.inf if bench.spent <= most - spent else most - spent
            bench, _ = self._cleared[key]
            spent += bench.spent
            if spent > most:
                return None
            out.append(bench)
            metal = bench.metal
        return out

    def estimate(self, recipe: Recipe, leave: Leave, most: float = math.inf) -> float:
        """What roughing by a recipe costs, changes of tools and metal left where it must not be included; inf where a
        tool that should only rough finds nothing to do, or where it is over `most`."""
        benches = self.roughed(recipe, leave, most)
        if benches is None or any(not (b.walk.steps or finishes(t.work)) for b, t in zip(benches, recipe, strict=True)):
            return math.inf
        total = sum(b.spent for b in benches) + (len(recipe) - 1) * self.price.change()
        last = benches[-1].metal
        for turn in recipe:
            for low, high in _finished(self.frame, turn.work):
                ground = self.ground(turn.work.tool, leave)
                total += LEFT * Bench(ground, last, benches[-1].walk, self.price).left(low, high)
        return total


def finishes(work: Work) -> bool:
    """Whether a tool finishes anything."""
    return bool(work.passes or work.sides or work.slants)


def _finished(frame: Frame, work: Work) -> Iterator[tuple[float, float]]:
    """The stretches along the axis that a tool finishes."""
    for stretch in work.stretches:
        x, _ = frame.chain.points(np.linspace(*stretch, 50))
        yield float(x.min()), float(x.max())


def ground_of(frame: Frame, tool: Tool, x: Floats, leave: Leave, *, turned: bool = False) -> Ground:
    """What a tool may do; `turned` in a bay, where the saddle feeds it in and the cross slide takes it along."""
    inward, along = (limit_of(frame.job.shop, tool, slide, rough=True).widest for slide in ("cross", "saddle"))
    return Ground(frame, tool, x, leave, (along, inward) if turned else (inward, along))


def blank_metal(frame: Frame, tools: Sequence[Tool]) -> Metal:
    """The metal before the first cut, on places that all the tools can use."""
    radius = max(t.extent for t in tools)
    x_low = frame.back - 2 * radius - 1.0
    x_high = max(frame.front, frame.front_of_part) + 2 * radius + 2 * CLEAR
    pitch = max(PITCH, (x_high - x_low) / PLACES)
    x: Floats = x_low + pitch * np.arange(math.ceil((x_high - x_low) / pitch) + 1, dtype=np.float64)
    return Metal(x, frame.blank_top(x), tools[0])
