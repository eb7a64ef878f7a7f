"""Why no moves could be laid down, or why those laid down are not shown: which rule they break, and what would do."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ovolo.errors import Fault
from ovolo.plan.sweep.sweep import NOTHING, limits_of
from ovolo.plan.toolpath.plan_moves import GOUGE, Draft, face_stands, over_the_bite
from ovolo.plan.view.frame import Frame
from ovolo.shop.limits import limit_of

_ROUNDED = 100
"""Limits that would do are rounded up to so many parts of a unit."""


def broken_faults(frame: Frame, draft: Draft) -> list[Fault]:
    """The rules that the best draft breaks, or that there is nothing to cut; none where it breaks none."""
    if all(took.area <= NOTHING for took in draft.swept.moves):
        return [_nothing_fault(frame)]
    if draft.swept.gouge > GOUGE:
        return [_gouge_fault(frame, draft.swept.gouge)]
    faults = [_fouls(frame, name) for name in _fouling(draft)]
    if face_stands(frame, draft.swept):
        faults.append(_face_fault(frame))
    over = over_the_bite(frame, draft.steps, draft.swept)
    return [*faults, _bite_fault(frame, draft, over)] if over and not faults else faults


def _nothing_fault(frame: Frame) -> Fault:
    """No move takes anything."""
    shaped, bore = frame.job.shop.stock.outline is not None, frame.sign < 0
    return Fault(
        "stock.outline" if shaped else "stock.hole" if bore else "stock.diameter",
        None,
        "metal to spare over the curve",
        "there is nothing to cut: the stock is at the finished outline already, all along the curve",
        "Give the stock as it is before turning, or ask for a curve where metal has to go",
    )


def _fouling(draft: Draft) -> list[str]:
    """The tools of which a part that does not cut enters metal."""
    pairs = zip(draft.steps, draft.swept.moves, strict=True)
    return list(dict.fromkeys(step.tool.name for step, took in pairs if took.fouls))


def ridge_fault(frame: Frame, left: float) -> Fault:
    """More is left than the settings promised."""
    unit, name = frame.job.measure
    return Fault(
        "finish.ridge",
        round(frame.job.part.ridge / unit, 6),
        f"at least {left / unit:.4g} {name}",
        "the sweep of the moves leaves more than the settings promised; this is a fault of the planner",
        "Ask for that ridge, and please report this job",
    )


def _gouge_fault(frame: Frame, depth: float) -> Fault:
    unit, name = frame.job.measure
    says = "the sweep of the moves cuts into the finished part; this is a fault of the planner"
    return Fault("", round(depth / unit, 6), f"at most {GOUGE / unit:.4g} {name}", says, "Please report this job")


def _bite_fault(frame: Frame, draft: Draft, over: Sequence[int]) -> Fault:
    """Cuts that no way was found to keep within their limits; with the limit that would do for these moves, where one
    limit alone stands in the way."""
    shop, (unit, name) = frame.job.shop, frame.job.measure
    would = "one move would take" if len(over) == 1 else f"{len(over)} moves would take"
    needed = _plunge_needed(frame, draft, over)
    if needed is not None:
        least = math.ceil(needed / unit * _ROUNDED - 1e-6) / _ROUNDED
        says = f"no way was found to keep plunges and finishing cuts within this: {would} more"
        remedy = "Allow that where tool and work are stiff enough, leave a smaller allowance, or take a smaller nose"
        return Fault("limits.plunge", round(shop.plunge / unit, 5), f"at least {least:.6g} {name}", says, remedy)
    says = f"no way was found to rough this part within the bite: {would} too much"
    remedy = "Allow a larger bite, or add to the drawer a tool with a smaller nose to rough with"
    return Fault("limits.bite", round(shop.bite / unit, 5), "more", says, remedy)


def _plunge_needed(frame: Frame, draft: Draft, over: Sequence[int]) -> float | None:
    """The plunge that would do for these moves, mm; None where something else is too much too."""
    if any(draft.swept.moves[n].thick for n in over):
        return None
    widest, needed = limits_of(frame.job.shop, draft.steps).widest, []
    for n in over:
        step, took = draft.steps[n], draft.swept.moves[n]
        if took.bite <= widest[n] or limit_of(frame.job.shop, step.tool, step.slide, rough=False).by != "plunge":
            return None
        needed.append(took.bite)
    return (max(needed) - 0.01) / 1.02


def _face_fault(frame: Frame) -> Fault:
    unit, name = frame.job.measure
    low, high = (2 * abs(y) / unit for y in sorted(frame.face_span, key=abs))
    says = (
        f"metal would be left standing on the end face, from Ø {low:.4g} to Ø {high:.4g} {name}, where it lies over "
        "the curve: no tool that is used here gets to the face"
    )
    names = ", ".join(t.name for t in frame.job.shop.tools)
    remedy = "Add to the drawer a tool that faces the end, such as a round nose or a right-hand knife"
    return Fault("tool", names, "a tool that faces the end of the bore", says, remedy)


def _fouls(frame: Frame, name: str) -> Fault:
    tool = next(t for t in frame.job.shop.tools if t.name == name)
    unit, _ = frame.job.measure
    part, field = ("shank", "stem") if tool.stands_out is None else ("bar", "stands_out")
    given = tool.stem if tool.stands_out is None else tool.stands_out
    return Fault(
        f"tool {name}",
        None if given is None else round(given / unit, 5),
        "more",
        f"the {part} of {name} would run into metal",
        f"Let its nose project farther from the {part} ({field}), or add another tool",
    )
