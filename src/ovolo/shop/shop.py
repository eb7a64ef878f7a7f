"""The shop: what there is to make the part with."""

from __future__ import annotations

from dataclasses import dataclass, field

from ovolo.geometry.outline import Outline
from ovolo.shop.lathe import Lathe
from ovolo.shop.slides import EqualSteps, Slide
from ovolo.shop.tools import Tool


@dataclass(frozen=True)
class Stock:
    """The piece in the chuck, mm: a bar of `radius`, with a hole of diameter `hole` (bore work), `proud` of z = 0.

    A piece already shaped has an `outline`, from its free end toward the chuck; `radius` is then that of the bar
    behind.
    """

    radius: float
    hole: float = 0.0
    proud: float = 0.0
    stick_out: float | None = None
    outline: Outline | None = None


@dataclass(frozen=True)
class Shop:
    """Stock, drawer, slides, lathe and the limits that the operator sets; mm.

    `by` is how finishing is to be done where equal steps of one slide will do.
    """

    stock: Stock
    tools: tuple[Tool, ...]
    cross: Slide
    saddle: Slide
    bite: float = 1.0
    allowance: float = 0.2
    unit: float = 1.0
    lathe: Lathe = field(default_factory=Lathe)
    by: EqualSteps | None = None
