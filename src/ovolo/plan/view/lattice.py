"""The grid of nose centres that whole counts of both slides give."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Lattice:
    """The nose centres that whole counts of both slides give: x = x0 + i·dx, y = y0 + j·dy, mm."""

    x0: float
    dx: float
    y0: float
    dy: float

    def column_at(self, x: float, up: bool) -> int:
        """The column at x or the next one, up (greater x) or down."""
        return _whole((x - self.x0) / self.dx, up)

    def row_at(self, y: float, up: bool) -> int:
        """The row at y or the next one, up or down."""
        return _whole((y - self.y0) / self.dy, up)

    def x(self, column: int) -> float:
        """x of a column."""
        return self.x0 + column * self.dx

    def y(self, row: int) -> float:
        """y of a row."""
        return self.y0 + row * self.dy

    def x_up(self, x: float) -> float:
        """The least x of a column that is not below x."""
        return self.x(self.column_at(x, True))

    def y_up(self, y: float) -> float:
        """The least y of a row that is not below y."""
        return self.y(self.row_at(y, True))


def _whole(value: float, up: bool) -> int:
    return math.ceil(value - 1e-6) if up else math.floor(value + 1e-6)
