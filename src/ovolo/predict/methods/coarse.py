"""Coarse work: few settings leave steps that are filed away, and a gauge shows when to stop.

The valleys between the steps are on the outline: filed until they just vanish, the form is as true as they are and as
the gauge shows. Lengths in mm, times in minutes. The constants are our estimates or common practice without a source.
"""

from typing import NamedTuple

from ovolo.cutting.pace import WorkCounts
from ovolo.errors import CannotPlan, Fault
from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.predict.forecast.tradeoff import COARSEST, Tradeoff, TradeoffPoint, tradeoff
from ovolo.predict.methods.special_ways import BY_LIGHT, may_be_filed
from ovolo.predict.methods.ways import Ground, Method, Said, cannot, spread

__all__ = ["Coarse", "coarse", "coarse_way"]

TRIALS = 2
"""How often the work is stopped to try the gauge, midway and at the end (our estimate)."""

PLACES = 3
"""This many of the highest steps are named."""

NAME = "coarse steps, filed to a gauge"


class Coarse(NamedTuple):
    """The coarse plan of a job, and where its steps are highest, the highest first, (z, r): there the gauge is tried
    first."""

    plan: Plan
    tries: tuple[Point, ...]


def coarse(plan: Plan) -> Coarse:
    """The plan with the settings that take the least time in all, steps filed away, up to `COARSEST` high.

    Raises CannotPlan where no file belongs: in a bore, under a lip, in a hollow too tight for one.
    """
    why = may_be_filed(plan)
    if why is not None:
        says = why.text.format(*(f"{mm:g} mm" for mm in why.lengths))
        raise CannotPlan([Fault("--coarse", None, "a curve that can be filed", says, "Plan it without --coarse")])
    best = _best(tradeoff(plan))
    made = plan if best is None else make_plan(plan.job, ridge=max(best.ridge, plan.job.part.ridge) + 1e-6)
    highest = sorted(made.prediction.ridges, key=lambda ridge: -ridge[1])
    return Coarse(made, tuple(foot for foot, _ in highest[:PLACES]))


def coarse_way(ground: Ground) -> Method:
    """The same as a method among the others, by the trade-off of the plan."""
    owned = ("a readout or dials", "files with handles", "a gauge of the curve")
    why = may_be_filed(ground.plan)
    best = None if why is not None else _best(tradeoff(ground.plan, ground.pace))
    if best is None:
        return cannot(NAME, why or Said("no tool of the drawer does the curve alone"), owned)
    minutes = best.minutes + ground.minutes(WorkCounts(measurings=TRIALS))
    scattered = spread(best.stations, ground.scatter)
    return Method(
        NAME,
        True,
        Said(f"{best.stations} settings, steps of at most {{}} to file", (best.ridge,)),
        owned,
        (
            Said("a file on turning work: handle on, left-handed, no sleeves, no rag"),
            Said("filed past the valleys it is too small"),
        ),
        alone=BY_LIGHT,
        error=BY_LIGHT + scattered / 2,
        gouge=scattered / 2,
        settings=best.stations,
        first=minutes,
        each=minutes,
        shape=tuple(ground.plan.job.part.outline.flattened(0.001)),
    )


def _best(found: Tradeoff) -> TradeoffPoint | None:
    """The point that takes the least time of all that leave steps no higher than a file does in reasonable time."""
    points = [point for point in found.points if point.ridge <= max(COARSEST, found.asked) + 1e-9]
    return min(points, key=lambda point: (point.minutes, point.stations), default=None)
