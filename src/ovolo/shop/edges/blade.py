"""A grooving blade: a corner on either side of a straight bottom. It plunges; a load from the side breaks it."""

from __future__ import annotations

from dataclasses import dataclass

from ovolo.shop.edges.edge import Limit, Told
from ovolo.shop.edges.nosed import UPRIGHT, Nosed


@dataclass(frozen=True)
class Blade(Nosed):
    """A blade by the radius of its corners and how far apart their centres are; its nose centre is that of the corner
    toward the chuck."""

    def plunge(self, own: float | None, usual: float) -> float:
        """Never more than its width [mm]."""
        return min(own or self.whole_width, self.whole_width)

    @property
    def only_plunges(self) -> bool:
        """A load from the side breaks it."""
        return True

    def limit(self, bite: float, plunge: float, *, inward: bool, rough: bool) -> Limit:
        """Its own width inward, its corner sideways [mm]."""
        return Limit(plunge, "width of the blade") if inward else Limit(self.radius, "corner of the blade")


def of(told: Told) -> Blade:
    """The edge of a grooving blade."""
    width = 0.0 if told.width is None else told.width - 2 * told.nose_radius
    return Blade(told.nose_radius, UPRIGHT, width)
