"""Moves, what has to happen ahead of some of them, and what they leave."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

from ovolo.geometry.segments import Point
from ovolo.shop.slides import SlideName

Stage = Literal["rough", "finish"]


@dataclass(frozen=True)
class Move:
    """One slide going from one figure to another. `start` and `end` are the nose centre (z, r), mm.

    `figure` is what the moving slide is brought to, in its own unit and convention; `within` how far off it may be
    without harm, mm of travel; `area` what it takes from the half-section, mm²; `bite` the extent of that across the
    feed, mm; `station` is set on the move that brings the nose onto the finished outline.
    """

    n: int
    stage: Stage
    tool: str
    slide: SlideName
    start: Point
    end: Point
    figure: float
    shown: str
    within: float
    cuts: bool
    area: float
    bite: float
    station: int | None = None

    @property
    def travel(self) -> float:
        """How far the slide goes, mm."""
        return math.dist(self.start, self.end)

    @property
    def toward(self) -> str:
        """Its direction in words: toward or away from the chuck, in or out."""
        if self.slide != "cross":
            return "toward the chuck" if self.end.x < self.start.x else "away from the chuck"
        return "in" if self.end.y < self.start.y else "out"


class Reading(NamedTuple):
    """What a slide reads: `figure` in its own unit and convention, `shown` as it is read at the lathe."""

    slide: SlideName
    figure: float
    shown: str


class Stand(NamedTuple):
    """Where the slides are ahead of a move; `first` is brought to its figure first, while the tool is still well
    outside: beyond the bar's diameter for the saddle, in front of the piece for the cross slide."""

    first: Literal["cross", "saddle"]
    readings: tuple[Reading, ...]


class Measured(NamedTuple):
    """A cylinder that is measured at a stop: z of its ends, the nearer to the free end first, and its radius, mm, as
    move `after` has left it."""

    near: float
    far: float
    radius: float
    after: int


@dataclass(frozen=True)
class Before:
    """What has to happen ahead of a move: tool, touch, measure, speed, lock, say, stand.

    `stand` belongs to that kind; `measured` and `should` to a measuring: where, and what its figures should be where
    the size is right.
    """

    move: int
    kind: Literal["tool", "touch", "measure", "speed", "lock", "say", "stand"]
    text: str
    stand: Stand | None = None
    should: tuple[Reading, ...] = ()
    measured: Measured | None = None


@dataclass(frozen=True)
class Proof:
    """The best plan with one station fewer: how many that is, and what it would leave, mm (None: none is possible)."""

    fewer: int
    leaves: float | None


@dataclass(frozen=True)
class Prediction:
    """What the swept plan leaves, mm: the highest ridge and where it stands, the deepest gouge, and the border of what
    is left as (z, r) points from the free end toward the chuck, true to 1 µm. `ridges` holds, for each pair of
    neighbouring stations, the height left between them and the place of its foot on the outline."""

    ridge_max: float
    ridge_at: Point
    gouge_max: float
    surface: tuple[Point, ...]
    ridges: tuple[tuple[Point, float], ...] = ()
