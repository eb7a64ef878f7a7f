"""What was measured: readings of radii at places along the axis, and the state that the part is in."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

__all__ = ["Circumstances", "Measured", "Reading", "State"]

State = Literal["turned", "blended"]


@dataclass(frozen=True)
class Reading:
    """One reading, mm: the radius `r` at `z`.

    u, u_z: standard uncertainties of the radius and of the place. over: how much of the axis the jaws cover, centred on
    z; the reading is then the largest radius there, in a bore the smallest. column: what the file holds, a diameter or
    a radius. where: its place in that file, for questions. relative: it was taken with something that the slides carry,
    which can see neither a taper nor an offset of theirs.
    """

    z: float
    r: float
    u: float
    u_z: float
    over: float = 0.0
    column: Literal["d", "r"] = "d"
    where: str = ""
    relative: bool = False

    @property
    def written(self) -> float:
        """What its column holds, mm.

        >>> Reading(-3, 6.76, 0.01, 0.1).written
        13.52
        """
        return 2 * self.r if self.column == "d" else self.r


@dataclass(frozen=True)
class Circumstances:
    """How the part was when it was measured: what decides whether a correction can be cut at all."""

    in_chuck: bool = True
    tool_untouched: bool = True
    cool: bool = True


@dataclass(frozen=True)
class Measured:
    """All readings of one part, in the order in which they were taken down."""

    readings: tuple[Reading, ...]
    state: State = "turned"
    circumstances: Circumstances = field(default_factory=Circumstances)
