"""A knife: one nose between two edges that lean, made for one hand. It is fed one way along the axis, and from a bay's
side it still reaches what leans over."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from ovolo.shop.edges.edge import Edge, Limit, Told
from ovolo.shop.edges.nosed import Nosed

#: An edge must lean at least so far from a bay's own way to work there, radians.
LEAST_LEAN = 1e-3


@dataclass(frozen=True)
class Knife(Nosed):
    """A knife; `away` where it is made to cut away from the chuck, as a left-hand one is."""

    away: bool = False

    @property
    def reference(self) -> tuple[float, float]:
        """Below the nose, on the side toward which it cuts [mm]."""
        return (self.radius if self.away else -self.radius), -self.radius

    @property
    def whole_width(self) -> float:
        """It grows with the depth, for the edges lean [mm]."""
        return math.inf

    @property
    def cuts_both_ways(self) -> bool:
        """Only the way that it is made for."""
        return False

    @property
    def cuts_away(self) -> bool:
        """A left-hand one does."""
        return self.away

    def limit(self, bite: float, plunge: float, *, inward: bool, rough: bool) -> Limit:
        """The bite; finishing with a nose wider than that as wide as the nose is [mm]."""
        wide = bite if rough else min(2 * self.radius, plunge)
        return Limit(bite, "bite") if wide <= bite else Limit(wide, "nose")

    def thickest(self, bite: float, plunge: float, *, inward: bool) -> float:
        """The bite [mm]."""
        return bite

    def turned(self, quarters: Literal[1, -1]) -> Edge | None:
        """A quarter turn round; None where an edge runs straight up there or leans the other way."""
        left, right = (angle + quarters * math.pi / 2 for angle in self.directions)
        if right < LEAST_LEAN or left > math.pi - LEAST_LEAN:
            return None
        return Knife(self.radius, (left, right), away=right > math.pi / 2)


def of(told: Told) -> Knife:
    """The edge of a knife of either hand."""
    lead = math.pi - told.edge_angle
    trail = lead - told.point_angle
    if told.hand == "right":
        return Knife(told.nose_radius, (lead, trail))
    return Knife(told.nose_radius, (math.pi - trail, math.pi - lead), away=True)
