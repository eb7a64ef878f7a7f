"""The metal that stands and the part that must be kept, in tiles along the axis.

So that a move costs what it touches and not what there is; and since no tile knows of the others, the next move of
every tile is taken at once.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from ovolo.geometry.chain import Floats, Ints
from ovolo.plan.sweep.swept_hulls import Geometries, Tracks

#: Width of a tile, in nose radii, and how many there are at most.
TILE, MOST_TILES = 4.0, 128
#: How far the first and the last tile of the part run on, mm.
BEYOND = 300.0
#: What shapely calls a polygon.
POLYGON = 3
#: Areas up to this are the rounding of two computations, mm².
ROUNDING = 1e-10
#: A track that takes no more than this from a tile only touches what stands there, mm².
HAIR = 1e-12
#: What is thinner than this is no metal, mm.
FILM = 1e-8
#: How closely the depth of a gouge is looked for along its border, mm.
CLOSE = 0.02


@dataclass(frozen=True)
class Chips:
    """What tracks take, or would take where they only look: `pieces`, each from one tile, with the number of its track
    in rising order; and the area for each track, mm²."""

    pieces: Geometries
    of: Ints
    area: Floats

    def whole(self, tracks: Ints) -> Geometries:
        """What some tracks took, each in one region."""
        first, after = np.searchsorted(self.of, tracks), np.searchsorted(self.of, tracks, side="right")
        out = self.pieces[first]
        for n in np.flatnonzero(after - first > 1):
            out[n] = shapely.union_all(self.pieces[first[n] : after[n]])
        return out


class Tiles:
    """A blank and what of it must be kept, cut into tiles; `radius` that of the largest nose, mm."""

    def __init__(self, blank: shapely.Geometry, keep: shapely.Geometry, radius: float) -> None:
        self.border = shapely.boundary(keep)
        shapely.prepare(self.border)
        left, low, right, high = shapely.bounds(blank)
        count = max(1, min(MOST_TILES, int((right - left) / (TILE * radius))))
        self.edges = np.linspace(left, right, count + 1)
        self.metal = _strips(blank, self.edges, low, high)
        _, low, right, top = np.array([shapely.bounds(blank), shapely.bounds(keep)]).max(axis=0)
        self.keep_edges = np.concatenate([[left - BEYOND], self.edges, [right + 1.0]])
        self.keep = _strips(keep, self.keep_edges, shapely.bounds(blank)[1] - 1.0, top + 1.0)
        shapely.prepare(self.keep)

    def take(self, tracks: Tracks, only_look: NDArray[np.bool_]) -> Chips:
        """Take tracks out of the metal, in order; some only look what is there."""
        pieces, of = [np.empty(0, dtype=object)], [np.empty(0, dtype=np.int64)]
        lowest = tracks.lowest(self.edges)
        tile, track = np.nonzero((lowest < shapely.bounds(self.metal)[:, 3]).T)
        for turn in _turns(tile):
            which, what = tile[turn], track[turn]
            metal = self.metal[which]
            under = lowest[what, which] < shapely.bounds(metal)[:, 3]
            which, what, metal = which[under], what[under], metal[under]
            taken = shapely.intersection(metal, tracks.regions[what])
            hit = shapely.area(taken) > HAIR
            cut = hit & ~only_look[what]
            self.metal[which[cut]] = shapely.difference(metal[cut], tracks.regions[what[cut]])
            pieces.append(taken[hit])
            of.append(what[hit])
        return _chips(np.concatenate(pieces), np.concatenate(of), len(tracks.regions))

    def kept(self, tracks: Tracks) -> Chips:
        """What tracks have in common with what must be kept."""
        track, tile = np.nonzero(tracks.lowest(self.keep_edges) < shapely.bounds(self.keep)[:, 3])
        hit = shapely.intersects(self.keep[tile], tracks.regions[track])
        tile, track = tile[hit], track[hit]
        return _chips(shapely.intersection(self.keep[tile], tracks.regions[track]), track, len(tracks.regions))

    def depth(self, pieces: Geometries) -> float:
        """How deep any of these pieces lies in what must be kept, mm."""
        parts = shapely.get_parts(pieces)
        parts = parts[(shapely.get_type_id(parts) == POLYGON) & (shapely.area(parts) > ROUNDING)]
        if not len(parts):
            return 0.0
        points = shapely.get_coordinates(shapely.segmentize(parts, CLOSE))
        return float(shapely.distance(self.border, shapely.points(points)).max())

    def rest(self) -> shapely.Geometry:
        """The metal that is left, in one piece again.

        Where tools with corners have cut along the same line from either side, rounding leaves a film on it.
        """
        return shapely.set_precision(shapely.union_all(self.metal), FILM)


def _chips(pieces: Geometries, of: Ints, tracks: int) -> Chips:
    order = np.argsort(of, kind="stable")
    return Chips(pieces[order], of[order], np.bincount(of, shapely.area(pieces), tracks).astype(np.float64))


def _strips(region: shapely.Geometry, edges: Floats, low: float, high: float) -> Geometries:
    """A region between neighbouring edges along the axis."""
    return np.array([shapely.clip_by_rect(region, a, low, b, high) for a, b in itertools.pairwise(edges.tolist())])


def _turns(tile: Ints) -> Iterator[Ints]:
    """The first entries of all tiles, then the second ones, and so on; `tile` in rising order."""
    if not len(tile):
        return
    begins = np.flatnonzero(np.diff(tile, prepend=-1))
    rank = np.arange(len(tile)) - np.repeat(begins, np.diff(begins, append=len(tile)))
    order = np.argsort(rank, kind="stable")
    yield from np.split(order, np.flatnonzero(np.diff(rank[order])) + 1)
