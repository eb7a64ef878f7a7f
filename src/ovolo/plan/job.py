"""A job: what is to be made and with what."""

from __future__ import annotations

from dataclasses import dataclass

from ovolo.part.part import Part
from ovolo.shop.shop import Shop


@dataclass(frozen=True)
class Job:
    """What is to be made and with what; `sure` names the odd figures that are meant so."""

    title: str
    part: Part
    shop: Shop
    sure: tuple[str, ...] = ()
