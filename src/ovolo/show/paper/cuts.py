"""The metal while a plan is carried out, for drawings: regions of (z, r), as the plan's own sweep has them."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.model import Job, Move, Plan
from ovolo.plan.sweep.sweep import blank_region, part_region, tool_shape
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

__all__ = ["Cuts", "Piece", "Region", "hull_of", "polygons", "tool_of"]

Region = BaseGeometry

HAIR = 1e-4
"""Slivers narrower than twice this are rounding, mm."""


@dataclass(frozen=True)
class Piece:
    """A job seen as regions in (z, r), mm, before anything is cut."""

    job: Job

    @cached_property
    def frame(self) -> Frame:
        """The planner's view of the job."""
        return Frame(self.job)

    @property
    def bore(self) -> bool:
        """Whether the surface is that of a hole."""
        return self.frame.sign < 0

    @cached_property
    def part(self) -> Region:
        """The finished part in the half-section."""
        return self._turned(part_region(self.frame))

    @cached_property
    def blank(self) -> Region:
        """The piece before anything is cut, in front of the bar behind the part."""
        return self._turned(blank_region(self.frame))

    @cached_property
    def shapes(self) -> dict[str, Floats]:
        """Each tool's cutting outline about its nose centre, (n, 2), as it stands in this job."""
        turn = np.array([1.0, float(self.frame.sign)])
        return {tool.name: tool_shape(tool) * turn for tool in self.job.shop.tools}

    def to_go(self, metal: Region) -> Region:
        """What of a piece of metal does not belong to the part."""
        return shapely.difference(metal, self.part)

    def _turned(self, region: Region) -> Region:
        return affinity.scale(region, 1, -1, origin=(0, 0)) if self.bore else region


@dataclass(frozen=True, init=False)
class Cuts(Piece):
    """The same of a plan, with what its moves take."""

    plan: Plan

    def __init__(self, plan: Plan) -> None:
        object.__setattr__(self, "job", plan.job)
        object.__setattr__(self, "plan", plan)

    @property
    def frame(self) -> Frame:
        """The planner's view of the job."""
        return self.plan.frame

    @property
    def chips(self) -> tuple[Region, ...]:
        """What each move takes, move by move."""
        return self.plan.swept.chips

    @property
    def left(self) -> Region:
        """What stands after the last move."""
        return self.plan.swept.left

    def after(self, n: int) -> Region:
        """The metal in front of the bar after move `n`; 0 for the blank."""
        return self.plan.swept.after(n)

    def track(self, move: Move) -> Region:
        """What the tool of a move passes over, past the axis on this side too."""
        hull = hull_of(self.shapes[move.tool], [move.start, move.end])
        if not self.bore and hull.bounds[1] < 0:
            over = shapely.intersection(hull, shapely.box(-1e4, -1e4, 1e4, 0.0))
            hull = shapely.union(hull, affinity.scale(over, 1, -1, origin=(0, 0)))
        return hull


def hull_of(shape: Floats, places: Sequence[Point]) -> Region:
    """The convex hull of a tool's outline at several nose centres."""
    return shapely.MultiPoint(np.vstack([shape + np.asarray(place) for place in places])).convex_hull


def tool_of(plan: Plan, move: Move) -> Tool:
    """The tool that makes a move."""
    return next(tool for tool in plan.tools if tool.name == move.tool)


def polygons(region: Region) -> list[shapely.Polygon]:
    """The pieces of a region that are more than hairs."""
    parts = [part for part in shapely.get_parts(shapely.get_parts(region)) if isinstance(part, shapely.Polygon)]
    return [part for part in parts if part.area > HAIR * part.length / 2]
