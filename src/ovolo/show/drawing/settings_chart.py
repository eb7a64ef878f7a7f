"""A chart of what more or fewer settings would leave."""

from ovolo.plan.model import Plan
from ovolo.plan.stations.choose_tools import fewest_for
from ovolo.plan.stations.search import each_number_once
from ovolo.show.paper.chart import ChartView, Curve, Mark
from ovolo.units import format_figure, from_mm

__all__ = ["settings_chart"]

SPREAD = 6.0
"""From a ridge so many times higher than the one asked for to one so many times lower."""

POINTS = 17


def settings_chart(plan: Plan) -> ChartView:
    """For ridges around the one asked for: the fewest settings that leave no more, on the readout's own grid."""
    frame, unit = plan.frame, plan.job.units
    asked = plan.job.part.ridge
    ridges = [asked * SPREAD ** (2 * k / (POINTS - 1) - 1) for k in range(POINTS)]

    def at(ridge: float) -> tuple[int, float] | None:
        count = fewest_for(frame, plan.tools, ridge)
        return None if count is None else (count, ridge)

    best = each_number_once(ridges, at)
    best[plan.stations] = plan.prediction.ridge_max
    if plan.proof.leaves is not None and plan.proof.fewer > 0:
        best[plan.proof.fewer] = plan.proof.leaves
    points = tuple((float(n), from_mm(best[n], unit)) for n in sorted(best))
    highest = format_figure(plan.prediction.ridge_max, unit, 3 if unit == "mm" else 4)
    return ChartView(
        title="Settings and what they leave",
        x_name="settings",
        y_name=f"left, {unit}",
        curves=(Curve(points), Curve(points, "dots")),
        mark=Mark(
            (float(plan.stations), from_mm(plan.prediction.ridge_max, unit)),
            f"{plan.stations} settings leave {highest}",
        ),
        x_from=points[0][0] - 1.0,
    )
