"""Previews: where the settings would stand for another ridge or another number of them, without moves and sweep.

They rest on the same choice as the plan; only what the sweep adds is missing.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np

from ovolo.documents.resolved import job_as_data
from ovolo.errors import CannotPlan, Fault
from ovolo.plan.model import Job, Proof
from ovolo.plan.stations.choose_tools import WIDEST_GAP, Assignment, Reach, Stretch, reaches_of, share_out, spread
from ovolo.plan.stations.stations import Chooser, Pass, grid_settings
from ovolo.plan.view.frame import Frame

__all__ = ["preview", "trade"]

MOST_SETTINGS = 400
FEWEST_SHOWN = 3
TIMES = 2.5
"""The curve is drawn up to so many times the settings of the plan."""

MOST_SHOWN = 20
DRAGGED = 2e-3
"""How closely a ridge is found while a slider moves, as a share of it."""

CLOSE_ENOUGH = 6e-3
"""How closely a point of the curve is found, as a share of its height: less than its line is wide."""

HIGHER = 8.0
"""Ridges up to so many times the job's own are looked at with care."""

OF_NOSE = 0.5
"""No ridge higher than this share of the nose is looked for."""


_FIXED = Fault(
    "finish.by",
    None,
    "",
    "the settings stand a constant amount apart, so their number follows from that",
    "Change the amount, or leave finish.by out",
)


class _Known(NamedTuple):
    """What does not change while a ridge is dragged: the frame, the places of the job's own settings, the ridge they
    leave, the tools over their stretches, how high a ridge the smallest of their noses can leave at all, mm, and the
    middles of the cones that the top slide goes along, one setting each."""

    frame: Frame
    own: tuple[float, ...]
    ridge: float
    choosers: tuple[Chooser, ...]
    highest: float
    cones: tuple[float, ...] = ()


_LAST: dict[str, _Known] = {}


def _known(job: Job) -> _Known:
    """The tools and stretches for the job's own ridge; those of the last few jobs are remembered."""
    data = job_as_data(job)
    key = json.dumps(data, sort_keys=True)
    if key not in _LAST:
        if len(_LAST) > 8:
            _LAST.clear()
        _LAST[key] = _find(job)
    return _LAST[key]


def _find(job: Job) -> _Known:
    frame = Frame(job)
    shared = share_out(frame, reaches_of(frame, job.shop.tools, job.part.ridge), job.part.ridge)
    if shared is None:
        says = "no tool of the drawer reaches the whole curve"
        raise CannotPlan([Fault("tool", [t.name for t in job.shop.tools], "", says, "Add a tool that does")])
    shares = shared[1]
    assignment = spread(frame, shares, job.part.ridge, Proof(0, None))  # no proof is asked of a preview
    choosers = [_chooser(frame, reach, stretch) for reach, stretches in shares for stretch in stretches]
    slants = [item for work in assignment.works for item in work.slants]
    cones = tuple((item.piece.begin + item.piece.end) / 2 for item in slants)
    own = (*(p.foot for p in _passes(assignment)), *cones)
    ridge = max(work.highest for work in assignment.works)
    noses = [reach.tool.nose_radius for reach, _ in shares]
    return _Known(frame, own, ridge, tuple(choosers), OF_NOSE * min(noses, default=1.0), cones)


def _passes(assignment: Assignment) -> list[Pass]:
    """All settings, those in bays too."""
    above = [p for work in assignment.works for p in work.passes]
    return above + [p for work in assignment.works for side in work.sides for p in side.passes]


def _chooser(frame: Frame, reach: Reach, stretch: Stretch) -> Chooser:
    """Chooses among settings for higher ridges than the job's own too."""
    view = reach.side or frame
    over = frame.stretch if reach.side is None else (reach.side.bay.begin, reach.side.bay.end)
    settings = grid_settings(view, reach.tool, over)
    widest = WIDEST_GAP * HIGHER * frame.job.part.ridge
    return Chooser(view, reach.tool, stretch, settings.take(settings.gap <= widest))


