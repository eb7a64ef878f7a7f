"""The curve of a job as lines and arcs, each with its size: what the other methods of turning it are judged by."""

from typing import NamedTuple

import numpy as np

from ovolo.geometry.segments import Point
from ovolo.plan.view.frame import Frame
from ovolo.tolerances import LEVEL

__all__ = ["Piece", "curve_length", "curve_pieces"]

_NOTHING = 1e-3
"""Pieces shorter than this are none, mm: the curve's ends are found to a fraction of it."""


class Piece(NamedTuple):
    """A line or an arc of the curve, in the planner's frame.

    length: along the curve [mm]. radius: of an arc, 0 for a line [mm]. sweep: of an arc [rad].
    convex: whether an arc bulges out of the metal. square: whether a line is a face or a cylinder.
    centre: of an arc. begins: angle of its first point about its centre [rad]; turns: +1 counter-clockwise, else -1.
    starts, middle, ends: places on the piece.
    """

    length: float
    radius: float
    sweep: float
    convex: bool
    square: bool
    centre: Point
    begins: float
    turns: int
    starts: Point
    middle: Point
    ends: Point


def curve_pieces(frame: Frame) -> tuple[Piece, ...]:
    """The pieces of the stretch that is to be finished, from the free end on; sharp corners are none."""
    chain, (start, end) = frame.chain, frame.curve_ends
    out = []
    for k in range(chain.count):
        first, last = max(start, float(chain.starts[k])), min(end, float(chain.starts[k + 1]))
        if last - first > _NOTHING and not (chain.is_arc[k] and chain.radius[k] == 0):
            out.append(_piece(frame, k, first, last))
    return tuple(out)


def curve_length(pieces: tuple[Piece, ...], *, square: bool = True) -> float:
    """Length of the curve [mm], with or without its faces and cylinders."""
    return sum(piece.length for piece in pieces if square or not piece.square)


def _piece(frame: Frame, k: int, first: float, last: float) -> Piece:
    chain = frame.chain
    places = _places(frame, k, first, last)
    if not chain.is_arc[k]:
        square = min(abs(float(chain.tx[k])), abs(float(chain.ty[k]))) < LEVEL
        return Piece(last - first, 0.0, 0.0, False, square, places[1], 0.0, 1, *places)
    sign, a_mm = int(chain.sign[k]), float(chain.sweep[k] / chain.size[k])
    begins = float(chain.angle0[k]) + sign * a_mm * (first - float(chain.starts[k]))
    centre = Point(float(chain.x0[k]), float(chain.y0[k]))
    return Piece(
        last - first, float(chain.radius[k]), a_mm * (last - first), sign > 0, False, centre, begins, sign, *places
    )


def _places(frame: Frame, k: int, first: float, last: float) -> list[Point]:
    """Start, middle and end of a piece."""
    along = np.array([first, (first + last) / 2, last]) - float(frame.chain.starts[k])
    x, y = frame.chain.offset_points(np.full(3, k), along, 0.0)
    return [Point(float(a), float(b)) for a, b in zip(x, y, strict=True)]
