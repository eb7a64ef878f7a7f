"""Gone over again: after a pass along the axis the saddle goes back at the same figure, not through the air.

It costs no move, it saves winding out; and a cylinder gone over twice is true enough to be measured ahead of finishing.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from ovolo.geometry.segments import Point
from ovolo.plan.steps import STILL, Step


def gone_over(steps: Sequence[Step], cuts: Collection[int]) -> list[Step]:
    """The same moves, ways back over a pass laid into the pass; `cuts` are the numbers of the moves that cut.

    Only where the way back ends within the pass: there the nose has just been, and nothing can be in its way.
    """
    out: list[Step] = []
    n = 0
    while n < len(steps):
        after = _back(steps, n) if n in cuts else n + 1
        out.append(steps[n])
        out += _returned(steps, n, after)
        n = after + (after > n + 1)  # the move that follows a way back is laid down with it
    return out


def _back(steps: Sequence[Step], n: int) -> int:
    """The first move after a pass, the way out and the way back; n + 1 where it is not followed by these."""
    cut, out = steps[n], steps[n + 1] if n + 1 < len(steps) else None
    if cut.slide == "cross" or out is None or out.slide != "cross":
        return n + 1
    after = n + 2
    low, high = sorted((cut.start.x, cut.end.x))
    while after < len(steps) and steps[after].slide == cut.slide and low <= steps[after].end.x <= high:
        after += 1
    joined = after == len(steps) or steps[after].slide == "cross"
    return after if out.end.y > cut.end.y + STILL and after > n + 2 and joined else n + 1


def _returned(steps: Sequence[Step], n: int, after: int) -> list[Step]:
    """The way back at the figure of pass n, and the move of the cross slide that follows it there."""
    if after == n + 1:
        return []
    y = steps[n].end.y
    level = [s._replace(start=Point(s.start.x, y), end=Point(s.end.x, y)) for s in steps[n + 2 : after]]
    x = level[-1].end.x
    last = steps[after] if after < len(steps) else steps[n + 1]
    target = last.end.y
    return level if abs(target - y) <= STILL else [*level, last._replace(start=Point(x, y), end=Point(x, target))]
