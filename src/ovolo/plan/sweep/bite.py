"""The bite of a move: the widest that its edge takes at once, across its feed.

Over most moves that is as much as the whole chip stretches. Where the chip stretches further than a move may take, it
is looked at more closely, little by little along its way: a flank that shaves a slope takes one place after the other.
The last tenth of its cutting way is left out: there the nose runs into what earlier cuts left at their stops, a
fillet in a corner, a cusp on a floor.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.sweep.swept_hulls import Geometries, Tracks

#: Slivers thinner than twice this are no part of a bite, mm.
SLIVER = 0.01
#: So many places of a move are looked at, of which those in the last tenth do not count.
STEPS, COUNTS = 40, 0.9
#: What takes less than this between two places cuts nothing there, mm².
NOTHING = 1e-6


class Way(NamedTuple):
    """A tool's cutting outline about its nose centre, (n, 2), and the straight way of that, mm."""

    shape: Floats
    start: Point
    end: Point


def extents(chips: Geometries, along_axis: NDArray[np.bool_]) -> Floats:
    """Extent of the largest piece of each chip, slivers aside: along the axis where that is across its feed, mm."""
    out = np.zeros(len(chips))
    core = shapely.buffer(chips, -SLIVER)
    cores, of = shapely.get_parts(shapely.buffer(core, SLIVER), return_index=True)
    across = _across(cores, along_axis[of])
    filled = ~shapely.is_empty(cores)
    np.maximum.at(out, of[filled], across[filled])
    return out


def engaged(way: Way, chip: shapely.Geometry, *, along_axis: bool) -> float:
    """The widest that the edge takes at once of a chip, mm, but for the last tenth of its cutting way."""
    places = np.linspace(way.start, way.end, STEPS + 1)
    ends = [(Point(*a), Point(*b)) for a, b in pairwise(places.tolist())]
    hulls = Tracks([way.shape] * STEPS, ends, mirrored=False).regions
    before = shapely.polygons(way.shape[None] + places[:-1, None])
    taken = shapely.difference(shapely.intersection(hulls, chip), before)
    cutting = np.flatnonzero(shapely.area(taken) > NOTHING)
    if not len(cutting):
        return 0.0
    counts = cutting[cutting < cutting[0] + COUNTS * (cutting[-1] + 1 - cutting[0])]
    pieces = shapely.get_parts(taken[counts])
    pieces = pieces[shapely.area(pieces) > NOTHING]
    return float(_across(pieces, np.full(len(pieces), along_axis)).max(initial=0.0))


def _across(pieces: Geometries, along_axis: NDArray[np.bool_]) -> Floats:
    left, low, right, high = shapely.bounds(pieces).T.reshape(4, -1)
    return np.where(along_axis, right - left, high - low)
