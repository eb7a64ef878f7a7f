"""How even the finishing cuts are: the metal that the settings take, as planned and as they would without balancing.

Without balancing each setting stands as far along the curve as the ridge allows, the last one takes what remains, and
all of them are cut in one direction, from the free end onward; roughing is the same. What is counted is all that is
taken from one setting to the next, in one move or two; on the axis half of the cut lies beyond it and counts as well.
Plain passes along cylinders and faces are left out: they take what their length needs. Worked out only where it is
needed: the moves without balancing are another plan, swept on its own.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.stations.choose_tools import Reach, Work
from ovolo.plan.stations.equal_steps import between, rows_in
from ovolo.plan.stations.stations import Pass
from ovolo.plan.steps import STILL, Step, Walk
from ovolo.plan.sweep.sweep import sweep
from ovolo.plan.toolpath.finishing import Finisher
from ovolo.plan.toolpath.moves import CUTS
from ovolo.plan.toolpath.picture import NEAR_AXIS, Run, is_level
from ovolo.plan.toolpath.plain_passes import with_plain
from ovolo.plan.toolpath.taper_passes import is_slant
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool
from ovolo.tolerances import SAME_PLACE


@dataclass(frozen=True)
class Cuts:
    """What the settings of a curve take: the largest and the smallest, mm² of the section."""

    largest: float
    smallest: float

    @property
    def ratio(self) -> float:
        """Largest to smallest [-]; 1 is even.

        >>> Cuts(largest=0.45, smallest=0.15).ratio
        3.0
        """
        return self.largest / self.smallest


@dataclass(frozen=True)
class Balance:
    """The cuts of the settings `before` balancing and `after` it, as planned; the heaviest single moves of finishing
    and of roughing, mm² (0 where nothing is roughed)."""

    before: Cuts
    after: Cuts
    finishing: float
    roughing: float


def balance_of(plan: Plan) -> Balance | None:
    """How even a plan's finishing cuts are; None where no setting cuts but along cylinders and
    faces, and for moves that no planner of ours laid down."""
    if plan.worked is None:
        return None
    frame, assignment, reaches, steps = plan.worked[:4]
    works = [(work, _greedy(frame, work, reaches)) for work in assignment.works]
    unbalanced = _unbalanced(frame, steps, works)
    planned = [(w.tool, p) for w, _ in works for p in with_plain(frame, w.tool, w.passes, w.stretches)]
    after = _cuts(frame, steps, [m.area for m in plan.moves], planned)
    greedy = [(w.tool, p) for w, passes in works for p in passes]
    before = _cuts(frame, unbalanced, [took.area for took in sweep(frame, unbalanced).moves], greedy)
    if before is None or after is None:
        return None

    def heaviest(stage: str) -> float:
        return max((m.area for m in plan.moves if m.stage == stage), default=0.0)

    return Balance(before, after, heaviest("finish"), heaviest("rough"))


def _greedy(frame: Frame, work: Work, reaches: Sequence[Reach]) -> tuple[Pass, ...]:
    """A tool's settings, each as far along as the ridge allows, and its plain passes; equal steps where the job wants
    for them."""
    reach = next(r for r in reaches if r.name == work.tool.name and r.side is None)
    ridge, by = frame.job.part.ridge, frame.job.shop.by
    passes: list[Pass] = []
    for stretch in work.stretches:
        rows = () if by is None else rows_in(frame, reach.tool, reach.settings, stretch, ridge, by)
        for gap in between(frame, rows, stretch):
            chooser = reach.chooser(frame, gap)
            found = chooser.cover(ridge)
            assert found is not None  # it was planned
            passes += chooser.passes(*found)
        passes += (p for row in rows for p in row.chooser.passes(row.covers, row.picked))
    return with_plain(frame, work.tool, sorted(passes, key=lambda p: p.foot), work.stretches)


def _unbalanced(frame: Frame, steps: Sequence[Step], works: Sequence[tuple[Work, tuple[Pass, ...]]]) -> list[Step]:
    """The moves with every tool's settings laid down anew, in one direction; in bays they stay as they are."""
    out: list[Step] = []
    for tool, group in groupby(steps, key=lambda s: s.tool):
        mine = list(group)
        many, passes = next(((len(w.passes), new) for w, new in works if w.tool.name == tool.name), (0, ()))
        settings = [i for i, s in enumerate(mine) if s.station is not None and not is_slant(s.start, s.end)][:many]
        if not settings:
            out += mine
            continue
        begin = max((n for n, leaves in enumerate(_withdrawals(mine)[: settings[0]], 1) if leaves), default=0)
        here, clear_y = mine[begin].start, max(s.end.y for s in mine)
        walk = Walk(tool, here.x, here.y, stage="finish", slide=frame.job.shop.fine.name)
        Finisher(frame, walk, clear_y, 1).follow([Run(passes)])
        out += [*mine[:begin], *walk.steps, *mine[settings[-1] + 1 :]]
    return out


def _withdrawals(steps: Sequence[Step]) -> list[bool]:
    """Which moves of one tool take it out of the work; the way back of a trial does, for it is measured there."""
    clear = max((s.end.y for s in steps), default=0.0) - STILL
    measured = [False, *(s.trial for s in steps)]
    out = (s.slide == "cross" and s.end.y > max(s.start.y, clear) for s in steps)
    return [leaves or tried for leaves, tried in zip(out, measured, strict=False)]


def _cuts(
    frame: Frame, steps: Sequence[Step], areas: Sequence[float], passes: Sequence[tuple[Tool, Pass]]
) -> Cuts | None:
    """What the settings take, each from the one before or from where the tool came into the work."""
    extra = [Point(p.last, p.y) for _, p in passes if not p.station]
    plain = [Point(p.last, p.y) for tool, p in passes if p.station and is_level(frame, tool, p)]
    plain += [step.end for step in steps if is_slant(step.start, step.end)]
    takes = []
    for _, group in groupby(zip(steps, areas, strict=True), key=lambda pair: pair[0].tool):
        mine, taken = list(group), 0.0
        withdrawals = _withdrawals([step for step, _ in mine])
        for (step, area), withdraws in zip(mine, withdrawals, strict=True):
            taken = 0.0 if withdraws or _among(extra, step.end) else taken + area
            if step.station is not None:
                takes += [] if _among(plain, step.end) or taken <= CUTS else [taken * _sides(frame, step)]
                taken = 0.0
    return Cuts(max(takes), min(takes)) if takes else None


def _among(places: Sequence[Point], place: Point) -> bool:
    return any(math.dist(one, place) < SAME_PLACE for one in places)


def _sides(frame: Frame, step: Step) -> int:
    """How many times a cut lies in the whole section: on the axis the nose takes as much beyond it."""
    return 2 if frame.sign > 0 and step.end.y < NEAR_AXIS * step.tool.nose_radius else 1
