"""A job: what is to be made and with what."""

from __future__ import annotations

from dataclasses import dataclass

from ovolo.part.part import Part
from ovolo.shop.shop import Shop
from ovolo.units import Unit


@dataclass(frozen=True)
class Job:
    """What is to be made and with what; `sure` names the odd figures that are meant so."""

    title: str
    part: Part
    shop: Shop
    sure: tuple[str, ...] = ()

    @property
    def units(self) -> Unit:
        """The unit that its figures are in."""
        return self.shop.units

    @property
    def measure(self) -> tuple[float, Unit]:
        """That unit as a length, mm, and by its name."""
        return self.shop.unit, self.shop.units
