"""Edges made of noses, circles of one radius side by side, and of two straight edges that run on upward from them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely

from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.contact import contact_height
from ovolo.geometry.coverage import Line, Settings, Spans, nose_settings, spans
from ovolo.shop.edges.edge import Edge, Limit
from ovolo.tolerances import ROUNDING

#: How far the edges of a tool are taken to run from the nose, mm.
EDGE_LENGTH = 60.0
#: Edges square to the axis.
UPRIGHT = (math.pi / 2, math.pi / 2)
#: Chordal error of the flattened nose, mm.
NOSE_CHORD = 2e-4


@dataclass(frozen=True)
class Nosed:
    """One nose or two of them, `drawn_out` mm apart, between two straight edges."""

    radius: float
    directions: tuple[float, float] = UPRIGHT
    drawn_out: float = 0.0

    @property
    def reference(self) -> tuple[float, float]:
        """Below the nose and on its side toward the chuck [mm]."""
        return -self.radius, -self.radius

    @property
    def noses(self) -> tuple[float, ...]:
        """The centre of its nose, or of its two corners [mm]."""
        return (0.0, self.drawn_out) if self.drawn_out else (0.0,)

    @property
    def toward_chuck(self) -> float:
        """As far as its nose [mm]."""
        return self.radius

    @property
    def toward_end(self) -> float:
        """As far as its nose, or its other corner [mm]."""
        return self.radius + self.drawn_out

    @property
    def lowest(self) -> tuple[float, float]:
        """From nose to nose [mm]."""
        return 0.0, self.drawn_out

    @property
    def half_width(self) -> float:
        """The radius."""
        return self.radius

    @property
    def whole_width(self) -> float:
        """Over all its noses [mm]."""
        return 2 * self.radius + self.drawn_out

    @property
    def tightest(self) -> float:
        """The radius."""
        return self.radius

    @property
    def follows(self) -> float:
        """The radius."""
        return self.radius

    @property
    def cuts_both_ways(self) -> bool:
        """A nose between upright edges does."""
        return True

    @property
    def only_plunges(self) -> bool:
        """None but a blade does."""
        return False

    @property
    def cuts_away(self) -> bool:
        """None but a left-hand knife does."""
        return False

    def plunge(self, own: float | None, usual: float) -> float:
        """As given for the tool, or as usual [mm]."""
        return own or usual

    def limit(self, bite: float, plunge: float, *, inward: bool, rough: bool) -> Limit:
        """A pass is bound by the bite, a plunge and a finishing cut by the plunge [mm]."""
        return Limit(bite, "bite") if rough and not inward else Limit(plunge, "plunge")

    def thickest(self, bite: float, plunge: float, *, inward: bool) -> float:
        """The bite, of a plunge as much as that may be wide [mm]."""
        return self.limit(bite, plunge, inward=True, rough=False).widest if inward else bite

    def over(self, dx: Floats) -> Floats:
        """The noses, and outside them the edges [mm]."""
        left, right = self.directions
        beyond = np.maximum(dx - self.drawn_out, 0.0)
        return np.where(dx > 0, self._side(beyond, right), self._side(-dx, math.pi - left))

    def over_way(self, x: Floats, low: float, high: float) -> Floats:
        """Most places lie under the nose's own way; the first nose and the last one shape the ends of it [mm]."""
        left, right = self.directions
        i, j = np.searchsorted(x, low), np.searchsorted(x, high + self.drawn_out, side="right")
        under = np.full(len(x), -self.radius)
        under[:i] = self._side(low - x[:i], math.pi - left)
        under[j:] = self._side(x[j:] - high - self.drawn_out, right)
        return under

    def _side(self, away: Floats, angle: float) -> Floats:
        """Height of one side, `away` mm from the nose centre: the nose, then an edge that rises at `angle`."""
        nose = -np.sqrt(np.maximum(self.radius**2 - away**2, 0.0))
        if angle > math.pi / 2 - ROUNDING:
            return np.where(away <= self.radius, nose, np.inf)
        edge = (away - self.radius * math.sin(angle)) * math.tan(angle) - self.radius * math.cos(angle)
        return np.where(away > self.radius * math.sin(angle), edge, nose)

    def beside(self, rise: float) -> tuple[float, float]:
        """As far as the noses, and what the edges lean over [mm]."""
        left, right = self.directions
        over = [rise / math.tan(a) if a < math.pi / 2 - ROUNDING else 0.0 for a in (math.pi - left, right)]
        return self.radius + over[0], self.radius + over[1] + self.drawn_out

    def shape(self) -> Floats:
        """Its noses flattened between points that lie on them: a plan is never flattered by it [mm]."""
        radius, (left, right) = self.radius, self.directions
        n = max(12, math.ceil(math.pi / 4 / math.acos(max(1 - NOSE_CHORD / radius, 0.0))))
        a = np.linspace(0, 2 * math.pi, 4 * n, endpoint=False)  # a multiple of four: the extremes lie on the nose
        nose = radius * np.c_[np.cos(a), np.sin(a)]
        ends = []
        for angle, side in ((left, 1), (right, -1)):
            direction = np.array([math.cos(angle), math.sin(angle)])
            touch = radius * side * np.array([-direction[1], direction[0]])
            ends += [touch, touch + EDGE_LENGTH * direction]
        corner = np.array([self.drawn_out, 0.0])  # the right edge runs on from the last nose
        ends = [*ends[:2], *(end + corner for end in ends[2:])]
        hull = shapely.convex_hull(shapely.multipoints(np.vstack([nose, nose + corner, ends])))
        return shapely.get_coordinates(hull)[:-1]

    def clear_of(self, chain: Chain, x: Floats, spare: float) -> Floats:
        """Both noses and all between them [mm]."""
        height = contact_height(chain, x, self.radius + spare, self.directions)
        if self.drawn_out:
            far = contact_height(chain, x + self.drawn_out, self.radius + spare, self.directions)
            height = np.maximum(highest_ahead(height, int(self.drawn_out / (x[1] - x[0]))), far)
        return height

    def settings(self, chain: Chain, x: Floats, y: Floats, stretch: tuple[float, float]) -> Settings:
        """Each place as often as there are noses that touch from there [mm]."""
        found = [nose_settings(chain, x, y, self.radius, shift, stretch) for shift in self.noses]
        return found[0] if len(found) == 1 else Settings.joined(found)

    def touched(self, chain: Chain, x: Floats, y: Floats, within: float) -> Floats:
        """That of the nearer nose [mm]."""
        places, away = zip(*(chain.project(x + shift, y, within) for shift in self.noses), strict=True)
        nearest = np.argmin(away, axis=0)
        return np.asarray(np.array(places)[nearest, np.arange(len(x))])

    def spans(self, chain: Chain, settings: Settings, ridge: float, line: Line) -> Spans:
        """What the touching nose covers [mm]."""
        return spans(chain, settings, self.radius, ridge, line)

    def turned(self, quarters: Literal[1, -1]) -> Edge | None:
        """Its edges run straight up: it reaches nothing from the side."""
        return None


def highest_ahead(height: Floats, ahead: int) -> Floats:
    """The greatest of each height and the `ahead` next ones [mm].

    >>> highest_ahead(np.array([3.0, 1.0, 2.0]), 1).tolist()
    [3.0, 2.0, 2.0]
    """
    if ahead <= 0:
        return height
    padded = np.concatenate([height, np.full(ahead, -np.inf)])
    return np.asarray(np.lib.stride_tricks.sliding_window_view(padded, ahead + 1).max(axis=1))
