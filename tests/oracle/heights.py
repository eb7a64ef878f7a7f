"""The highest metal over the curve."""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry
from tests.oracle.outline import Floats, Piece, Places, line_between
from tests.oracle.shop import Setup

AGREE = 0.0015  # two computations may differ by this much, mm
EXACT = 1e-5  # heights are measured to this, mm

Looked = tuple[Floats, Floats, NDArray[np.bool_]]
"""Of points: height over the curve, how much farther than from all else, whether right over an end of the outline."""


def standing(setup: Setup, rest: BaseGeometry, short: float = 0.0) -> float:
    """The highest metal over the curve, mm, to EXACT; of a curve `short` mm shorter at either end, where given.

    Metal stands over that place of the part's border that is nearest to it. So what is nearer to the rest of the
    outline, or to the end face in front of it, than to the curve does not count.
    """
    above = shapely.difference(rest, setup.part)
    parts = shapely.get_parts(above)
    solid = parts[shapely.area(parts) > 1e-6 * shapely.length(parts)]
    return max(_highest(_field(setup, short), solid), _buried(setup, rest)) if len(solid) else 0.0


@dataclass(frozen=True)
class Field:
    """The border of the part: the pieces of the curve, all others, and the ends over which nothing counts."""

    curve: list[Piece]
    others: list[Piece]
    ends: list[complex]

    def look(self, points: Places) -> Looked:
        """How far points stand from the curve, how much farther from it than from all else, and whether right over an
        end of the outline, in front of it or behind it."""
        height, other = _away(self.curve, points), _away(self.others, points)
        over_end = np.zeros(len(points), dtype=bool)
        for end in self.ends:
            over_end |= np.abs(points - end) <= np.minimum(height, other) + 1e-9
        return height, height - other, over_end


def _away(pieces: list[Piece], points: Places) -> Floats:
    """Distance to the nearest of some pieces."""
    gaps = [np.abs(points - piece.feet(points)) for piece in pieces]
    return np.min(gaps, axis=0) if gaps else np.full(len(points), np.inf)


def _field(setup: Setup, short: float) -> Field:
    parts = [(piece, *ends) for piece in setup.pieces for ends in pairwise(_cuts(piece, setup.curve))]
    pieces = [piece.stretch(first, last) for piece, first, last in parts]
    low, high = setup.curve
    middles = [float(piece.above(np.array([0.5]), 0.0, 1)[0].real) for piece in pieces]
    inside = [low - 1e-6 <= z <= high + 1e-6 for z in middles]
    if short:
        pieces, inside = _shortened(pieces, inside, short)
    curve = [piece for piece, within in zip(pieces, inside, strict=True) if within]
    others = [piece for piece, within in zip(pieces, inside, strict=True) if not within]
    first, last = _ends(setup.pieces)
    face = complex(first.real, setup.part.bounds[3] if setup.bore else 0.0)
    if abs(face - first) > 1e-9:
        others.append(line_between(first, face))
    return Field(curve, others, [last] if setup.on_axis else [first, last])


def _ends(pieces: list[Piece]) -> tuple[complex, complex]:
    return complex(pieces[0].above(np.zeros(1), 0.0, 1)[0]), complex(pieces[-1].above(np.ones(1), 0.0, 1)[0])


def _cuts(piece: Piece, limits: tuple[float, float]) -> list[float]:
    return sorted([0.0, 1.0, *(share for limit in limits for share in piece.passes(limit))])


def _shortened(pieces: list[Piece], inside: list[bool], short: float) -> tuple[list[Piece], list[bool]]:
    """The same with a curve that begins later and ends sooner, along the outline."""
    ends = np.concatenate([[0.0], np.cumsum([piece.length() for piece in pieces])])
    which = np.flatnonzero(inside)
    begin, stop = ends[which[0]] + short, ends[which[-1] + 1] - short
    out: list[tuple[Piece, bool]] = []
    for piece, within, (start, end) in zip(pieces, inside, pairwise(ends), strict=True):
        shares = [0.0, *(float((at - start) / (end - start)) for at in (begin, stop) if start < at < end), 1.0]
        for first, last in pairwise(shares):
            middle = start + (first + last) / 2 * (end - start)
            out.append((piece.stretch(first, last), within and begin <= middle <= stop))
    return [piece for piece, _ in out], [within for _, within in out]


