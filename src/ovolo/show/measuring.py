"""Diameters to measure the finished part by: at round figures of z, away from steep places."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ovolo.documents.resolved import unit_of
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point, Segment
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
    """The rows, from the free end toward the chuck."""

    unit: Unit
    bore: bool
    miss: str
    rows: tuple[Diameter, ...]


def measuring_table(plan: Plan) -> MeasuringTable:
    """The diameters to check a plan's part by."""
    unit, part = unit_of(plan.job), plan.job.part
    bore = part.surface == "bore"
    miss = to_mm(0.1 if unit == "mm" else 0.005, unit)
    rows = []
    high, low = max(part.curve), min(part.curve)
    for z in sorted({*_places(high, low, unit), *_plain_places(part.outline, low, unit)}, reverse=True):
        for r, slope in diameters_at(part.outline, z):
            square = math.hypot(1.0, slope)
            most = 2 * (r - part.ridge * square if bore else r + part.ridge * square)
            limit = _d(most, unit) if low <= z <= high else ""
            rows.append(Diameter(_z(z, unit), _d(2 * r, unit), limit, _d(2 * abs(slope) * miss, unit)))
    return MeasuringTable(unit, bore, format_figure(miss, unit, 1 if unit == "mm" else 3), tuple(rows))


def _z(mm: float, unit: Unit) -> str:
    return format_figure(mm, unit, 2 if unit == "mm" else 3)


def _d(mm: float, unit: Unit) -> str:
    return format_figure(mm, unit, 2 if unit == "mm" else 4)


def _plain_places(outline: Outline, low: float, unit: Unit) -> Iterator[float]:
    """One place in the middle of each cylinder behind the curve, at a round figure where it has one, mm."""
    for segment in outline.segments:
        if isinstance(segment, Line) and segment.end.x < low - 1e-6 and abs(segment.start.y - segment.end.y) < 1e-9:
            front = min(segment.start.x, low)
            middle = to_mm(round(from_mm((front + segment.end.x) / 2, unit), 0 if unit == "mm" else 1), unit)
            yield middle if segment.end.x < middle < front else (front + segment.end.x) / 2


def _places(high: float, low: float, unit: Unit) -> list[float]:
    """Round figures of z, about a dozen on the curve, mm."""
    long = from_mm(high - low, unit)
    step = next((step for step in _STEPS[unit] if long / step <= ABOUT), long / ABOUT)
    first, last = math.floor(from_mm(high, unit) / step - 1e-6), math.ceil(from_mm(low, unit) / step - 1e-6)
    return [to_mm(k * step, unit) for k in range(first, last - 1, -1)]


def diameters_at(outline: Outline, z: float) -> Iterator[tuple[float, float]]:
    """(r, slope dr/dz) wherever the outline passes z and is not steep there, mm.

    >>> list(diameters_at(Outline((Line(Point(0, 9), Point(-24, 9)),)), -3.0))
    [(9.0, 0.0)]
    """
    for segment in outline.segments:
        for place, along in _on(segment, z):
            slope = along.y / along.x if abs(along.x) > 1e-9 else math.inf
            if abs(slope) <= STEEP and place.y > 1e-9:
                yield place.y, slope + 0.0


def _on(segment: Segment, z: float) -> Iterator[tuple[Point, Point]]:
    """(place, direction) wherever a segment passes z; its far end belongs to the next one."""
    if isinstance(segment, Line):
        span = segment.end.x - segment.start.x
        share = (z - segment.start.x) / span if abs(span) > 1e-9 else -1.0
        if -1e-9 <= share < 1 - 1e-9:
            yield segment.point(max(share, 0.0) * segment.length), segment.tangent(0)
        return
    yield from _on_arc(segment, z)


def _on_arc(arc: Arc, z: float) -> Iterator[tuple[Point, Point]]:
    across = z - arc.centre.x
    if abs(across) >= arc.radius:
        return
    half = math.acos(across / arc.radius)
    for angle in (half, -half):
        turn = (angle - arc.angle0) % (2 * math.pi) if arc.ccw else (arc.angle0 - angle) % (2 * math.pi)
        along = turn * arc.radius
        if along < arc.length - 1e-9:
            yield arc.point(along), arc.tangent(along)
