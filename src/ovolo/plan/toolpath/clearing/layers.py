"""Layers: passes along the axis, one below the other, each no deeper than the bite.

In front a tool goes in along the axis and comes back along its own cut. Between two parts of the outline that stand
higher it is fed in first, no wider than its plunge, and goes on from there: a wide nose enters little by little.
"""

from __future__ import annotations

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.plan.toolpath.clearing.bench import Bench
from ovolo.plan.toolpath.clearing.bites import pass_depth, plunge_width
from ovolo.plan.toolpath.clearing.ground import STILL, Ground, Span

#: How far from the end of a pocket the nose may enter, as shares of its length.
INSETS = (0.0, 0.1, 0.25, 0.5)
#: Entries of this share of the bite are good enough not to look for a better place.
GOOD = 0.9
#: Layers thinner than this share of the bite clear no pocket in a time that anyone has.
LEAST = 0.1
#: A pass that takes less than this many squares of the bite is not made.
NEXT_TO_NOTHING = 0.05
#: How often an interval is halved.
HALVINGS = 7


def layer(bench: Bench, span: Span, y: float) -> tuple[Span, float] | None:
    """Lay down the next layer of a span that is cleared down to height y; the span and the height then, None where
    none is possible or worth its moves."""
    ground = bench.ground
    entry = None if _from_front(ground, span) else _entry(bench, span, y)
    depth = ground.deepest if _from_front(ground, span) else 0.0 if entry is None else entry[1]
    if depth < LEAST * ground.deepest:
        return None
    row = _row(ground, span, y, depth)
    part = next(iter(ground.spans(row, span.left, span.right)), None) if row < y - STILL else None
    if part is None:
        return None
    if not _worth(bench, row, part.left, part.right):  # a piece already shaped, or a tool has been here before
        return part, row
    if entry is None:
        _through(bench, part, row)
        return part, row
    return (part, row) if _pocket(bench, part, row, entry[0]) else None


def next_row(bench: Bench, span: Span, y: float) -> float:
    """The height of the next layer, or y where there is none."""
    return _row(bench.ground, span, y, bench.ground.deepest)


def _from_front(ground: Ground, span: Span) -> bool:
    return span.open and not ground.left_handed


def _row(ground: Ground, span: Span, y: float, depth: float) -> float:
    """A round figure for a layer no deeper than `depth`; a level stretch of the outline or a crest is met exactly."""
    i, j = np.searchsorted(ground.x, (span.left - 1e-9, span.right + 1e-9))
    inside = ground.allowed[i:j]
    lowest = ground.lattice.y_up(float(inside.min()))
    if y <= lowest + STILL:
        return y
    row = max(y - depth, lowest)
    level = _level_between(ground, inside, row, y)
    if level is not None:
        return ground.lattice.y_up(level)
    ahead = _level_between(ground, inside, row - depth, row + STILL)
    if ahead is not None and y - ahead < 1.6 * depth:  # two even passes, not a heavy one and a remainder
        row = max(row, (y + ahead) / 2)
    rounded = ground.round.y_up(row)
    return rounded if rounded < y - STILL else ground.lattice.y_up(row)


def _level_between(ground: Ground, allowed: Floats, row: float, y: float) -> float | None:
    """The highest cylinder or crest between two heights: a pass just over it clears what lies behind it too."""
    between = (allowed[1:-1] > row + STILL) & (allowed[1:-1] < y - ground.lattice.dy)
    level = between & (np.abs(np.diff(allowed)[:-1]) < 1e-9)
    if level.sum() * ground.pitch < min(0.25 * ground.tool.nose_radius, 0.5):
        level[:] = False
    crest = between & (allowed[1:-1] >= allowed[:-2]) & (allowed[1:-1] > allowed[2:])
    found = allowed[1:-1][level | crest]
    return float(found.max()) if len(found) else None


def _worth(bench: Bench, y: float, first: float, last: float) -> bool:
    return bench.metal.try_level(y, first, last).area >= NEXT_TO_NOTHING * bench.ground.deepest**2


def _through(bench: Bench, span: Span, y: float) -> None:
    """One pass from the free end to the outline, or to where it would take too much; where that is worth it."""
    ground = bench.ground
    first = ground.clear_x
    last = stop_of(bench, y, first, span.left)
    if last < first - STILL and _worth(bench, y, first, last):
        bench.front(y)
        bench.go_along(last, y)


