"""The part: what is to be made."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ovolo.geometry.outline import Outline

Surface = Literal["outside", "bore"]


@dataclass(frozen=True)
class Part:
    """A turned part in its half-section, mm.

    `outline` runs from the free end toward the chuck in (z, r); `curve` is the stretch of z that is
    finished in settings, (greater, lesser); `ridge` is the most metal that may stand above the outline, measured
    square to it.
    `tolerance` is what the drawing allows the curve, such as "ISO 2768-m" or "IT9", where it is given.
    """

    outline: Outline
    surface: Surface
    material: str
    curve: tuple[float, float]
    ridge: float
    tolerance: str | None = None
