"""Which moments of a cut a moving picture shows, and for how long, so that any plan can be watched.

A plan of up to `MOST` moves has an image at the end of each, and between the ends as many as there is room for: a slide
that goes far is seen to go. Longer plans show the ends of the moves that cut; where even those are too many, every
so many-th of them. The end of each stage with each tool and the end of it all are always there.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from ovolo.plan.model import Move

__all__ = ["MOST", "Moment", "moments"]

MOST = 240
"""About so many images at most; a few more where there are many stages."""

STEP = 8.0
"""A slide goes so far from one image to the next, mm on the picture; further where that would be too many images."""

SLOWEST = 8
"""No move has more images than this."""

FIRST = 1500
LAST = 4000
BETWEEN = 80
"""How long an image is shown, in thousandths of a second: before the first move, at the end, while a slide goes."""

_WATCHED = 36_000
"""All ends of moves together are shown for about so long, each within these limits."""
_SHORTEST, _LONGEST = 120, 500


class Moment(NamedTuple):
    """A moment of the cut: `done` moves are over, and `share` of the next; shown for so many thousandths of a second.

    >>> Moment(3, 0.5, 80).under_way
    4
    """

    done: int
    share: float
    lasts: int

    @property
    def under_way(self) -> int:
        """Number of the move that is being made, or was made last; 0 before the first."""
        return self.done + (1 if self.share > 0 else 0)


def moments(moves: Sequence[Move], scale: float) -> list[Moment]:
    """The moments to show, the untouched piece first; `scale` is mm of the picture for a mm of metal."""
    ends = range(1, len(moves) + 1) if len(moves) <= MOST else _chosen(moves)
    pause = 10 * round(min(max(_WATCHED / max(len(ends), 1), _SHORTEST), _LONGEST) / 10)
    steps = _steps(moves, scale) if len(moves) <= MOST else [1] * len(moves)
    shown = [Moment(0, 0.0, FIRST)]
    for end in ends:
        many = steps[end - 1]
        shown += [Moment(end - 1, k / many, BETWEEN) for k in range(1, many)]
        shown.append(Moment(end, 0.0, pause))
    return [*shown[:-1], shown[-1]._replace(lasts=LAST)]


def _chosen(moves: Sequence[Move]) -> list[int]:
    """The moves of a long plan whose ends are shown."""
    cuts = [move.n for move in moves if move.cuts] or [move.n for move in moves]
    apart = max(1, math.ceil(len(cuts) / MOST))
    ends = {move.n for move, after in pairwise(moves) if (move.stage, move.tool) != (after.stage, after.tool)}
    return sorted({*cuts[apart - 1 :: apart], *ends, moves[-1].n})


def _steps(moves: Sequence[Move], scale: float) -> list[int]:
    """How many images each move has, `MOST` in all."""
    step = STEP
    while True:
        many = [min(SLOWEST, max(1, math.ceil(scale * move.travel / step - 1e-9))) for move in moves]
        if sum(many) <= MOST:
            return many
        step *= 1.25
