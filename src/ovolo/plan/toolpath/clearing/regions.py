"""Regions: what lies between two crests of the outline is cleared by strips, or by layers first, whichever is cheaper.

From the outside in: layers over all of a span as long as that pays, then strips through what is left of it; where the
outline divides the span on the way down, each part is looked at by itself.
"""

from __future__ import annotations

import math

from ovolo.plan.toolpath.clearing.bench import Bench
from ovolo.plan.toolpath.clearing.ground import STILL, Share, Span
from ovolo.plan.toolpath.clearing.layers import layer, next_row
from ovolo.plan.toolpath.clearing.strips import strips

#: No more layers than this.
MOST_LAYERS = 200
#: After so many layers that made nothing cheaper, strips are tried again only under the last of them.
PATIENCE = 2


def clear(bench: Bench, share: Share, most: float = math.inf) -> None:
    """Clear all that one tool can reach from above and that is its share, in the least time that was found; given up
    where that costs over `most`."""
    clear_below(bench, bench.ground.frame.top + bench.ground.tool.nose_radius, share, most)


def clear_below(bench: Bench, start: float, share: Share, most: float = math.inf) -> None:
    """The same from a height of the nose centre down."""
    ground = bench.ground
    if not bench.heaps.any(-math.inf, math.inf):
        return
    for span in ground.spans(start, float(ground.x[0]), float(ground.x[-1])):
        _best(bench, span, start, share, most)
    bench.lift()


def _best(bench: Bench, span: Span, y: float, share: Share, most: float) -> None:
    """Clear one span below height y the cheapest way: after so many layers as pay, by strips."""
    left, right = bench.ground.beside_nose
    low, high = span.left - left, span.right + right
    if not bench.heaps.any(low, high):
        return
    so_far, best = bench.fork(), bench.fork()
    strips(best, span, share, most)
    least, waited = best.cost(low, high), 0
    for _ in range(MOST_LAYERS if bench.ground.passes else 0):
        if so_far.spent >= min(least, most):
            break
        made = _down(so_far, span, y, share, min(least, most))
        if made is None or waited <= PATIENCE:
            tried = so_far.fork()
            strips(tried, span if made is None else made[0], share, min(least, most))
            cost = tried.cost(low, high)
            waited = 0 if cost < least - STILL else waited + 1
            best, least = (tried, cost) if cost < least - STILL else (best, least)
        if made is None:
            break
        span, y = made
    bench.become(best)


def _down(bench: Bench, span: Span, y: float, share: Share, most: float) -> tuple[Span, float] | None:
    """One layer more, and where the span is divided all of its parts; the span and the height then, None at the end."""
    ground = bench.ground
    below = next_row(bench, span, y)
    if below >= y - STILL:
        return None
    parts = ground.spans(below, span.left, span.right)
    if len(parts) > 1:
        for part in ground.split(span, y, below):
            if share.takes(part):
                _best(bench, part, y, share, most)
        return None
    return layer(bench, span, y) if parts and share.takes(parts[0]) else None
