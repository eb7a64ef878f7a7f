"""Whether any tool can reach a place of the curve at all: the second opinion on refusals."""

import math
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry
from tests.oracle.heights import drop
from tests.oracle.outline import Data, Floats, Piece, Places
from tests.oracle.shop import Setup, figure_of, set_up


def out_of_reach(
    job: Data, between: tuple[complex, complex] | None = None, samples: int = 160, on_grid: bool = True
) -> float:
    """The share of the curve above which no tool of the drawer can come within the ridge asked for.

    `between` two places of the outline only (z + i·d, in the job's unit), where they are given.

    A tool that stands clear of part and bar and takes the point `height` over the outline must have its nose centre
    among the points from which it covers that point, less those from which it would cut: the part grown by the
    tool turned half round. On the grid such a place has to hold a whole count of both slides.
    """
    setup = set_up(job)
    wanted = _wanted(setup, between, samples)
    reached = np.zeros(len(wanted), dtype=bool)
    for shape, reference in setup.tools.values():
        forbidden = _grown(setup.keep, shape)
        turned = affinity.scale(shape, -1, -1, origin=(0, 0))
        for i in np.flatnonzero(~reached):
            spot = affinity.translate(turned, wanted[i].real, wanted[i].imag)
            room = shapely.difference(spot, forbidden)
            reached[i] = _has_setting(setup, room, reference) if on_grid else room.area > 1e-12
    return float(1 - reached.mean()) if len(wanted) else 0.0


def _wanted(setup: Setup, between: tuple[complex, complex] | None, samples: int) -> Places:
    """Points at the height asked for, over the curve or a part of it."""
    span = (0.0, float(len(setup.pieces)))
    if between is not None:
        ends = np.array([complex(p.real, p.imag / 2) * setup.k for p in between])
        _, _, place = drop(setup, ends)
        span = (float(place.min()), float(place.max()))
    low, high = setup.curve
    points: list[complex] = []
    for i, piece in enumerate(setup.pieces):
        first, last = max(span[0] - i, 0.0), min(span[1] - i, 1.0)
        if last > first:
            share = np.union1d(first + (last - first) * (np.arange(samples) + 0.5) / samples, _beside_ends(piece))
            share = share[(share > first) & (share < last)]
            foot, probe = piece.above(share, 0.0, setup.side), piece.above(share, setup.ridge, setup.side)
            points += list(probe[(foot.real > low) & (foot.real < high)])
    wanted = np.asarray(points, dtype=complex)
    level = shapely.buffer(setup.part, setup.ridge, quad_segs=256).boundary
    wanted = np.concatenate([wanted, _in_hollow_corners(setup, level, span)])
    # Over a hollow corner a probe lies nearer to the other side; the nearest place so high over both is meant then.
    near = np.flatnonzero(drop(setup, wanted)[0] < setup.ridge * 0.999)
    if len(near):
        along = shapely.line_locate_point(level, shapely.points(wanted[near].real, wanted[near].imag))
        spots = shapely.get_coordinates(shapely.line_interpolate_point(level, along))
        wanted[near] = spots[:, 0] + 1j * spots[:, 1]
    return wanted


def _in_hollow_corners(setup: Setup, level: Any, span: tuple[float, float]) -> Places:
    """The points so high over both sides of each hollow corner of the curve: the hardest places to come to."""
    low, high = setup.curve
    found = []
    for i, piece in enumerate(setup.pieces[1:], 1):
        node = piece.above(np.zeros(1), 0.0, 1)[0]
        corner = shapely.Point(node.real, node.imag)
        inside = low < node.real < high and span[0] <= i <= span[1]
        if inside and level.distance(corner) > setup.ridge * 1.001:
            spot = shapely.line_interpolate_point(level, shapely.line_locate_point(level, corner))
            found.append(complex(*shapely.get_coordinates(spot)[0]))
    return np.asarray(found, dtype=complex)


def _beside_ends(piece: Piece) -> Floats:
    """Shares of a piece's length close beside its ends: in a hollow corner it is there that a nose may not fit."""
    size = abs(piece.size) * (piece.radius or 1.0)
    beside = np.geomspace(2e-4, 0.1, 28) / max(size, 1e-9)
    return np.concatenate([beside, 1 - beside])


def _grown(region: BaseGeometry, shape: BaseGeometry) -> BaseGeometry:
    """The nose centres from which a tool would cut a region: its border swept by the tool turned half round."""
    turned = -shapely.get_coordinates(shapely.simplify(shape, 2e-5))
    coarse = shapely.simplify(region, 2e-5)
    hulls = []
    for ring in shapely.get_rings(coarse):
        at = shapely.get_coordinates(ring)
        hulls += [shapely.MultiPoint(np.vstack([turned + a, turned + b])).convex_hull for a, b in pairwise(at)]
    return shapely.union_all([coarse, *hulls])


def _has_setting(setup: Setup, room: BaseGeometry, reference: complex) -> bool:
    """Whether a region of nose centres holds a point of the grid."""
    if room.is_empty:
        return False
    steps = []
    for slide, unit in (("saddle", 1), ("cross", 1j)):
        figure, count = figure_of(setup, slide, complex(unit) * setup.k)
        steps.append(count * setup.k / abs(figure))
    left, bottom, right, top = room.bounds
    first = math.ceil((left + reference.real) / steps[0]) * steps[0] - reference.real
    columns = np.arange(first, right, steps[0])
    if len(columns) > 400:
        columns = columns[:: len(columns) // 400]
    for x in columns:
        slot = shapely.intersection(room, shapely.LineString([(x, bottom - 1), (x, top + 1)]))
        for part in shapely.get_parts(slot):
            a, b = part.bounds[1] + reference.imag, part.bounds[3] + reference.imag
            if math.floor(b / steps[1] + 1e-6) >= math.ceil(a / steps[1] - 1e-6):
                return True
    return False
