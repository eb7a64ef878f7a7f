"""How a top slide that is set over has to stand, and how to get it there. Shop rules without a source: common practice.

An indicator that rides with the slide, square to the axis, tells the sine of the angle for each mm of the slide's own
way; over a length along the axis the work tells the tangent.
"""

import math
from collections.abc import Iterator

from ovolo.plan.model import Plan
from ovolo.show.words.figures import decimals, length_text
from ovolo.units import DEGREE, format_figure

__all__ = ["how_to_set_over"]


def how_to_set_over(plan: Plan) -> Iterator[str]:
    """What to do, step by step; nothing where no top slide is set over."""
    over, unit = plan.job.shop.set_over, plan.job.units
    if over is None:
        return
    length = max((move.travel for move in plan.moves if move.slide == "top"), default=0.0)
    out = "out, away from the axis" if over.angle > 0 else "in, toward the axis"
    yield (
        f"It is set over by {abs(over.angle) / DEGREE:.4g}° from the axis: wound toward the chuck it carries the tool "
        f"{out}. The degrees on its base are good for a beginning only."
    )
    across = length_text(length * abs(math.sin(over.angle)), unit)
    yield (
        "Spindle stopped, an indicator on the top slide, its plunger square to the axis at centre height against a bar "
        f"that runs true: wound {length_text(length, unit)} by its own figure it must show {across} (the sine of the "
        "angle). Or clamp a piece of the same taper, wind along it, and the indicator must stand still."
    )
    yield (
        "Nip its bolts evenly and try again: it moves as they are tightened. Snug up its gib; don't let it hang far "
        "over its base; wind it by hand from end to end of the pass, and see that handle and slide clear tailstock and "
        "chuck."
    )
    sign = "grows away from" if over.slide.factor > 0 else "grows toward"
    count = format_figure(over.slide.count, unit, decimals(over.slide))
    yield f"Its figure counts along its own way, {sign} the chuck, and can be set to {count}; 0 is where a pass begins."
    near = _callipers(length)
    yield (
        f"After the pass measure two diameters of the taper: over {length_text(near, unit)} along the axis they differ "
        f"by {length_text(2 * over.over(near), unit)} (twice the tangent). If they differ by more, the angle is too "
        "large. If both are off by the same, the angle is right: move the cross slide by half the error, and go along "
        "once more."
    )


def _callipers(length: float) -> float:
    """A length that is easily measured and lies on the cone: a whole number of 5 mm, half of the pass or less."""
    return max(5.0 * math.floor(length / 10.0), 1.0)
