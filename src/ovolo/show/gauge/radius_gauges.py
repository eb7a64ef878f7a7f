"""Which leaves of a set of radius gauges fit the curve."""

from collections.abc import Iterable
from typing import NamedTuple

from ovolo.geometry.segments import Arc, Segment
from ovolo.part.part import Surface
from ovolo.units import INCH, Unit, format_figure

__all__ = ["Leaf", "leaves", "nearest_leaf"]

FITS = 0.02
"""Nearer than this, mm, a leaf is said to fit."""


class Leaf(NamedTuple):
    """The nearest leaf to a radius, mm, and whether the hollow or the round side of it is held against the part."""

    radius: float
    leaf: float
    hollow: bool

    @property
    def fits(self) -> bool:
        """Whether it may be held against the part."""
        return abs(self.radius - self.leaf) <= FITS

    def says(self, unit: Unit) -> str:
        """In words, figures in `unit`."""
        side = "the hollow side" if self.hollow else "the round side"
        radius, leaf = (format_figure(mm, unit, 3 if unit == "mm" else 4) for mm in (self.radius, self.leaf))
        radius, leaf = (text.rstrip("0").rstrip(".") for text in (radius, leaf))
        return f"R {leaf}, {side}" if self.fits else f"none for R {radius}, {side}"


def nearest_leaf(radius: float, unit: Unit) -> float:
    """The nearest size of the usual sets, mm: 1 to 3 by 0.25, to 25 by 0.5 (metric); 1/64 to 1/2 in by 1/64 (inch).

    Common practice, no source: makers' sets differ.

    >>> nearest_leaf(9.0, "mm"), nearest_leaf(6.4, "in")
    (9.0, 6.35)
    """
    if unit == "in":
        return min(max(round(radius / INCH * 64), 1), 32) / 64 * INCH
    step = 0.25 if radius < 3 else 0.5
    return min(max(round(radius / step) * step, 1.0), 25.0)


def leaves(edge: Iterable[Segment], surface: Surface, unit: Unit) -> list[Leaf]:
    """A leaf for each radius of the curve, once."""
    found: dict[tuple[float, bool], Leaf] = {}
    for segment in edge:
        if isinstance(segment, Arc):
            hollow = segment.ccw == (surface == "outside")
            radius = round(segment.radius, 4)
            found.setdefault((radius, hollow), Leaf(radius, nearest_leaf(radius, unit), hollow))
    return list(found.values())
