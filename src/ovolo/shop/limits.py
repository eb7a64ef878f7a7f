"""How wide and how thick a cut may be: what binds which tool, on which slide, in roughing and in finishing.

The bite of a move is the widest that its edge takes at once, across its feed. A pass along the axis is bound by the
bite; a tool that enters with its whole width, and a finishing cut, by the plunge; a grooving blade by its own width
inward and, since a load from the side breaks it, by its corner sideways.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from ovolo.shop.shop import Shop
from ovolo.shop.slides import SlideName
from ovolo.shop.tools import Tool

Binds = Literal["bite", "nose", "plunge", "width of the blade", "corner of the blade"]


class Limit(NamedTuple):
    """The widest cut of a move [mm], and what binds it."""

    widest: float
    by: Binds


def limit_of(shop: Shop, tool: Tool, slide: SlideName, *, rough: bool) -> Limit:
    """How wide a move of a tool may cut.

    `rough` is whether it belongs to roughing. A top slide counts as the saddle. Common practice, no source.

    >>> from ovolo.shop.shop import Stock
    >>> from ovolo.shop.slides import Slide
    >>> cross, saddle = Slide("cross", "diameter", "out", 0.01), Slide("saddle", "radius", "away", 0.01)
    >>> shop = Shop(Stock(10), (), cross, saddle, bite=1.0, plunge=3.0)
    >>> limit_of(shop, Tool("knife", "pointed", 0.8), "cross", rough=False)
    Limit(widest=1.6, by='nose')
    >>> limit_of(shop, Tool("blade", "grooving", 0.2, width=3.0), "saddle", rough=True)
    Limit(widest=0.2, by='corner of the blade')
    >>> limit_of(shop, Tool("round nose 6", "round", 3.0), "cross", rough=True)
    Limit(widest=3.0, by='plunge')
    """
    plunge, inward = shop.plunge_of(tool), slide == "cross"
    if tool.kind == "grooving":
        return Limit(plunge, "width of the blade") if inward else Limit(tool.nose_radius, "corner of the blade")
    if tool.kind == "pointed":
        wide = shop.bite if rough else min(2 * tool.nose_radius, plunge)
        return Limit(shop.bite, "bite") if wide <= shop.bite else Limit(wide, "nose")
    return Limit(shop.bite, "bite") if rough and not inward else Limit(plunge, "plunge")


def thickest(shop: Shop, tool: Tool, slide: SlideName) -> float:
    """How thick a finishing chip may be anywhere [mm]: the bite, of a plunge as much as that may be wide."""
    if tool.kind == "pointed" or slide != "cross":
        return shop.bite
    return limit_of(shop, tool, slide, rough=False).widest
