"""Power feed in words: how many passes can run under it, and how it is tried before the first of them."""

from ovolo.plan.model import Plan
from ovolo.predict.loads.power_feed import FEED, LEAST, RPM, feed_offs
from ovolo.units import Unit, format_figure, format_length

__all__ = ["hand_text", "how_many", "power_feed"]


def how_many(plan: Plan) -> str:
    """How many cuts can run under power feed; nothing where the lathe has none."""
    cuts, many = sum(move.cuts for move in plan.moves), len(feed_offs(plan))
    if not plan.job.shop.lathe.power_feed or not cuts:
        return ""
    if not many:
        return "No cut is long enough for power feed."
    return f"{many} of the {cuts} cuts can run under power feed: where to knock it off is given at each."


def power_feed(plan: Plan) -> tuple[str, ...]:
    """What has to be known and tried ahead of the first pass under power feed; nothing where there is none."""
    if not feed_offs(plan):
        return ()
    unit = plan.job.units
    feed = format_figure(FEED, unit, 1 if unit == "mm" else 3)
    speed = "the spindle speed given here" if plan.job.part.material else f"{RPM:.0f} rev/min"
    return (
        f"{how_many(plan)} Wind the rest of it by hand, and every other cut.",
        f"{hand_text(LEAST[unit], unit)} or more is left for the hand. It allows for the slide running on by a second "
        f"and one turn, at {feed} {unit} a turn and {speed}. Feed no coarser, turn no faster.",
        "Try it clear of the work first: knock it off at a figure. If the slide overruns by more than what is left for "
        "the hand, wind by hand. The manual of your lathe comes before this.",
    )


def hand_text(mm: float, unit: Unit) -> str:
    """What is left to be wound by hand, with its unit: rounded, for the figure to stop at says it exactly.

    >>> hand_text(1.055, "mm"), hand_text(1.016, "in")
    ('1.1 mm', '0.04 in')
    """
    return format_length(mm, unit, 1 if unit == "mm" else 2)
