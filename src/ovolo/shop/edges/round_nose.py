"""A round nose: a full radius between two flanks square to the axis."""

from __future__ import annotations

from ovolo.shop.edges.edge import Told
from ovolo.shop.edges.nosed import Nosed


def of(told: Told) -> Nosed:
    """The edge of a round nose."""
    return Nosed(told.nose_radius)
