"""Which readings say something of the finished surface, and how far each is from the outline, square to it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from ovolo.check.jaws import Jaws
from ovolo.check.measured import Reading
from ovolo.check.positions import Positions
from ovolo.check.profile import heights, places
from ovolo.geometry.chain import Floats
from ovolo.plan.view.frame import Frame

__all__ = ["Against", "Finish", "against", "deviation_of"]

SLACK = 0.05
"""What stands farther than this over the ridge that was planned for is not finished, mm."""

STEP = 0.05
BEYOND = 1e-3


def deviation_of(frame: Frame, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """How far points are from the outline, square to it, metal too much positive; and the place of their feet.

    Points in the planner's frame, in any order, mm.
    """
    order = np.argsort(x, kind="stable")
    u, away = np.empty_like(x), np.empty_like(x)
    u[order], away[order] = frame.chain.project(x[order], y[order], 2.0)
    far = ~np.isfinite(away)
    if far.any():
        rows = order[far[order]]
        u[rows], away[rows] = frame.chain.project(x[rows], y[rows], 1e4)
    fx, fy = frame.chain.points(u)
    nx, ny = frame.chain.normals(*frame.chain.locate(u))
    out = (x - fx) * nx + (y - fy) * ny
    return np.where(out < 0, -away, away), u


class Finish:
    """Where along the axis the plan finishes the metal; `ridge` is the one that it was planned for, mm."""

    def __init__(self, positions: Positions, ridge: float) -> None:
        self.frame = positions.frame
        self.x = np.arange(self.frame.back, self.frame.front_of_part + STEP / 2, STEP)
        y = heights(positions, places(positions, self.x, 0.05))
        over, u = deviation_of(self.frame, self.x, y)
        foot_x, _ = self.frame.chain.points(u)
        self.raw = (over > max(ridge, 0.0) + SLACK) | (np.abs(foot_x - self.x) > 3.0)

    def off_the_part(self, reading: Reading) -> bool:
        """Whether a place is on no metal of the part."""
        spare = max(3 * reading.u_z, STEP)
        return not self.frame.back - spare <= reading.z <= self.frame.front_of_part + spare

    def unused_because(self, reading: Reading) -> str | None:
        """Why a reading says nothing of the finished surface; None where it does."""
        low, high = reading.z - reading.over / 2, reading.z + reading.over / 2
        if self.off_the_part(reading):
            return "it is off the part"
        if high > self.frame.front_of_part + BEYOND:
            return "the jaws reach past the end of the piece"
        if low < self.frame.back - BEYOND:
            return "the jaws reach over the bar behind"
        i, j = np.searchsorted(self.x, (low - STEP / 2, high + STEP / 2))
        if self.raw[i:j].any():
            return "the plan does not finish the metal there"
        return None


class Against(NamedTuple):
    """Readings against the outline: where each touches, the deviation there, its standard uncertainty, mm; and how
    much of a change of the radius is square to the outline there."""

    touches: Floats
    deviation: Floats
    u: Floats
    across: Floats


def against(positions: Positions, readings: Sequence[Reading], at: Positions) -> Against:
    """Readings against the outline, square to it, where the jaws touch the part as it is explained (`at`)."""
    frame = positions.frame
    touches = Jaws.on(at, readings, 0.1).touching(at)
    y = frame.sign * np.array([reading.r for reading in readings])
    deviation, u = deviation_of(frame, touches, y)
    nx, ny = frame.chain.normals(*frame.chain.locate(u))
    own = np.hypot(ny * np.array([r.u for r in readings]), nx * np.array([r.u_z for r in readings]))
    return Against(touches, deviation, own, ny)
