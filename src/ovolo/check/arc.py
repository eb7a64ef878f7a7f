"""The radius that readings on an arc have by themselves, whatever the plan says."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from ovolo.check.measured import Reading
from ovolo.check.reach import Against
from ovolo.errors import FaultsFound
from ovolo.geometry.circle_fit import fit_circle
from ovolo.geometry.segments import Arc, Point
from ovolo.plan.model import Plan

__all__ = ["OwnRadius", "own_radius"]

FEWEST = 4
"""Three points always lie on a circle: with fewer than this nothing is said."""


class OwnRadius(NamedTuple):
    """The radius of the circle nearest to the readings on the longest arc of the curve, its standard uncertainty, and
    the radius wanted, mm."""

    radius: float
    u: float
    wanted: float


def own_radius(plan: Plan, readings: Sequence[Reading], seen: Against) -> OwnRadius | None:
    """The radius of the longest arc of the curve by the readings alone; None where too few lie on it.

    Ridges that jaws ride on and the scatter of settings count as what is left over does.
    """
    high, low = plan.job.part.curve
    arcs = [s for s in plan.job.part.outline.segments if isinstance(s, Arc)]
    arcs = [s for s in arcs if min(s.start.x, s.end.x) < high - 1e-6 and max(s.start.x, s.end.x) > low + 1e-6]
    if not arcs:
        return None
    arc = max(arcs, key=lambda each: each.length)
    ends = sorted((arc.start.x, arc.end.x))
    on = [n for n, x in enumerate(seen.touches) if ends[0] <= x <= ends[1]]
    if len(on) < FEWEST:
        return None
    try:
        circle = fit_circle([Point(float(seen.touches[n]), readings[n].r) for n in on])
    except FaultsFound:
        return None
    read = float(np.sqrt(np.mean(seen.u[on] ** 2)))
    left = circle.left * (len(on) / max(len(on) - 3, 1)) ** 0.5
    return OwnRadius(circle.radius, circle.u_radius * max(read, left), arc.radius)
