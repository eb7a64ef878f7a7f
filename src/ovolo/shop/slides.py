"""Slides: how a position becomes the figure that the operator sets, and back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

SlideName = Literal["cross", "saddle", "top"]
Reads = Literal["diameter", "radius"]
Grows = Literal["out", "in", "away", "toward"]


@dataclass(frozen=True)
class EqualSteps:
    """Finishing by one slide moved a constant amount: `amount` is in what that slide reads, mm."""

    slide: SlideName
    amount: float


@dataclass(frozen=True)
class Slide:
    """One slide of the lathe and how its position is read.

    Lengths in mm; `unit` is the length in mm of one unit of its figures (1 or 25.4). `count` is the finest figure
    that can be set, in what it reads, mm: a cross slide that reads diameters moves half of it. The top slide lies
    parallel to the axis; its figures are places along it, as the saddle's are.
    """

    name: SlideName
    reads: Reads
    grows: Grows
    count: float
    unit: float = 1.0
    per_turn: float | None = None
    divisions: int | None = None
    backlash: float | None = None
    travel: float | None = None
    lock: bool = True
    clockwise: Literal["in", "out", "toward", "away"] | None = None

    @property
    def on_dial(self) -> bool:
        """Whether it is read on its dial rather than on a readout."""
        return self.divisions is not None

    @property
    def factor(self) -> float:
        """What the figure changes by, in mm, for each mm of travel outward or away from the chuck.

        >>> Slide("cross", "diameter", "in", 0.01).factor
        -2.0
        """
        size = 2.0 if self.name == "cross" and self.reads == "diameter" else 1.0
        return size if self.grows in ("out", "away") else -size

    @property
    def step(self) -> float:
        """The travel between two neighbouring figures, mm."""
        return self.count / abs(self.factor)

    def figure(self, place: float) -> float:
        """The figure at a place of the reference point (r for the cross slide, else z), in its own unit.

        Rounded to the nearest whole count: what can be set.

        >>> Slide("cross", "diameter", "out", 0.01).figure(6.93)
        13.86
        """
        counts = round(place * self.factor / self.count)
        return round(counts * self.count / self.unit, 9) + 0.0

    def place(self, figure: float) -> float:
        """Where the reference point stands when the slide reads `figure`: z or r, mm."""
        return figure * self.unit / self.factor

    @property
    def decimals(self) -> int:
        """How many decimals its figures have: as many as its count needs, at most 6."""
        count = self.count / self.unit
        return next((n for n in range(6) if abs(round(count, n) - count) < 1e-9), 6)

    def text(self, figure: float) -> str:
        """A figure as it is read, Ø before a diameter.

        >>> Slide("cross", "diameter", "out", 0.01).text(-6)
        'Ø -6.00'
        """
        text = f"{figure:z.{self.decimals}f}"
        return f"Ø {text}" if self.name == "cross" and self.reads == "diameter" else text
