"""A form tool: a convex cutting outline of its own between two flanks square to the axis."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np
import shapely

from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.coverage import Line, Settings, Spans
from ovolo.geometry.form_contact import form_gap, form_height
from ovolo.geometry.form_coverage import form_settings, form_spans
from ovolo.geometry.underside import Underside
from ovolo.shop.edges.edge import Edge, Told
from ovolo.shop.edges.nosed import EDGE_LENGTH, UPRIGHT, Nosed

#: Chordal error of the flattened outline, mm: its corners leave just the ridges that the settings promise.
FORM_CHORD = 2e-5
#: A form tool with a corner is taken on as if that were a nose of this radius, mm.
SHARP = 0.2


@dataclass(frozen=True)
class FormEdge(Nosed):
    """A form tool by its underside; its nose centre is a place of ours, `radius` above its lowest place and as far from
    its end toward the chuck."""

    underside: Underside = field(kw_only=True)

    @property
    def noses(self) -> tuple[float, ...]:
        """It has none [mm]."""
        return ()

    @property
    def lowest(self) -> tuple[float, float]:
        """The ends of its lowest stretch [mm]."""
        left, right = self.underside.lowest
        return left.x, right.x

    @cached_property
    def half_width(self) -> float:
        """Half its width at the height of its nose centre [mm]."""
        return self.underside.width_at(0.0) / 2

    @property
    def whole_width(self) -> float:
        """At the height of its nose centre, and how much farther it stretches one way than the other [mm]."""
        return 2 * self.half_width + self.drawn_out

    @property
    def tightest(self) -> float:
        """The least radius of its bends."""
        return self.underside.tightest

    @property
    def follows(self) -> float:
        """Its tightest bend; a corner counts as a small nose [mm]."""
        return max(self.tightest, SHARP)

    def over(self, dx: Floats) -> Floats:
        """True to 1e-4 mm."""
        return self.underside.rough_height(dx)

    def over_way(self, x: Floats, low: float, high: float) -> Floats:
        """Each place is passed by what of the tool is lowest among all that passes over it [mm]."""
        return self.over(np.clip(sum(self.lowest) / 2, x - high, x - low))

    def shape(self) -> Floats:
        """Its outline and its flanks [mm]."""
        flanks = self.underside.flanks(EDGE_LENGTH)
        tops = [side.start if side.start.y > side.end.y else side.end for side in flanks]
        hull = shapely.convex_hull(shapely.multipoints(np.vstack([self.underside.points(FORM_CHORD), tops])))
        return shapely.get_coordinates(hull)[:-1]

    def clear_of(self, chain: Chain, x: Floats, spare: float) -> Floats:
        """Exact, bend by bend [mm]."""
        return form_height(chain, x, self.underside.parallel(spare))

    def settings(self, chain: Chain, x: Floats, y: Floats, stretch: tuple[float, float]) -> Settings:
        """All that come near the outline, wherever they touch it [mm]."""
        return form_settings(chain, x, y, self.underside)

    def touched(self, chain: Chain, x: Floats, y: Floats, within: float) -> Floats:
        """That of its underside [mm]."""
        place, _ = form_gap(chain, x, y, self.underside, within)
        return place

    def spans(self, chain: Chain, settings: Settings, ridge: float, line: Line) -> Spans:
        """Between the places where the outline's parallel leaves the tool [mm]."""
        return form_spans(chain, settings, self.underside, ridge, line)

    def turned(self, quarters: Literal[1, -1]) -> Edge | None:
        """Its flanks run straight up: it reaches nothing from the side."""
        return None


def of(told: Told) -> FormEdge:
    """The edge of a form tool."""
    assert told.outline is not None  # no document gives a form tool without one
    spread = 0.0 if told.width is None else told.width - 2 * told.nose_radius
    return FormEdge(told.nose_radius, UPRIGHT, spread, underside=Underside.of(told.outline))
