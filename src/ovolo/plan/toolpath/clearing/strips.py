"""Strips: the nose is fed in across the work again and again, side by side.

Each strip lies as far on as its width allows, and the step that stays between the two places where the tool touches.
"""

from __future__ import annotations

import math

import numpy as np

from ovolo.plan.toolpath.clearing.bench import Bench
from ovolo.plan.toolpath.clearing.bites import fitting, plunge_width
from ovolo.plan.toolpath.clearing.ground import STILL, Ground, Share, Span
from ovolo.plan.toolpath.clearing.layers import stop_of

#: No more strips than this clear one basin.
MOST = 400
#: So many places are looked at together.
TOGETHER = 32
#: A pass takes what stands no higher than the bite and this, mm.
THIN = 0.02


def strips(bench: Bench, span: Span, share: Share, most: float = math.inf) -> None:
    """Clear what is a tool's share of a span by strips, basin after basin; given up where that costs over `most`."""
    for basin in bench.ground.basins(span):
        if share.takes(basin):
            _basin(bench, basin, most)


def _basin(bench: Bench, basin: Span, most: float) -> None:
    """From the free end on; in a pocket from where it is deepest outward to both sides."""
    if basin.open:
        _onward(bench, basin, -1, most)
        return
    _onward(bench, Span(basin.left, _deepest(bench.ground, basin), False), -1, most)
    _onward(bench, basin, 1, most)


def _deepest(ground: Ground, basin: Span) -> float:
    """The place nearest to the free end where a pocket is deepest."""
    i, j = np.searchsorted(ground.x, (basin.left - 1e-9, basin.right + 1e-9))
    allowed = ground.allowed[i:j]
    return float(ground.x[i + int(np.flatnonzero(allowed <= allowed.min() + ground.round.dy)[-1])])


def _onward(bench: Bench, span: Span, way: int, most: float) -> None:
    """Strips from one side of a span to the other, toward the chuck (`way` -1) or away from it; one pass along the axis
    does the rest as soon as it can and is cheaper."""
    left, right = bench.ground.beside_nose
    low, high = span.left - left, span.right + right
    for first in (True, *[False] * MOST):
        heap = bench.heaps.first(low, high, way)
        if heap is None or bench.spent > most:
            return
        passed = None if first else _by_one_pass(bench, span, (low, high), way)
        if passed is not None:
            strips_only = bench.fork()
            _strip_by_strip(strips_only, span, (low, high), way, min(most, passed.spent))
            clean = not strips_only.heaps.any(low, high)
            bench.become(strips_only if clean and strips_only.spent < passed.spent else passed)
            return
        low, high = _strip(bench, span, heap, (low, high), way)


def _strip_by_strip(bench: Bench, span: Span, ends: tuple[float, float], way: int, most: float) -> None:
    low, high = ends
    for _ in range(MOST):
        heap = bench.heaps.first(low, high, way)
        if heap is None or bench.spent > most:
            return
        low, high = _strip(bench, span, heap, (low, high), way)


def _strip(bench: Bench, span: Span, heap: float, ends: tuple[float, float], way: int) -> tuple[float, float]:
    """One strip through the first heap between two ends; the ends between which heaps may be left."""
    place, (low, high), ground = _farthest(bench, span, heap, way), ends, bench.ground
    if place is None:  # what can't be taken is passed by
        beyond = _next_in_reach(bench, span, heap, way)
    else:  # behind it nothing is left
        bench.feed_in(*place)
        beyond = heap - way * ground.pitch
    return (low, min(high, beyond)) if way < 0 else (max(low, beyond), high)


def _next_in_reach(bench: Bench, span: Span, heap: float, way: int) -> float:
    """Where to look for the next heap after one that no strip takes: half a nose on, or where the first place lies from
    which the nose could be fed in at all."""
    ground = bench.ground
    left, right = ground.beside_nose
    on = heap + way * ground.tool.nose_radius / 2
    step, end = max(ground.round.dx, ground.lattice.dx), span.left if way < 0 else span.right
    at = ground.round.x_up(heap + (left if way < 0 else -right))
    while (end - at) * way > -step:
        xs = np.clip(at + way * step * np.arange(TOGETHER), span.left, span.right)
        fit = np.flatnonzero(fitting(ground, bench.metal, xs, ground.floors(xs)))
        if len(fit):
            x = float(xs[fit[0]])
            return min(on, x + right + ground.widest) if way < 0 else max(on, x - left - ground.widest)
        at += way * step * TOGETHER
    return way * math.inf


