"""Bays: stretches of the outline that lean over, so that no nose comes to them from above.

The hollow under a lip, the relief in a shoulder, a dished end: the outline doubles back along the axis there. A knife
whose edge leans far enough still reaches them from the side, from a mouth where it was first brought in from above.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np

from ovolo.geometry.chain import Chain, Floats

#: Places are looked at this closely, mm.
CLOSE = 0.005
#: A stretch that goes back by no more than this is the rounding of its figures, mm.
ROUNDING = 5e-4
#: Normals with less than this along a direction stand square to it.
SQUARE = 1e-7

#: The way in which a bay is open: 1 toward the free end, -1 toward the chuck.
Way = Literal[1, -1]


@dataclass(frozen=True)
class Bay:
    """A stretch that leans over, from `first` to `last`, open one way; and the wider stretch, from `begin` to `end`,
    that can be seen from that side. All four are places `u` of the outline's chain, mm, found to `CLOSE`."""

    way: Way
    first: float
    last: float
    begin: float
    end: float


@lru_cache(maxsize=16)
def bays(chain: Chain) -> tuple[Bay, ...]:
    """The bays of an outline, the one at the free end first; none where it never doubles back."""
    if not _leans_anywhere(chain):
        return ()
    u = np.union1d(np.linspace(0.0, chain.length, max(3, math.ceil(chain.length / CLOSE))), chain.starts)
    nx, ny = chain.normals(*chain.locate(u))
    x, y = chain.points(u)
    out: list[Bay] = []
    ways: tuple[Way, Way] = (1, -1)
    for way in ways:
        leans = (ny < -SQUARE) & (way * nx > SQUARE)
        seen = way * nx > -SQUARE
        for i, j in _runs(leans):
            if np.ptp(x[i : j + 1]) > ROUNDING:
                begin, end = _around(seen, y, i, j)
                out.append(Bay(way, float(u[i]), float(u[j]), float(u[begin]), float(u[end])))
    return tuple(sorted(out, key=lambda b: b.first))


def _leans_anywhere(chain: Chain) -> bool:
    """A quick look at a few places of every piece: along an arc the outline turns evenly."""
    share = np.linspace(0.0, 1.0, 33)[:, None]
    k = np.broadcast_to(np.arange(chain.count), (len(share), chain.count))
    _, ny = chain.normals(k.ravel(), (share * chain.size).ravel())
    return bool((ny < -SQUARE).any())


def _runs(flags: np.ndarray) -> list[tuple[int, int]]:
    """The first and the last place of every unbroken run."""
    edge = np.flatnonzero(np.diff(np.concatenate([[False], flags, [False]]).astype(np.int8)))
    return [(int(i), int(j) - 1) for i, j in zip(edge[::2], edge[1::2], strict=True)]


def _around(seen: np.ndarray, y: Floats, i: int, j: int) -> tuple[int, int]:
    """The unbroken run of places that are seen and holds the places from i to j; what turns away by no more than the
    rounding of figures breaks none."""
    unseen = [run for run in _runs(~seen) if np.ptp(y[max(run[0] - 1, 0) : run[1] + 2]) > ROUNDING]
    before = max((run[1] for run in unseen if run[1] < i), default=-1)
    after = min((run[0] for run in unseen if run[0] > j), default=len(seen))
    return before + 1, after - 1


def turned(x: Floats, y: Floats, way: Way) -> tuple[Floats, Floats]:
    """Places of the planner's frame, turned so that the way in which a bay is open points up.

    >>> x, y = turned(np.array([-5.0]), np.array([8.0]), -1)
    >>> float(x[0]), float(y[0])
    (8.0, 5.0)
    """
    return -way * y, way * x
