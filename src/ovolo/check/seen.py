"""An outline that doubles back, as it is seen from outside (a bore: from the axis), and what hides beneath its lips.

Instruments touch what is seen. Under a lip the outline hides, and the tools that cut there must not be taken for tools
that cut the metal over it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from ovolo.errors import Fault, JobFaults
from ovolo.geometry.outline import Outline
from ovolo.geometry.overhang import doubles_back, seen_from_the_side
from ovolo.geometry.segments import Line, Point, Segment
from ovolo.plan.model import Job, Move, Plan
from ovolo.tolerances import SAME_PLACE

__all__ = ["Hidden", "hidden_of", "plan_as_seen", "under_lips"]

DOUBLES_BACK = 1e-3
"""An outline that comes back by less than this hides nothing, mm."""


class Hidden(NamedTuple):
    """A stretch of the axis over which a lip hides the outline, mm in the planner's frame; `toward_chuck` where the
    hollow under it is open on the side of the chuck; `level` is how high the lip's edge lies."""

    low: float
    high: float
    toward_chuck: bool
    level: float


def plan_as_seen(plan: Plan) -> Plan:
    """The same moves on the outline as it is seen: the plan itself where nothing hides.

    Raises JobFaults where the whole curve hides.
    """
    outline = plan.frame.outline
    if not _hides(outline):
        return plan
    seen = _joined([piece for piece, shown in seen_from_the_side(outline) if shown])
    high, low = plan.job.part.curve
    high, low = min(high, seen.start.x), max(low, seen.end.x)
    if high - low < SAME_PLACE:
        says = "the whole curve lies under an overhang, where no caliper reaches"
        raise JobFaults([Fault("part.curve", None, "", says, "Hold a gauge against it: ovolo gauge writes one")])
    own = seen if plan.frame.sign > 0 else seen.mirrored()
    part = replace(plan.job.part, outline=own, curve=(high, low))
    return replace(plan, job=replace(plan.job, part=part), worked=None)


def _hides(outline: Outline) -> bool:
    """Whether an outline comes back so far that anything hides."""
    if not doubles_back(outline):
        return False
    x = np.array([point.x for point in outline.flattened(1e-3)])
    return bool((x - np.minimum.accumulate(x)).max() > DOUBLES_BACK)


def _joined(pieces: Sequence[Segment]) -> Outline:
    """What is seen, one piece after the other, with a wall wherever a lip ends over what lies lower."""
    out: list[Segment] = []
    for piece in pieces:
        if out and abs(out[-1].end.y - piece.start.y) > SAME_PLACE:
            out.append(Line(out[-1].end, Point(out[-1].end.x, piece.start.y)))
        out.append(piece)
    return Outline(tuple(out))


def hidden_of(job: Job) -> tuple[Hidden, ...]:
    """What the lips of an outline hide, in the planner's frame."""
    outline = job.part.outline if job.part.surface == "outside" else job.part.outline.mirrored()
    if not _hides(outline):
        return ()
    pieces = list(seen_from_the_side(outline))
    shown = [n for n, (_, visible) in enumerate(pieces) if visible]
    gaps = [(a, b) for a, b in pairwise([-1, *shown, len(pieces)]) if b > a + 1]
    return tuple(_gap([piece for piece, _ in pieces[a + 1 : b]]) for a, b in gaps)


def _gap(pieces: Sequence[Segment]) -> Hidden:
    x = [p.x for piece in pieces for p in piece.flattened(1e-3)]
    first, last = pieces[0].start, pieces[-1].end
    toward_chuck = first.y > last.y
    lip = first if toward_chuck else last
    return Hidden(min(*x, lip.x), max(*x, lip.x), toward_chuck, lip.y)


def under_lips(moves: Sequence[Move], sign: int, hidden: Sequence[Hidden]) -> np.ndarray:
    """For each stretch that hides which moves cut beneath its lip, or beside it: (stretches, moves)."""
    out = np.zeros((len(hidden), len(moves)), dtype=bool)
    for row, lip in enumerate(hidden):
        for n, move in enumerate(moves):
            out[row, n] = not _over(move, sign, lip)
    return out


def _over(move: Move, sign: int, lip: Hidden) -> bool:
    """Whether a nose passes over the metal of a lip, or stays on that side of it."""
    ends = (move.start.x, move.end.x)
    solid = max(ends) > lip.high if lip.toward_chuck else min(ends) < lip.low
    beside = min(ends) > lip.high or max(ends) < lip.low
    if beside:
        return solid
    return max(sign * move.start.y, sign * move.end.y) > lip.level