def _by_one_pass(bench: Bench, span: Span, ends: tuple[float, float], way: int) -> Bench | None:
    """A pass on from the last strip that takes all that is left between two ends; None where there is none."""
    ground, walk, height = bench.ground, bench.walk, bench.metal.height
    if not (ground.passes and (ground.both_ways or ground.left_handed == (way > 0))):
        return None
    heaps = bench.heaps.between(*ends)
    i, j = int(heaps[0]), int(heaps[-1]) + 1
    if float((height[i:j] - ground.target[i:j]).max()) > ground.deepest + THIN:
        return None
    far = max(span.left, float(ground.x[i])) if way < 0 else min(span.right, float(ground.x[j - 1]))
    over = (ground.x >= min(far, walk.x) - ground.pitch) & (ground.x <= max(far, walk.x) + ground.pitch)
    y = ground.round.y_up(float(ground.allowed[over].max(initial=ground.frame.base)))
    if walk.y > y + STILL or (far - walk.x) * way <= STILL:
        return None
    tried = bench.fork()
    tried.rise(y)
    stop = stop_of(tried, y, walk.x, far)
    if (stop - walk.x) * way <= STILL:
        return None
    tried.go_along(stop, y)
    return None if tried.heaps.any(*ends) else tried


def _farthest(bench: Bench, span: Span, heap: float, way: int) -> tuple[float, float] | None:
    """The place farthest on whose strip takes the first heap, is no wider than it may be and leaves no step behind."""
    ground = bench.ground
    left, right = ground.beside_nose
    near = heap + (left if way < 0 else -right)  # here the nose just reaches the heap
    step, best = max(ground.round.dx, ground.lattice.dx), None
    far = (
        max(span.left, near - left - right - ground.widest)
        if way < 0
        else min(span.right, near + left + right + ground.widest)
    )
    many = int(abs(near - far) / step + 1e-6)
    if (near - far) * -way < 0 or many < 0:
        many = 0

    def place(k: int) -> tuple[float, float]:
        x = near + way * k * step
        x = min(max(ground.round.x_up(x), span.left), span.right)
        x = ground.lattice.x_up(x) if way < 0 else ground.round_down(x)
        x = x if span.left - STILL <= x <= span.right + STILL else ground.round_down(x)
        return x, ground.floor(x)

    def serves(k: int) -> int:
        """-1 where it takes too little, 1 where it is too far on, 0 where it serves."""
        x, y = place(k)
        if plunge_width(ground, bench.metal, x, y) > ground.widest:
            return 1
        return _leaves(bench, x, y, heap, way)

    low, high = 0, many
    while low <= high:
        middle = (low + high) // 2
        found = serves(middle)
        if found == 0:
            best, low = place(middle), middle + 1
        elif found < 0:
            low = middle + 1
        else:
            high = middle - 1
    return best


def _leaves(bench: Bench, x: float, y: float, heap: float, way: int) -> int:
    """Whether a strip leaves too much behind it: 1 if so, -1 where it takes nothing worth a cut, 0 where it is good."""
    ground, metal = bench.ground, bench.metal
    i, under = ground.profile(x, y)
    j = i + len(under)
    before = metal.height[i:j]
    after = np.minimum(before, under)
    if float((before - after).sum()) * ground.pitch < 1e-3:
        return -1 if (x - heap) * way < 0 else 1
    near = under - ground.target[i:j]
    touch = i + (int(np.argmin(near)) if way < 0 else len(near) - 1 - int(np.argmin(near[::-1])))
    height = metal.height.copy()
    height[i:j] = after
    h = int(np.searchsorted(ground.x, heap))
    low, high = (touch, max(h + 1, touch + 1)) if way < 0 else (min(h, touch), touch + 1)
    rest = ground.over(height[low:high], low) > ground.step
    return int(bool(rest.any()))
