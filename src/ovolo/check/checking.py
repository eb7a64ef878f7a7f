"""Check: from what was measured to a verdict, the causes and the cut that mends it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from ovolo.check.arc import OwnRadius, own_radius
from ovolo.check.blended import FILING, without_ridges
from ovolo.check.causes import Cause
from ovolo.check.correction import Correction, correct, shift_of
from ovolo.check.doubts import Doubt, disagreeing, doubtful, wholly_wrong
from ovolo.check.evidence import Bench, Explained
from ovolo.check.jaws import Jaws
from ovolo.check.measured import Measured, Reading
from ovolo.check.measuring import reading_that_tells
from ovolo.check.positions import Positions, positions_of
from ovolo.check.profile import near_surface
from ovolo.check.reach import Against, Finish, against
from ovolo.check.reasons import Reasons, reasons_of
from ovolo.check.seen import Hidden, hidden_of, plan_as_seen
from ovolo.check.verdict import Judged, judge
from ovolo.part.targets import CurveLimits, curve_limits
from ovolo.plan.model import Plan

__all__ = ["Checked", "Found", "Line", "Undecided", "check", "limits_of"]

FEWEST = 3
"""Fewer readings support no cause."""


@dataclass(frozen=True)
class Line:
    """A reading as it counts: what the plan would read there (radius), how far it is from the outline, square to it,
    with its standard uncertainty, mm; why it is not used, where it is not."""

    reading: Reading
    expected: float
    deviation: float
    u: float
    touches: float
    unused: str | None


@dataclass(frozen=True)
class Found:
    """A cause with its value and standard uncertainty."""

    cause: Cause
    value: float
    u: float


@dataclass(frozen=True)
class Undecided:
    """Causes that the readings cannot tell apart, what each would be, and the reading that would tell."""

    between: tuple[Found, ...]
    read: Reading | None


@dataclass(frozen=True)
class Checked:
    """All that the readings say of a part; `judged` None where none of them says anything."""

    plan: Plan
    measured: Measured
    limits: CurveLimits
    lines: tuple[Line, ...]
    doubts: tuple[Doubt, ...]
    causes: tuple[Found, ...]
    undecided: tuple[Undecided, ...]
    fits: bool
    judged: Judged | None
    correction: Correction
    held: bool = field(default=False)
    radius: OwnRadius | None = None
    unseen: tuple[Hidden, ...] = ()

    @property
    def verdict(self) -> str:
        """Good, not good or cannot tell; no part is judged by readings that are in question."""
        return "cannot tell" if self.judged is None or self.held else self.judged.verdict


def limits_of(plan: Plan) -> CurveLimits:
    """What the curve of a plan may have above and below its outline, mm."""
    frame_free = positions_of(plan).frame
    _, y = frame_free.chain.points(np.linspace(*frame_free.curve_ends, 400))
    part, unit = plan.job.part, plan.job.shop.unit
    return curve_limits(part.tolerance, 2 * float(np.abs(y).max()), part.ridge, "mm" if unit == 1.0 else "in")


def check(plan: Plan, measured: Measured) -> Checked:
    """What readings say of the part that a plan has made."""
    limits, unseen = limits_of(plan), hidden_of(plan.job)
    lips, run = positions_of(plan), plan
    plan = plan_as_seen(plan)
    whole = without_ridges(plan, lips) if measured.state == "blended" else lips
    positions = near_surface(whole)
    finish = Finish(positions, plan.job.part.ridge)
    why = [finish.unused_because(reading) for reading in measured.readings]
    used = tuple(r for r, reason in zip(measured.readings, why, strict=True) if reason is None)
    off = [Doubt((n,), "off the part") for n, reading in enumerate(measured.readings) if finish.off_the_part(reading)]
    if not used:
        return _nothing(plan, measured, limits, positions, why, off)
    numbers = [n for n, reason in enumerate(why) if reason is None]
    extra = np.full(len(used), FILING**2 if measured.state == "blended" else 0.0)
    first = against(positions, used, positions)
    apart = disagreeing(used, first)
    for doubt in apart:
        extra[list(doubt.rows)] += ((doubt.meant or 0.0) / 2) ** 2
    bench = Bench(positions, used, plan.job.shop.errors, extra, whole)
    all_wrong = wholly_wrong(bench)
    reasons = reasons_of(plan, bench)
    gross = [all_wrong] if all_wrong else [] if reasons.fits else doubtful(bench)
    held = all_wrong is not None or not reasons.fits
    named = reasons.named and not held and len(used) >= FEWEST and _not_by_filing(measured, reasons.best)
    rivals = reasons.rivals if not named and reasons.fits else ()
    best = reasons.best if named or rivals else reasons.nothing
    judged = judge(plan, bench, best if not held else reasons.nothing, limits, named)
    causes = _found(best) if named else ()
    correction = (
        correct(run, best, rivals, judged, measured.circumstances)
        if not held
        else Correction({"cross": 0.0, "saddle": 0.0})
    )
    doubts = [*off, *(_numbered(d, numbers) for d in (*apart, *gross))]
    undecided = _undecided(plan, reasons, used[-1]) if not held and not named else ()
    lines = _lines(positions, measured, why, best.at if not held else positions)
    radius = None if held else own_radius(plan, used, against(positions, used, best.at))
    fits, questions = reasons.fits, tuple(doubts)
    return Checked(
        plan,
        measured,
        limits,
        lines,
        questions,
        causes,
        undecided,
        fits,
        judged,
        correction,
        held=held,
        radius=radius,
        unseen=unseen,
    )


def _numbered(doubt: Doubt, numbers: Sequence[int]) -> Doubt:
    return doubt._replace(rows=tuple(numbers[n] for n in doubt.rows))


def _not_by_filing(measured: Measured, best: Explained) -> bool:
    """A file takes metal away: of a blended part only what left metal is named."""
    if measured.state != "blended" or not best.causes:
        return True
    free = [n for n, cause in enumerate(best.causes) if cause.fixed is None]
    return bool(np.mean(best.slopes[:, free] @ best.values[free]) > 0)


def _found(best: Explained) -> tuple[Found, ...]:
    return tuple(Found(cause, *best.value_of(n)) for n, cause in enumerate(best.causes))


def _undecided(plan: Plan, reasons: Reasons, like: Reading) -> tuple[Undecided, ...]:
    """The best explanation against the next one that names another cause."""
    if not reasons.best.causes or not reasons.rivals:
        return ()
    rivals = [each for each in reasons.rivals if each.causes and len(each.causes) <= len(reasons.best.causes)]
    if not rivals:
        return ()
    own = {cause.key for cause in reasons.best.causes}
    between, seen = [*_found(reasons.best)], set(own)
    for rival in rivals:
        for found in _found(rival):
            if found.cause.key not in seen:
                between.append(found)
                seen.add(found.cause.key)
    read = reading_that_tells(plan, reasons.best, rivals[0], like)
    return (Undecided(tuple(between), read),)


def _lines(positions: Positions, measured: Measured, why: Sequence[str | None], at: Positions) -> tuple[Line, ...]:
    readings = measured.readings
    expected = np.abs(Jaws.on(positions, readings, 0.1).at_place(positions))
    seen: Against = against(positions, readings, at)
    return tuple(
        Line(reading, float(expected[n]), float(seen.deviation[n]), float(seen.u[n]), float(seen.touches[n]), why[n])
        for n, reading in enumerate(readings)
    )


def _nothing(
    plan: Plan,
    measured: Measured,
    limits: CurveLimits,
    positions: Positions,
    why: Sequence[str | None],
    off: Sequence[Doubt],
) -> Checked:
    """No reading says anything of the finished surface."""
    lines = _lines(positions, measured, why, positions) if measured.readings else ()
    nothing = Correction(shift_of(plan.job, ()))
    unseen = positions.lips
    return Checked(plan, measured, limits, lines, tuple(off), (), (), True, None, nothing, unseen=unseen)
