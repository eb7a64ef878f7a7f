"""A job: what is to be made and with what."""

from __future__ import annotations

from dataclasses import dataclass, field

from ovolo.errors import Fault
from ovolo.part.part import Part
from ovolo.shop.shop import Shop
from ovolo.units import Unit


@dataclass(frozen=True)
class Job:
    """What is to be made and with what.

    `sure` names the odd figures that are meant so; `doubts` are questions about figures that are odd, but do no harm.
    """

    title: str
    part: Part
    shop: Shop
    sure: tuple[str, ...] = ()
    doubts: tuple[Fault, ...] = field(default=(), compare=False)

    @property
    def units(self) -> Unit:
        """The unit that its figures are in."""
        return self.shop.units

    @property
    def measure(self) -> tuple[float, Unit]:
        """That unit as a length, mm, and by its name."""
        return self.shop.unit, self.shop.units
