"""How wide and how thick a cut may be: what binds which tool, on which slide, in roughing and in finishing.

The bite of a move is the widest that its edge takes at once, across its feed. A pass along the axis is bound by the
bite; a tool that enters with its whole width, and a finishing cut, by the plunge; a grooving blade by its own width
inward and, since a load from the side breaks it, by its corner sideways.
"""

from __future__ import annotations

from ovolo.shop.edges.edge import Limit
from ovolo.shop.shop import Shop
from ovolo.shop.slides import SlideName
from ovolo.shop.tools import Tool

__all__ = ["Limit", "cuts_inward_only", "limit_of", "thickest"]


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
    return tool.edge.limit(shop.bite, shop.plunge_of(tool), inward=slide == "cross", rough=rough)


def cuts_inward_only(shop: Shop, tool: Tool) -> bool:
    """Whether a tool is made to be fed in, not along: a grooving blade, which a load from the side breaks."""
    return limit_of(shop, tool, "saddle", rough=True).by == "corner of the blade"


def thickest(shop: Shop, tool: Tool, slide: SlideName) -> float:
    """How thick a finishing chip may be anywhere [mm]: the bite, of a plunge as much as that may be wide."""
    return tool.edge.thickest(shop.bite, shop.plunge_of(tool), inward=slide == "cross")