def stop_of(bench: Bench, y: float, first: float, wish: float) -> float:
    """Where a pass stops: at the outline, where the metal ends, or earlier where it would take more than the bite."""
    ground, metal = bench.ground, bench.metal
    way = metal.cutting_way(y, first, wish)
    if way is None:
        return first
    toward_chuck = first > wish
    stop = max(wish, way[1]) if toward_chuck else min(wish, way[1])
    stop = _rounded(ground, stop, first, toward_chuck=toward_chuck)
    if pass_depth(ground, metal, y, first, stop) <= ground.deepest:
        return stop
    near, far = first, stop
    for _ in range(HALVINGS):
        middle = (near + far) / 2
        fits = pass_depth(ground, metal, y, first, middle) <= ground.deepest
        near, far = (middle, far) if fits else (near, middle)
    return _rounded(ground, near, first, toward_chuck=toward_chuck)


def _rounded(ground: Ground, x: float, first: float, *, toward_chuck: bool) -> float:
    """A figure at x or just short of it."""
    if toward_chuck:
        wide, fine = ground.round.x_up(x), ground.lattice.x_up(x)
        return wide if wide < first else fine
    wide, fine = ground.round.x(ground.round.column_at(x, False)), ground.round_down(x)
    return wide if wide > first else fine


def _entry(bench: Bench, span: Span, y: float) -> tuple[float, float] | None:
    """Where to feed into a pocket, and how deep: at the end where the tool should enter, or as near to it as it goes
    deep enough, or where it goes deepest."""
    ground, from_left = bench.ground, _enters_left(bench, span)
    best: tuple[float, float] | None = None
    for inset in INSETS:
        found = _depth(bench, span, y, inset, from_left=from_left)
        if best is None or found[1] > best[1] + STILL:
            best = found
        if found[1] >= GOOD * ground.deepest:
            break
    return best


def _enters_left(bench: Bench, span: Span) -> bool:
    """Whether to enter at the end toward the chuck: a left-hand knife, and a nose that cuts both ways and is there."""
    if bench.ground.left_handed:
        return True
    near_left = bench.walk.x - span.left < span.right - bench.walk.x and bench.walk.y < bench.ground.clear_y - STILL
    return bench.ground.both_ways and near_left


def _depth(bench: Bench, span: Span, y: float, inset: float, *, from_left: bool) -> tuple[float, float]:
    """The column near an end of a span and how deep the nose may be fed in there."""
    ground = bench.ground

    def at(depth: float) -> float | None:
        part = next(iter(ground.spans(y - depth, span.left, span.right)), None)
        return None if part is None else _column(ground, part, inset, from_left=from_left)

    def fits(depth: float) -> bool:
        x = at(depth)
        return x is not None and plunge_width(ground, bench.metal, x, y - depth) <= ground.widest

    i, j = np.searchsorted(ground.x, (span.left - 1e-9, span.right + 1e-9))
    low, high = 0.0, min(ground.deepest, y - ground.lattice.y_up(float(ground.allowed[i:j].min())))
    if fits(high):
        low = high
    else:
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if fits(middle) else (low, middle)
    x = at(low)
    return (span.right, 0.0) if x is None else (x, low)


def _column(ground: Ground, span: Span, inset: float, *, from_left: bool) -> float:
    off = inset * (span.right - span.left)
    if from_left:
        return min(ground.lattice.x_up(span.left + off), ground.round_down(span.right))
    return ground.round_down(max(span.right - off, span.left))


def _pocket(bench: Bench, span: Span, y: float, entry: float) -> bool:
    """One layer of a pocket: in at the entry, then to one end and the other where the tool cuts both ways."""
    ground = bench.ground
    entry = min(max(entry, ground.lattice.x_up(span.left)), max(ground.round_down(span.right), span.left))
    if plunge_width(ground, bench.metal, entry, y) > ground.widest * 1.02:
        return False
    if not _worth(bench, y, span.left, span.right):
        return False
    bench.enter(entry, y)
    right_first = ground.both_ways and span.right - entry < entry - span.left
    ways = (1, -1) if right_first else (-1, 1)
    for way in ways if ground.both_ways else ((1,) if ground.left_handed else (-1,)):
        end = ground.round_down(span.right) if way > 0 else ground.lattice.x_up(span.left)
        stop = stop_of(bench, y, bench.walk.x, end)
        if (stop - bench.walk.x) * way > STILL and _worth(bench, y, bench.walk.x, stop):
            bench.go_along(stop, y)
    return True
