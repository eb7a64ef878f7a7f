"""Whether the machine has room for a plan: nothing runs into the chuck, every slide can go as far as it is asked."""

from __future__ import annotations

from collections.abc import Sequence

from ovolo.errors import Fault
from ovolo.plan.frame import Frame
from ovolo.plan.model import Move
from ovolo.plan.top_slide import top_faults


def chuck_faults(frame: Frame, moves: Sequence[Move]) -> list[Fault]:
    """Moves that would run a tool into the chuck, and slides that can't go so far."""
    shop, unit = frame.job.shop, frame.job.shop.unit
    name = "mm" if unit == 1.0 else "in"
    faults = []
    radii = {t.name: t.nose_radius for t in shop.tools}
    nearest = min(moves, key=lambda m: m.end.x - radii[m.tool])
    reach = -(nearest.end.x - radii[nearest.tool])
    if shop.stock.stick_out is not None and reach > shop.stock.stick_out:
        faults.append(
            Fault(
                "stock.stick_out",
                round(shop.stock.stick_out / unit, 4),
                f"more than {reach / unit:.4g} {name}",
                f"move {nearest.n} would run {nearest.tool} into the chuck jaws",
                f"Let the bar stand out further than {reach / unit:.4g} {name}, or end the outline sooner",
            )
        )
    for slide in (shop.cross, shop.saddle):
        ends = [m.end.x if slide.name == "saddle" else m.end.y for m in moves if m.slide != "top"]
        used = max(ends, default=0.0) - min(ends, default=0.0)
        if slide.travel is not None and used > slide.travel:
            faults.append(
                Fault(
                    f"slide.{slide.name}.travel",
                    round(slide.travel / unit, 4),
                    f"at least {used / unit:.4g} {name}",
                    f"the plan needs {used / unit:.4g} {name} of its travel",
                    "Shorten what is turned in one setting, or give the travel as it is",
                )
            )
    return [*faults, *top_faults(frame, moves)]
