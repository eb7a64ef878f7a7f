"""What stands on the piece ahead of a move: its end face, and the cylinders and shoulders that can be measured."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from ovolo.geometry.segments import Point
from ovolo.plan.move import Move
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool
from ovolo.tolerances import WRITTEN

LONG_ENOUGH = 2.0
"""A cylinder shorter than this is not measured, mm (common practice, no source)."""

HIGH_ENOUGH = 0.5
"""A shoulder lower than this holds no depth gauge, mm (common practice, no source)."""


class Cylinder(NamedTuple):
    """A cylinder of the piece, mm: z of its end toward the free end, of the other one, its radius, who cut it last."""

    near: float
    far: float
    radius: float
    move: Move | None


class Shoulder(NamedTuple):
    """A face square to the axis behind the end face, mm, and who cut it last."""

    z: float
    move: Move | None


@dataclass(frozen=True)
class Standing:
    """What stands: z of the end [mm] and the move that faced it, cylinders and shoulders from the free end on."""

    front: float
    faced: Move | None
    cylinders: tuple[Cylinder, ...]
    shoulders: tuple[Shoulder, ...]

    def longest(self, tool: str) -> Cylinder | None:
        """The longest cylinder that a tool cut."""
        of_it = [c for c in self.cylinders if c.move is not None and c.move.tool == tool]
        return max(of_it, key=lambda cylinder: cylinder.near - cylinder.far, default=None)

    def nearest(self, *, bore: bool) -> Cylinder | None:
        """The cylinder that every tool comes to first: the largest, in a bore the smallest."""
        return max(self.cylinders, key=lambda cylinder: -cylinder.radius if bore else cylinder.radius, default=None)

    def shoulder(self, tool: str) -> Shoulder | None:
        """The first shoulder that a tool cut."""
        return next((s for s in self.shoulders if s.move is not None and s.move.tool == tool), None)


def standing_on(
    frame: Frame, tools: Mapping[str, Tool], moves: Sequence[Move], n: int, line: Sequence[Point]
) -> Standing:
    """The piece when move `n` is about to come; `line` is its border then, in the planner's frame."""
    done = [move for move in moves if move.n < n and move.area > 0]
    front = max(point.x for point in line)
    walls = [z for z in _walls(line) if frame.back + WRITTEN < z < front - WRITTEN]
    return Standing(
        front,
        _face_cut(front, done, tools),
        tuple(Cylinder(a, b, abs(y), _pass_cut(frame, a, b, y, done, tools)) for a, b, y in levels(line, frame.back)),
        tuple(Shoulder(z, _face_cut(z, done, tools)) for z in walls),
    )


def levels(line: Sequence[Point], back: float, least: float = LONG_ENOUGH) -> Iterator[tuple[float, float, float]]:
    """Stretches parallel to the axis of at least this length: greater z, lesser z, height in the planner's frame."""
    for start, end in _runs(line, lambda a, b: abs(a.y - b.y) < WRITTEN):
        if start.x - end.x >= least and start.x > back:
            yield start.x, end.x, end.y


def _walls(line: Sequence[Point]) -> Iterator[float]:
    """Stretches square to the axis."""
    for start, end in _runs(line, lambda a, b: abs(a.x - b.x) < WRITTEN):
        if abs(end.y - start.y) >= HIGH_ENOUGH:
            yield end.x


def _runs(line: Sequence[Point], goes_on: Callable[[Point, Point], bool]) -> Iterator[tuple[Point, Point]]:
    """First and last point of each stretch in which every point is level with the next."""
    start = line[0]
    for a, b in pairwise(line):
        if not goes_on(a, b):
            if a is not start:
                yield start, a
            start = b
    if line[-1] is not start:
        yield start, line[-1]


def _face_cut(z: float, done: Sequence[Move], tools: Mapping[str, Tool]) -> Move | None:
    """The last cut square to the axis whose reference point went along a face."""
    cuts = (m for m in reversed(done) if m.slide == "cross" and abs(m.end.x + tools[m.tool].reference[0] - z) < WRITTEN)
    return next(cuts, None)


def _pass_cut(
    frame: Frame, near: float, far: float, y: float, done: Sequence[Move], tools: Mapping[str, Tool]
) -> Move | None:
    """The last cut along the axis whose nose went along a cylinder."""
    for move in reversed(done):
        low, high = sorted((move.start.x, move.end.x))
        height = frame.place(*move.end).y + tools[move.tool].reference[1]
        if move.slide != "cross" and abs(height - y) < WRITTEN and low < near and high > far:
            return move
    return None
