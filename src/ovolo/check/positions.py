"""Where the tools went: every move of a plan as arrays, so that what a cause does to all of them is one sum.

In the planner's frame (y = r outside, y = -r in a bore). A position is brought about by settings: each time a slide is
brought to a figure is one, and whatever follows until it is moved again shares its error.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ovolo.check.seen import Hidden, hidden_of, plan_as_seen, under_lips
from ovolo.geometry.chain import Floats, Ints
from ovolo.plan.model import Move, Plan
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

__all__ = ["Positions", "Settings", "positions_of"]


@dataclass(frozen=True)
class Settings:
    """By which setting each move's slides stand at its start and its end; rows of `made` say which move made
    them, `outward` and `away` are 1 where the slide came to it so."""

    cross_start: Ints
    cross_end: Ints
    saddle_start: Ints
    saddle_end: Ints
    cross_made: Ints
    saddle_made: Ints
    cross_outward: Floats
    saddle_away: Floats


@dataclass(frozen=True)
class Positions:
    """Nose centres at the start and end of every move, mm, with the radius of the nose; `tool` counts in `tools`.

    Leading axes of the coordinates are draws. `height` is how far the tool is off centre height, mm.
    Over each of the `lips` the moves that are `under` it, (lips, moves), take no metal that is seen.
    """

    frame: Frame
    tools: tuple[Tool, ...]
    tool: Ints
    x0: Floats
    y0: Floats
    x1: Floats
    y1: Floats
    radius: Floats
    settings: Settings
    height: Floats | float = 0.0
    lips: tuple[Hidden, ...] = ()
    under: NDArray[np.bool_] | None = None

    @property
    def count(self) -> int:
        """How many moves there are."""
        return int(self.tool.size)

    def moved(self, dx: Floats | float, dy: Floats | float) -> Positions:
        """The same with every nose centre elsewhere, by so many mm."""
        return replace(self, x0=self.x0 + dx, x1=self.x1 + dx, y0=self.y0 + dy, y1=self.y1 + dy)

    def only(self, moves: Ints) -> Positions:
        """The same with some of the moves; settings keep their numbers."""
        s = self.settings
        few = replace(
            s,
            cross_start=s.cross_start[moves],
            cross_end=s.cross_end[moves],
            saddle_start=s.saddle_start[moves],
            saddle_end=s.saddle_end[moves],
        )
        ends = {name: getattr(self, name)[..., moves] for name in ("x0", "y0", "x1", "y1", "radius")}
        under = None if self.under is None else self.under[:, moves]
        return replace(self, tool=self.tool[moves], settings=few, under=under, **ends)

    @cached_property
    def flat(self) -> Floats:
        """Between the two corners of a blade, for every move, mm."""
        between = np.array([tool.edge.noses[-1] if tool.edge.noses else 0.0 for tool in self.tools])[self.tool]
        radius = np.array([tool.nose_radius for tool in self.tools])[self.tool]
        return np.where(between > 0, between - 2 * (self.radius - radius), 0.0)

    @cached_property
    def lowest(self) -> Floats:
        """Where every move's tool is lowest, along the axis from its nose centre, mm: aside only of a form tool."""
        middle = [0.0 if tool.edge.noses else sum(tool.edge.lowest) / 2 for tool in self.tools]
        return np.array(middle)[self.tool]

    @cached_property
    def edges(self) -> tuple[Floats, Floats]:
        """Angle between the axis and the edge on either side of every move's tool, outward, radians."""
        left = np.array([np.pi - tool.edge.directions[0] for tool in self.tools])
        right = np.array([tool.edge.directions[1] for tool in self.tools])
        return left[self.tool], right[self.tool]


def positions_of(plan: Plan) -> Positions:
    """The moves of a plan, set exactly, over its outline as it is seen."""
    frame, names = plan_as_seen(plan).frame, [tool.name for tool in plan.tools]
    tool = np.array([names.index(move.tool) for move in plan.moves], dtype=np.int64)
    ends = np.array([[*move.start, *move.end] for move in plan.moves], dtype=np.float64).reshape(-1, 4)
    x0, y0, x1, y1 = ends.T
    radius = np.array([tool.nose_radius for tool in plan.tools], dtype=np.float64)[tool]
    sign = frame.sign
    lips = hidden_of(plan.job)
    under = under_lips(plan.moves, sign, lips) if lips else None
    y0, y1 = sign * y0, sign * y1
    return Positions(frame, plan.tools, tool, x0, y0, x1, y1, radius, _settings(plan.moves), lips=lips, under=under)


def _settings(moves: Sequence[Move]) -> Settings:
    """A tool begins with both slides set anew; from there each move sets the slide that it moves."""
    rows: list[tuple[int, int, int, int]] = []
    made: dict[str, list[int]] = {"cross": [], "saddle": []}
    stand: dict[str, int] = {}
    before: str | None = None

    def anew(slide: str, n: int) -> None:
        stand[slide] = len(made[slide])
        made[slide].append(n)

    for n, move in enumerate(moves):
        if move.tool != before:
            anew("cross", n)
            anew("saddle", n)
            before = move.tool
        start = dict(stand)
        if move.slide in ("cross", "both"):
            anew("cross", n)
        if move.slide != "cross":
            anew("saddle", n)
        rows.append((start["cross"], stand["cross"], start["saddle"], stand["saddle"]))
    table = np.array(rows, dtype=np.int64).reshape(-1, 4)
    cross, saddle = (np.array(made[slide], dtype=np.int64) for slide in ("cross", "saddle"))
    outward = np.array([float(abs(moves[n].end.y) > abs(moves[n].start.y) + 1e-9) for n in cross])
    away = np.array([float(moves[n].end.x > moves[n].start.x + 1e-9) for n in saddle])
    return Settings(table[:, 0], table[:, 1], table[:, 2], table[:, 3], cross, saddle, outward, away)
