"""Coarse work in words: how high its steps are, where the gauge is tried, when filing is done."""

from collections.abc import Iterator

from ovolo.predict.methods.coarse import Coarse
from ovolo.show.words.figures import ridge_text
from ovolo.units import format_figure

__all__ = ["coarse_lines"]


def coarse_lines(found: Coarse) -> Iterator[str]:
    """A sentence each."""
    plan = found.plan
    unit, digits = plan.job.units, 2 if plan.job.units == "mm" else 3
    many = "1 setting leaves a step" if plan.stations == 1 else f"{plan.stations} settings leave steps"
    yield f"{many} of at most {ridge_text(plan.prediction.ridge_max, unit)}, to be filed away."
    if found.tries:
        places = [
            f"z {format_figure(p.x, unit, digits)} (Ø {format_figure(2 * p.y, unit, digits)})" for p in found.tries
        ]
        yield f"Blue the steps and file them evenly. Try the gauge first where they are highest: {', '.join(places)}."
    yield "Stop where the blue in the valleys just vanishes: they are on the outline. Filed further it is too small."
    yield (
        "Spindle slow, guard where it allows, sleeves buttoned; a handle on the file, held left-handed so that no arm "
        "is over the chuck; no rag, no gloves."
    )