def _highest(field: Field, solid: NDArray[np.object_]) -> float:
    """The greatest height on the edges of some regions, to EXACT.

    Along an edge neither distance can change by more than the way gone. So an edge is halved as long as it may hide
    something higher than what was found, and may have a foot on the curve.
    """
    corners, of = shapely.get_coordinates(shapely.get_rings(solid), return_index=True)
    places = corners[:, 0] + 1j * corners[:, 1]
    edge = np.flatnonzero(of[1:] == of[:-1])
    a, b = places[edge], places[edge + 1]
    at_a, at_b, best = field.look(a), field.look(b), 0.0
    while len(a):
        best = max(best, *(float(h[(m <= 1e-9) & ~e].max(initial=0.0)) for h, m, e in (at_a, at_b)))
        size = np.abs(b - a)
        hides = (at_a[0] + at_b[0] + size) / 2 > best + EXACT
        elsewhere = (at_a[1] + at_b[1] > 2 * size) | (at_a[2] & at_b[2])  # the wedge over a corner has no dents
        live = hides & ~elsewhere & (size > EXACT / 10)
        a, b = a[live], b[live]
        middle = (a + b) / 2
        at_m = field.look(middle)
        at_a, at_b = _joined(_of(at_a, live), at_m), _joined(at_m, _of(at_b, live))
        a, b = np.concatenate([a, middle]), np.concatenate([middle, b])
    return best


def _of(looked: Looked, which: NDArray[np.bool_]) -> Looked:
    height, farther, over_end = looked
    return height[which], farther[which], over_end[which]


def _joined(one: Looked, other: Looked) -> Looked:
    (a, b, c), (d, e, f) = one, other
    return np.concatenate([a, d]), np.concatenate([b, e]), np.concatenate([c, f])


def drop(setup: Setup, points: Places) -> tuple[Floats, Places, Floats]:
    """Distance to the outline, nearest place on it, and that place as number of the piece and share of its length."""
    height = np.full(len(points), np.inf)
    foot, place = np.zeros(len(points), dtype=complex), np.zeros(len(points))
    for i, piece in enumerate(setup.pieces):
        feet = piece.feet(points)
        gap = np.abs(points - feet)
        nearer = gap < height - 1e-12
        height, foot = np.where(nearer, gap, height), np.where(nearer, feet, foot)
        place = np.where(nearer, i + _share(piece, feet), place)
    return height, foot, place


def _share(piece: Piece, feet: Places) -> Floats:
    first = piece.above(np.zeros(1), 0.0, 1)[0]
    last = piece.above(np.ones(1), 0.0, 1)[0]
    if not piece.radius:
        return np.asarray(np.abs(feet - first) / piece.size)
    turned = np.angle((feet - piece.start) * np.exp(-1j * piece.turn)) * math.copysign(1, piece.size)
    share = np.mod(turned, 2 * math.pi) / abs(piece.size)
    share = np.where(np.abs(feet - first) < 1e-9, 0.0, share)
    return np.where(np.abs(feet - last) < 1e-9, 1.0, np.clip(share, 0, 1))


def _buried(setup: Setup, rest: BaseGeometry) -> float:
    """The height asked for and more, where metal stands there: a hollow left full shows no border near its floor."""
    asked = setup.ridge + 2 * AGREE
    low, high = setup.curve
    for piece in setup.pieces:
        length = piece.size if not piece.radius else abs(piece.size) * piece.radius
        share = np.linspace(0, 1, max(5, math.ceil(length / 0.05)))[1:-1]
        foot, probe = piece.above(share, 0.0, setup.side), piece.above(share, asked, setup.side)
        over = (foot.real > low) & (foot.real < high) & (probe.imag > 0)
        probe = probe[over]
        if len(probe):
            free = drop(setup, probe)[0] > setup.ridge + AGREE
            if (free & shapely.contains_xy(rest, probe.real, probe.imag)).any():
                return asked
    return 0.0
