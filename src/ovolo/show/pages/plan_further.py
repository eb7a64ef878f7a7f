"""What the page Plan adds once the plan stands: the usual way beside it, the time, what to expect, the part to turn."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from ovolo.plan.model import Plan
from ovolo.predict.forecast.equal_steps import steps_leave
from ovolo.predict.forecast.outlook import forecast
from ovolo.show.pages.turned import turned
from ovolo.show.pages.words import number_word
from ovolo.show.words.outlook import outlook_view
from ovolo.units import format_figure

__all__ = ["plan_further"]

RUNS = 500
"""Drawn runs for the scatter: enough to name its size, few enough to wait for."""


def plan_further(plan: Plan) -> dict[str, Any]:
    """All of it, ready for JSON; what is to be read is text."""
    expected = forecast(plan, runs=RUNS)
    minutes = sum(expected.times) / 60
    return {
        "sharp": sharp_sentence(plan),
        "minutes": f"{minutes:.0f}",
        "expected": asdict(outlook_view(plan, expected)),
        "turned": turned(plan),
    }


def sharp_sentence(plan: Plan) -> str:
    """What as many equal steps would leave that are set as if the tool ended in a point; empty where none."""
    unit = plan.job.units
    left = steps_leave(plan.frame, plan.stations) if plan.stations > 1 else None
    if left is None or left <= plan.prediction.ridge_max:
        return ""
    figure = format_figure(left, unit, 2 if unit == "mm" else 3)
    return f" {number_word(plan.stations).capitalize()} equal steps calculated for a sharp tool would leave {figure}."