def preview(
    job: Job, ridge: float | None = None, stations: int | None = None, near: float | None = None
) -> dict[str, Any]:
    """The settings for a ridge (mm; the job's own if left out), or for a number of them.

    near: about the ridge that this number leaves, where it is known; it is found sooner from there.
    """
    known = _known(job)
    if stations is None and ridge is None:
        return _shown(known, known.own, known.ridge)
    if job.shop.by is not None:
        raise CannotPlan([_FIXED])
    if stations is None:
        choices = [chooser.choose(ridge or job.part.ridge) for chooser in known.choosers]
        if any(choice is None for choice in choices):
            return {"stations": None, "ridge": None, "feet": []}
        feet = [p.foot for choice in choices if choice is not None for p in choice.passes]
        highest = max((choice.ridge for choice in choices if choice is not None), default=known.ridge)
        return _shown(known, [*feet, *known.cones], highest)
    height = _height_for(known, stations, near or job.part.ridge, DRAGGED)
    covers = [(chooser, chooser.cover(height)) for chooser in known.choosers]
    if any(found is None for _, found in covers):
        return {"stations": None, "ridge": None, "feet": []}
    # The settings as they are counted, not yet spread evenly: while a slider moves, that says enough.
    feet = [float(c.settings.u[i]) for c, found in covers if found for i in found[1]]
    return _shown(known, [*feet, *known.cones], height)


def _shown(known: _Known, feet: Sequence[float], ridge: float) -> dict[str, Any]:
    frame = known.frame
    x, y = frame.chain.points(np.array(feet))
    places = [[round(float(a), 4), round(frame.sign * float(b), 4)] for a, b in zip(x, y, strict=True)]
    return {"stations": len(feet), "ridge": ridge, "feet": places}


def _count(known: _Known, ridge: float) -> int | None:
    counts = [chooser.cover(ridge) for chooser in known.choosers]
    found = [c for c in counts if c is not None]
    return len(known.cones) + sum(len(c[1]) for c in found) if len(found) == len(counts) else None


def _height_for(known: _Known, stations: int, start: float, close: float = 3e-4) -> float:
    """The least ridge that so many settings leave, or the nearest number of them that can be, mm, by halving.

    start: where to look first; close: how closely it is found, as a share of it.
    """
    low, high = start / 1.02, start * 1.02
    factor = 1.1
    while low > 1e-4 and _enough(known, low, stations):
        low, high, factor = low / factor, low, factor * factor
    while high < known.highest and not _enough(known, high, stations):
        low, high, factor = high, high * factor, factor * factor
    while high - low > max(close * high, 1e-6):
        middle = (low + high) / 2
        if _enough(known, middle, stations):
            high = middle
        else:
            low = middle
    return high


def _enough(known: _Known, ridge: float, stations: int) -> bool:
    count = _count(known, ridge)
    return count is not None and count <= stations


@lru_cache(maxsize=8)
def _trade(text: str, ridge: float) -> list[list[float]]:
    """Numbers of settings around the job's own, each with the ridge that it leaves; from few settings to many."""
    known = _LAST[text]
    own = _count(known, ridge) or 1
    first, height = _fewest(known, ridge, own)
    last = min(MOST_SETTINGS, max(int(own * TIMES), own + 8))
    points: dict[int, float] = {}
    before = first
    for n in _spread(first, last, own):
        height = _height_for(known, n, height * (before / n) ** 2, CLOSE_ENOUGH)
        before, count = n, _count(known, height)
        if count is not None and height < points.get(count, math.inf):
            points[count] = height
    return [[n, round(points[n], 6)] for n in sorted(points)]


def _fewest(known: _Known, ridge: float, own: int) -> tuple[int, float]:
    """The fewest settings that the curve is drawn for, and about the ridge that they leave, mm."""
    found = own, ridge
    height = ridge * 1.4
    while found[0] > FEWEST_SHOWN and height < known.highest:
        count = _count(known, height)
        if count is None:
            break
        if count < found[0]:
            found = count, height
        height *= 1.4
    return found


def _spread(first: int, last: int, own: int) -> list[int]:
    """Numbers from first to last, about evenly spread by their ratio: where the curve is steep they lie close."""
    ratio = (last / first) ** (1 / (MOST_SHOWN - 1))
    return sorted({own, last, *(round(first * ratio**i) for i in range(MOST_SHOWN))})


def trade(job: Job) -> dict[str, Any]:
    """[settings, ridge in mm] for numbers of settings around the job's own; none where their number is not free."""
    _known(job)
    if job.shop.by is not None:
        return {"points": []}
    return {"points": _trade(json.dumps(job_as_data(job), sort_keys=True), job.part.ridge)}
