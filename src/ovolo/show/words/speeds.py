"""Spindle speed and feed of each tool and stage, in sentences."""

from ovolo.errors import JobFaults
from ovolo.plan.model import Plan
from ovolo.predict.loads.engaged import engaged
from ovolo.predict.loads.spindle import Turning, turnings
from ovolo.show.words.figures import plain_size, speed_text
from ovolo.units import Unit, format_figure

__all__ = ["speeds", "speeds_in_short"]

_STAGES = {"rough": "Roughing", "finish": "Finishing"}


def speeds(plan: Plan) -> tuple[str, ...]:
    """What to run the spindle at; nothing for a material that no table knows."""
    try:
        found = turnings(plan, engaged(plan))
    except JobFaults:
        return ()
    if not found:
        return ()
    return (
        *(_said(turning, plan.job.units) for turning in found),
        "Never faster than chuck and lathe are marked for; slower where it chatters. A maker's own figures come first.",
    )


def _said(turning: Turning, unit: Unit) -> str:
    feed = format_figure(turning.feed, unit, 2 if unit == "mm" else 3)
    return (
        f"{_STAGES[turning.stage]} with {turning.tool}: {turning.rpm:.0f} rev/min, "
        f"{speed_text(turning.speed, unit)} at Ø {plain_size(round(turning.diameter, 2), unit)} {unit}; "
        f"feed about {feed} {unit} a turn."
    )


def speeds_in_short(plan: Plan) -> tuple[str, ...]:
    """The same in a line for each tool; nothing for a material that no table knows."""
    try:
        found = turnings(plan, engaged(plan))
    except JobFaults:
        return ()
    unit = plan.job.units
    runs: dict[str, list[str]] = {}
    for turning in found:
        feed = format_figure(turning.feed, unit, 2 if unit == "mm" else 3)
        said = f"{turning.stage} {turning.rpm:.0f} rev/min, {feed} {unit}"
        runs.setdefault(turning.tool, []).append(said)
    return tuple(f"{tool}: {'; '.join(each)}." for tool, each in runs.items())
