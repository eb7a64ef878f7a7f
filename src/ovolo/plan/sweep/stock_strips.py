"""The metal that stands and the part that must be kept, in strips along the axis.

So that a move costs what it touches and not what there is; and since no strip knows of the others, the next move of
every strip is taken at once.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Floats, Ints
from ovolo.plan.sweep.swept_hulls import Geometries, Tracks

#: Width of a strip, in nose radii, and how many there are at most.
TILE, MOST_TILES = 4.0, 128
#: How far the first and the last strip of the part run on, mm.
BEYOND = 300.0
#: What shapely calls a polygon.
POLYGON = 3
#: Areas up to this are the rounding of two computations, mm².
ROUNDING = 1e-10
#: A track that takes no more than this from a strip only touches what stands there, mm².
HAIR = 1e-12
#: What is thinner than this is no metal, mm.
FILM = 1e-8
#: How closely the depth of a gouge is looked for along its border, mm.
CLOSE = 0.02


@dataclass(frozen=True)
class Chips:
    """What tracks take, or would take where they only look: `pieces`, each from one strip, with the number of its track
    in rising order; and the area for each track, mm²."""

    pieces: Geometries
    of: Ints
    area: Floats

    def whole(self, tracks: Ints) -> Geometries:
        """What some tracks took, each in one region; empty where they took nothing."""
        first, after = np.searchsorted(self.of, tracks), np.searchsorted(self.of, tracks, side="right")
        out: Geometries = np.full(len(tracks), shapely.Polygon(), dtype=object)
        some = after > first
        out[some] = self.pieces[first[some]]
        for n in np.flatnonzero(after - first > 1):
            out[n] = shapely.union_all(self.pieces[first[n] : after[n]])
        return out


@dataclass(frozen=True)
class History:
    """The metal of each strip before the first track, and after each that cut it: `strip` and `track`, in rising order,
    say which is which."""

    blank: Geometries
    strip: Ints
    track: Ints
    metal: Geometries

    def after(self, track: int) -> BaseGeometry:
        """The metal in one piece when the tracks up to this one have been taken; before the first one: -1."""
        out = self.blank.copy()
        for strip in range(len(out)):
            first, behind = np.searchsorted(self.strip, [strip, strip + 1])
            done = int(np.searchsorted(self.track[first:behind], track, side="right"))
            if done:
                out[strip] = self.metal[first + done - 1]
        return in_one_piece(out)


def in_one_piece(metal: Geometries) -> BaseGeometry:
    """The metal of neighbouring strips as one region.

    Where tools with corners have cut along the same line from either side, rounding leaves a film on it.
    """
    whole: BaseGeometry = shapely.set_precision(shapely.union_all(metal), FILM)
    return whole


class Tiles:
    """A blank and what of it must be kept, cut into strips; `radius` that of the largest nose, mm."""

    def __init__(self, blank: shapely.Geometry, keep: shapely.Geometry, radius: float) -> None:
        self.border = shapely.boundary(keep)
        shapely.prepare(self.border)
        left, low, right, high = shapely.bounds(blank)
        count = max(1, min(MOST_TILES, int((right - left) / (TILE * radius))))
        self.edges = np.linspace(left, right, count + 1)
        self.metal = _strips(blank, self.edges, low, high)
        self._blank, self._cut = self.metal, list[tuple[Ints, Ints, Geometries]]()
        _, low, right, top = np.array([shapely.bounds(blank), shapely.bounds(keep)]).max(axis=0)
        self.keep_edges = np.concatenate([[left - BEYOND], self.edges, [right + 1.0]])
        self.keep = _strips(keep, self.keep_edges, shapely.bounds(blank)[1] - 1.0, top + 1.0)
        shapely.prepare(self.keep)

    def take(self, tracks: Tracks, only_look: NDArray[np.bool_]) -> Chips:
        """Take tracks out of the metal, in order; some only look what is there."""
        pieces, of = [np.empty(0, dtype=object)], [np.empty(0, dtype=np.int64)]
        self._cut.clear()
        self._blank = self.metal.copy()
        lowest = tracks.lowest(self.edges)
        strip, track = np.nonzero((lowest < shapely.bounds(self.metal)[:, 3]).T)
        for turn in _turns(strip):
            which, what = strip[turn], track[turn]
            metal = self.metal[which]
            under = lowest[what, which] < shapely.bounds(metal)[:, 3]
            which, what, metal = which[under], what[under], metal[under]
            taken = shapely.intersection(metal, tracks.regions[what])
            hit = shapely.area(taken) > HAIR
            cut = hit & ~only_look[what]
            self.metal[which[cut]] = shapely.difference(metal[cut], tracks.regions[what[cut]])
            self._cut.append((which[cut], what[cut], self.metal[which[cut]]))
            pieces.append(taken[hit])
            of.append(what[hit])
        return _chips(np.concatenate(pieces), np.concatenate(of), len(tracks.regions))

    def kept(self, tracks: Tracks) -> Chips:
        """What tracks have in common with what must be kept."""
        track, strip = np.nonzero(tracks.lowest(self.keep_edges) < shapely.bounds(self.keep)[:, 3])
        hit = shapely.intersects(self.keep[strip], tracks.regions[track])
        strip, track = strip[hit], track[hit]
        return _chips(shapely.intersection(self.keep[strip], tracks.regions[track]), track, len(tracks.regions))

    def depth(self, pieces: Geometries) -> float:
        """How deep any of these pieces lies in what must be kept, mm."""
        parts = shapely.get_parts(pieces)
        parts = parts[(shapely.get_type_id(parts) == POLYGON) & (shapely.area(parts) > ROUNDING)]
        if not len(parts):
            return 0.0
        points = shapely.get_coordinates(shapely.segmentize(parts, CLOSE))
        return float(shapely.distance(self.border, shapely.points(points)).max())

    def rest(self) -> BaseGeometry:
        """The metal that is left, in one piece again."""
        return in_one_piece(self.metal)

    def history(self) -> History:
        """What stood in each strip while the tracks were taken."""
        nothing = np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64), np.empty(0, dtype=object)
        strip, track, metal = (np.concatenate(row) for row in zip(nothing, *self._cut, strict=True))
        order = np.lexsort((track, strip))
        return History(self._blank, strip[order], track[order], metal[order])


def _chips(pieces: Geometries, of: Ints, tracks: int) -> Chips:
    order = np.argsort(of, kind="stable")
    return Chips(pieces[order], of[order], np.bincount(of, shapely.area(pieces), tracks).astype(np.float64))


def _strips(region: shapely.Geometry, edges: Floats, low: float, high: float) -> Geometries:
    """A region between neighbouring edges along the axis."""
    return np.array([shapely.clip_by_rect(region, a, low, b, high) for a, b in itertools.pairwise(edges.tolist())])


def _turns(strip: Ints) -> Iterator[Ints]:
    """The first entries of all strips, then the second ones, and so on; `strip` in rising order."""
    if not len(strip):
        return
    begins = np.flatnonzero(np.diff(strip, prepend=-1))
    rank = np.arange(len(strip)) - np.repeat(begins, np.diff(begins, append=len(strip)))
    order = np.argsort(rank, kind="stable")
    yield from np.split(order, np.flatnonzero(np.diff(rank[order])) + 1)
