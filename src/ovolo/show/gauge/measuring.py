"""Diameters to measure the finished part by: at round figures of z, away from steep places."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ovolo.geometry.outline import Outline
from ovolo.geometry.overhang import doubles_back, places_at
from ovolo.geometry.segments import Line
from ovolo.plan.model import Plan
from ovolo.units import Unit, format_figure, from_mm, to_mm

__all__ = ["Diameter", "MeasuringTable", "diameters_at", "measuring_table"]

STEEP = 1.5
"""Where r changes by more than this for each mm of z, a diameter says little: the place is hard to find."""

ABOUT = 12
"""About so many rows."""

_STEPS = {
    "mm": (0.1, 0.2, 0.25, 0.5, 1, 2, 2.5, 5, 10, 20, 25, 50, 100),
    "in": (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2),
}


@dataclass(frozen=True)
class Diameter:
    """One row: where to measure, what to find there, and what it may be at most with the ridges on; texts in the unit.

    `slip` is what the diameter changes by where z is missed by `MeasuringTable.miss`.
    """

    z: str
    d: str
    limit: str
    slip: str


@dataclass(frozen=True)
class MeasuringTable:
    """The rows, from the free end toward the chuck; `note` is said where not all of the outline can be measured so."""

    unit: Unit
    bore: bool
    miss: str
    rows: tuple[Diameter, ...]
    note: str = ""


def measuring_table(plan: Plan) -> MeasuringTable:
    """The diameters to check a plan's part by."""
    unit, part = plan.job.units, plan.job.part
    bore = part.surface == "bore"
    miss = to_mm(0.1 if unit == "mm" else 0.005, unit)
    rows = []
    high, low = max(part.curve), min(part.curve)
    for z in sorted({*_places(high, low, unit), *_plain_places(part.outline, low, unit)}, reverse=True):
        for r, slope in diameters_at(part.outline, z, bore=bore):
            square = math.hypot(1.0, slope)
            most = 2 * (r - part.ridge * square if bore else r + part.ridge * square)
            limit = _d(most, unit) if low <= z <= high else ""
            rows.append(Diameter(_z(z, unit), _d(2 * r, unit), limit, _d(2 * abs(slope) * miss, unit)))
    note = "" if not doubles_back(part.outline) else _UNDER_A_LIP[part.surface]
    return MeasuringTable(unit, bore, format_figure(miss, unit, 1 if unit == "mm" else 3), tuple(rows), note)


_UNDER_A_LIP = {
    "outside": (
        "The outline leans over: where a place has more than one diameter the table gives the largest, which is all "
        "that a micrometer touches. Try the place under the overhang with a depth gauge, or a ball of known size."
    ),
    "bore": (
        "The outline leans over: where a place has more than one diameter the table gives the smallest, which is all "
        "that an inside gauge touches. Try the place behind the overhang with a hooked gauge, or a ball of known size."
    ),
}


def _z(mm: float, unit: Unit) -> str:
    return format_figure(mm, unit, 2 if unit == "mm" else 3)


def _d(mm: float, unit: Unit) -> str:
    return format_figure(mm, unit, 2 if unit == "mm" else 4)


def _plain_places(outline: Outline, low: float, unit: Unit) -> Iterator[float]:
    """One place in the middle of each cylinder behind the curve, at a round figure where it has one, mm."""
    for segment in outline.segments:
        level = isinstance(segment, Line) and abs(segment.start.y - segment.end.y) < 1e-9
        if level and segment.end.x < min(low - 1e-6, segment.start.x):
            front = min(segment.start.x, low)
            middle = to_mm(round(from_mm((front + segment.end.x) / 2, unit), 0 if unit == "mm" else 1), unit)
            yield middle if segment.end.x < middle < front else (front + segment.end.x) / 2


def _places(high: float, low: float, unit: Unit) -> list[float]:
    """Round figures of z, about a dozen on the curve, mm."""
    long = from_mm(high - low, unit)
    step = next((step for step in _STEPS[unit] if long / step <= ABOUT), long / ABOUT)
    first, last = math.floor(from_mm(high, unit) / step - 1e-6), math.ceil(from_mm(low, unit) / step - 1e-6)
    return [to_mm(k * step, unit) for k in range(first, last - 1, -1)]


def diameters_at(outline: Outline, z: float, *, bore: bool = False) -> Iterator[tuple[float, float]]:
    """(r, slope dr/dz) where the outline passes z and is not steep there, mm: of several places that which a
    micrometer, in a bore an inside gauge, touches first.

    >>> from ovolo.geometry.segments import Point
    >>> list(diameters_at(Outline((Line(Point(0, 9), Point(-24, 9)),)), -3.0))
    [(9.0, 0.0)]
    """
    met = list(places_at(outline, z))
    if not met:
        return
    place, along = (min if bore else max)(met, key=lambda found: found[0].y)
    slope = along.y / along.x if abs(along.x) > 1e-9 else math.inf
    if abs(slope) <= STEEP and place.y > 1e-9:
        yield place.y, slope + 0.0
