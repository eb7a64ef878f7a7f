"""Previews: where the settings would be for another ridge or another number of them, without moves and sweep.

They rest on the same choice as the plan; only what the sweep adds is missing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from ovolo.errors import CannotPlan, Fault
from ovolo.geometry.segments import Point
from ovolo.plan.job import Job
from ovolo.plan.move import Proof
from ovolo.plan.stations.choose_tools import WIDEST_GAP, Assignment, Reach, Stretch, allocate, equalised, reaches_of
from ovolo.plan.stations.search import least_ridge
from ovolo.plan.stations.stations import Chooser, Pass, grid_settings
from ovolo.plan.view.frame import Frame

__all__ = ["Preview", "preview", "trade"]

#: No curve is drawn for more settings than this, nor for fewer.
MOST_SETTINGS, FEWEST_SHOWN = 400, 3
#: The curve is drawn up to so many times the settings of the plan, at so many places.
TIMES, MOST_SHOWN = 2.5, 20
#: Ridges under this are not looked for, mm.
FINEST = 1e-4
#: How closely a ridge is found while a slider moves, as a share of it.
DRAGGED = 2e-3
#: How closely a point of the curve is found, as a share of its height: less than its line is wide.
CLOSE_ENOUGH = 6e-3
#: Ridges up to so many times the job's own are looked at with care.
HIGHER = 8.0
#: No ridge higher than this share of the nose is looked for.
OF_NOSE = 0.5
#: So many jobs are remembered: a slider asks for the same one again and again.
REMEMBERED = 8

_FIXED = Fault(
    "finish.by",
    None,
    "",
    "the settings stand a constant amount apart, so their number follows from that",
    "Change the amount, or leave finish.by out",
)


class Preview(NamedTuple):
    """The ridge that settings leave, mm, and where each of them touches the outline, (z, r), from the free end."""

    ridge: float
    feet: tuple[Point, ...]

    @property
    def stations(self) -> int:
        """How many settings that is."""
        return len(self.feet)


@dataclass(frozen=True)
class _Known:
    """What does not change while a ridge is dragged: the frame, the places of the job's own settings, the ridge they
    leave, the tools over their stretches, how high a ridge the smallest of their noses can leave at all, mm, and the
    middles of the cones that the top slide goes along, one setting each."""

    frame: Frame
    own: tuple[float, ...]
    ridge: float
    choosers: tuple[Chooser, ...]
    highest: float
    cones: tuple[float, ...] = ()

    def count(self, ridge: float) -> int | None:
        """How many settings a ridge takes."""
        found = [chooser.cover(ridge) for chooser in self.choosers]
        counts = [len(picked) for _, picked in (f for f in found if f is not None)]
        return len(self.cones) + sum(counts) if len(counts) == len(found) else None

    def least(self, stations: int, near: float, close: float) -> float:
        """The least ridge that so many settings leave, or the nearest number of them that can be, mm."""
        found = least_ridge(self.count, stations, near=near, finest=FINEST, coarsest=self.highest, close=close)
        return self.highest if found is None else found


@lru_cache(maxsize=REMEMBERED)
def _known(job: Job) -> _Known:
    """The tools and stretches for the job's own ridge."""
    frame = Frame(job)
    shared = allocate(frame, reaches_of(frame, job.shop.tools, job.part.ridge), job.part.ridge)
    if shared is None:
        says = "no tool of the drawer reaches the whole curve"
        raise CannotPlan([Fault("tool", [t.name for t in job.shop.tools], "", says, "Add a tool that does")])
    shares = shared[1]
    assignment = equalised(frame, shares, job.part.ridge, Proof(0, None))  # no proof is asked of a preview
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
) -> Preview | None:
    """The settings for a ridge (mm; the job's own if left out), or for a number of them; None where it can't be.

    near: about the ridge that this number leaves, where it is known; it is found sooner from there.
    """
    known = _known(job)
    if stations is None and ridge is None:
        return _shown(known, known.own, known.ridge)
    if job.shop.by is not None:
        raise CannotPlan([_FIXED])
    if stations is None:
        return _for_ridge(known, ridge or job.part.ridge)
    return _counted(known, known.least(stations, near or job.part.ridge, DRAGGED))


def _for_ridge(known: _Known, ridge: float) -> Preview | None:
    """The settings as a plan would spread them."""
    choices = [chooser.choose(ridge) for chooser in known.choosers]
    found = [choice for choice in choices if choice is not None]
    if len(found) < len(choices):
        return None
    feet = [p.foot for choice in found for p in choice.passes]
    return _shown(known, [*feet, *known.cones], max((choice.ridge for choice in found), default=known.ridge))


def _counted(known: _Known, ridge: float) -> Preview | None:
    """The settings as they are counted, not yet spread evenly: while a slider moves, that says enough."""
    covers = [(chooser, chooser.cover(ridge)) for chooser in known.choosers]
    if any(found is None for _, found in covers):
        return None
    feet = [float(c.settings.u[i]) for c, found in covers if found for i in found[1]]
    return _shown(known, [*feet, *known.cones], ridge)


def _shown(known: _Known, feet: Sequence[float], ridge: float) -> Preview:
    x, y = known.frame.chain.points(np.array(feet))
    return Preview(ridge, tuple(known.frame.place(float(a), float(b)) for a, b in zip(x, y, strict=True)))


@lru_cache(maxsize=REMEMBERED)
def trade(job: Job) -> tuple[tuple[int, float], ...]:
    """Numbers of settings around the job's own, each with the ridge that it leaves, mm; from few settings to many; none
    where their number is not free."""
    known, ridge = _known(job), job.part.ridge
    if job.shop.by is not None:
        return ()
    own = known.count(ridge) or 1
    first, height = _fewest(known, ridge, own)
    last = min(MOST_SETTINGS, max(int(own * TIMES), own + 8))
    points: dict[int, float] = {}
    before = first
    for n in _spread(first, last, own):
        height = known.least(n, height * (before / n) ** 2, CLOSE_ENOUGH)
        before, count = n, known.count(height)
        if count is not None and height < points.get(count, math.inf):
            points[count] = height
    return tuple(sorted(points.items()))


def _fewest(known: _Known, ridge: float, own: int) -> tuple[int, float]:
    """The fewest settings that the curve is drawn for, and about the ridge that they leave, mm."""
    found = own, ridge
    height = ridge * 1.4
    while found[0] > FEWEST_SHOWN and height < known.highest:
        count = known.count(height)
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
