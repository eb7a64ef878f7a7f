"""Spindle speed and feed for each tool and stage of a plan, from the lathe's own list where the job gives one.

Speeds in rev/min, feed in mm a turn of the work. A maker's own sheet for bar and tool comes first.
"""

import math
from collections.abc import Sequence
from itertools import groupby
from typing import NamedTuple

from ovolo.cutting.force import SpindleChoice, choose_spindle, cutting_speed, wanted_speed
from ovolo.cutting.materials import Material, material, speeds_for
from ovolo.plan.model import Move, Plan, Stage
from ovolo.predict.loads.engaged import Engaged
from ovolo.shop.lathe import Lathe
from ovolo.shop.limits import cuts_inward_only
from ovolo.shop.slides import Slide

__all__ = [
    "FEEDS",
    "MOST_RPM",
    "Turning",
    "feed_of",
    "hand_turns",
    "material_of",
    "turning_for",
    "turning_of",
    "turnings",
]

FEEDS: dict[Stage, float] = {"rough": 0.1, "finish": 0.05}
"""Feed aimed at [mm a turn], wound by hand (common practice, no source)."""

BLADE_SPEED, BLADE_FEED = 0.5, 0.04
"""A grooving blade turns at half the speed of other tools and is fed in by this, between 0.03 and 0.05 [mm a turn]: its
chip has to get out of the slot (common practice, no source)."""

MOST_RPM = 2000.0
"""No faster speed is named for a lathe whose speeds aren't listed (our caution, no source) [rev/min]."""

MOST_TURNS = 60.0
"""A handwheel is not wound steadily faster than this under a cut (our estimate, no source) [turns/min]."""


class Turning(NamedTuple):
    """How to run the spindle for the moves of one tool in one stage.

    diameter: the largest cut [mm]. speed: what the spindle gives there [m/min]. feed: mm a turn of the work.
    """

    stage: Stage
    tool: str
    diameter: float
    rpm: float
    speed: float
    feed: float
    why: str


def material_of(plan: Plan) -> Material | None:
    """The row of the plan's material; None where the job names none."""
    return material(plan.job.part.material) if plan.job.part.material else None


def turnings(plan: Plan, cuts: Sequence[Engaged]) -> tuple[Turning, ...]:
    """Speed and feed of every tool and stage that cuts, in the order of the plan; nothing where no material is named.

    Roughing runs at the low end of the published speeds, finishing at the high end. The speed holds for the largest
    diameter that the group cuts: nearer the axis it only gets slower.
    """
    row = material_of(plan)
    if row is None:
        return ()
    diameters = {cut.n: cut.diameter for cut in cuts}
    out: list[Turning] = []
    for (stage, tool), moves in groupby(plan.moves, key=lambda move: (move.stage, move.tool)):
        listed = list(moves)
        sizes = [diameters[move.n] for move in listed if move.n in diameters]
        if sizes and all((stage, tool) != (done.stage, done.tool) for done in out):
            out.append(turning_for(plan, row, stage, tool, max(sizes)))
    return tuple(out)


def turning_for(plan: Plan, row: Material, stage: Stage, tool: str, diameter: float) -> Turning:
    """Speed and feed for a tool of the drawer at a diameter [mm], whether the plan uses it or not."""
    lathe = plan.job.shop.lathe
    published = speeds_for(row, lathe.cutter(tool).material)
    wanted = published.low if stage == "rough" else published.high
    shop = plan.job.shop
    if any(cuts_inward_only(shop, t) for t in shop.tools if t.name == tool):
        chosen = _chosen(lathe, BLADE_SPEED * wanted, diameter)
        why = f"{chosen.why}: half the usual speed, for a blade"
        return Turning(stage, tool, diameter, chosen.rpm, chosen.speed, BLADE_FEED, why)
    chosen = _chosen(lathe, wanted, diameter)
    return Turning(stage, tool, diameter, chosen.rpm, chosen.speed, FEEDS[stage], chosen.why)


def _chosen(lathe: Lathe, wanted: float, diameter: float) -> SpindleChoice:
    """From the list, or where there is none the speed itself, rounded down to two figures."""
    if lathe.speeds:
        return choose_spindle(wanted, diameter, lathe.speeds, lathe.chuck_max_rpm)
    most = min(lathe.chuck_max_rpm or MOST_RPM, MOST_RPM)
    rpm = wanted_speed(wanted, diameter)
    if rpm > most:
        why = f"no faster, as the lathe's speeds are not listed; {rpm:.0f} rev/min would suit the tool"
        return SpindleChoice(most, cutting_speed(most, diameter), why)
    step = 10 ** (math.floor(math.log10(rpm)) - 1)
    down = math.floor(rpm / step) * step
    return SpindleChoice(down, cutting_speed(down, diameter), f"at most {rpm:.0f} rev/min suit the tool")


def feed_of(turning: Turning, slide: Slide) -> float:
    """Feed of a cut [mm a turn]: what is aimed at, or the most that the handwheel can be wound at steadily.

    >>> turning = Turning("rough", "knife", 20.0, 600.0, 37.7, 0.1, "")
    >>> feed_of(turning, Slide("cross", "diameter", "out", 0.01, per_turn=0.5))
    0.05
    """
    if slide.per_turn is None:
        return turning.feed
    return min(turning.feed, MOST_TURNS * slide.per_turn / turning.rpm)


def hand_turns(turning: Turning, slide: Slide) -> float | None:
    """How fast to wind the handwheel [turns/min]; None where the travel of one turn isn't known.

    >>> turning = Turning("rough", "knife", 20.0, 600.0, 37.7, 0.1, "")
    >>> hand_turns(turning, Slide("cross", "diameter", "out", 0.01, per_turn=2.0))
    30.0
    """
    if slide.per_turn is None:
        return None
    return feed_of(turning, slide) * turning.rpm / slide.per_turn


def turning_of(runs: Sequence[Turning], move: Move) -> Turning | None:
    """The speed and feed that a move is made at."""
    return next((run for run in runs if (run.stage, run.tool) == (move.stage, move.tool)), None)
