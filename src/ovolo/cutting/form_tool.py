"""How wide a form tool the lathe stands: the whole edge cuts at once, and something gives in.

Lengths in mm, force in N, power in W, cutting speed in m/min.
"""

from typing import NamedTuple

from ovolo.cutting.force import MOST_SLENDER, THRUST_SHARE, widest_chip
from ovolo.cutting.limits import above, at_least, within_limits
from ovolo.cutting.materials import Force

__all__ = ["FormTool", "Stands", "widest_form_tool"]


class Stands(NamedTuple):
    """What lathe and work stand.

    power:      at the edge, what the motor has less what the drive takes [W].
    compliance: how far the work gives way for one newton there [mm/N], from the bending formulas.
    bends:      how far it may give way [mm].
    """

    power: float
    compliance: float
    bends: float


class FormTool(NamedTuple):
    """Widest edge [mm], and what sets the limit: "power", "bending" or "chatter"."""

    width: float
    limit: str


def widest_form_tool(feed: float, speed: float, force: Force, stands: Stands, share: float = THRUST_SHARE) -> FormTool:
    """Widest edge, measured along its curve, that may cut at once when it is fed straight in [mm].

    feed:  mm a turn, the thickness of the chip where the edge is square to the feed, and the most anywhere.
    speed: cutting speed [m/min]. force: Kienzle's constants. share: thrust over cutting force [-].
    Power and bending each allow a force, and so a width; chatter allows a slenderness (our estimate, no source).
    Limits: those of `cutting_force`; where the edge lies aslant the chip is thinner and the force a little less.
    Source: derived from Kienzle's law.

    >>> from ovolo.cutting.materials import material
    >>> tool = widest_form_tool(0.05, 15, material("mild steel").force, Stands(400, 4e-5, 0.02))
    >>> round(tool.width, 2), tool.limit
    (5.0, 'chatter')
    """
    within_limits(
        above("feed", feed, 0),
        above("cutting speed", speed, 0),
        at_least("power", stands.power, 0),
        above("compliance", stands.compliance, 0),
        at_least("bending allowed", stands.bends, 0),
        above("thrust share", share, 0),
    )
    widths = {
        "power": widest_chip(60 * stands.power / speed, feed, force.k11, force.m),
        "bending": widest_chip(stands.bends / (stands.compliance * share), feed, force.k11, force.m),
        "chatter": MOST_SLENDER * feed,
    }
    limit = min(widths, key=lambda name: widths[name])
    return FormTool(widths[limit], limit)
