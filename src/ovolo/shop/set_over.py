"""The top slide set over: turned to an angle, so that it carries the tool along the axis and across it at once."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ovolo.shop.slides import Slide


@dataclass(frozen=True)
class SetOver:
    """A top slide at an angle.

    `angle` is that between its way and the axis, radians: positive where the end toward the chuck is the larger one,
    of a bore too; less than a right angle either way. Its figures count along its own way, from 0 where it stands while
    the other slides move.
    """

    slide: Slide
    angle: float

    @property
    def toward(self) -> tuple[float, float]:
        """What one mm of it toward the chuck moves the tool by: (z, r), mm.

        >>> [round(part, 3) for part in SetOver(Slide("top", "radius", "away", 0.02), math.radians(30)).toward]
        [-0.866, 0.5]
        """
        return -math.cos(self.angle), math.sin(self.angle)

    def over(self, length: float) -> float:
        """What it moves across the axis over a length along the axis, mm: the tangent of the angle.

        >>> round(SetOver(Slide("top", "radius", "away", 0.02), math.radians(45)).over(-60), 6)
        60.0
        """
        return abs(length * math.tan(self.angle))
