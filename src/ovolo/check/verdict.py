"""Good, not good, cannot tell: the curve against its limits, with the expanded uncertainty to spare (ISO 14253-1).

What was not read scatters as the settings do, and may be off by what touching off, nose and centre height are known to;
what was read narrows that. All of it is drawn through the moves, then conditioned on the readings (for quantities that
are nearly normal the draws are shifted by the regression on what they would have read).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from ovolo.check.causes import Cause, applied
from ovolo.check.evidence import LEAST_U, Bench, Explained
from ovolo.check.jaws import Jaws
from ovolo.check.positions import Positions
from ovolo.check.profile import Places, heights, places
from ovolo.check.reach import deviation_of
from ovolo.check.settings_scatter import drawn
from ovolo.geometry.chain import Floats, Ints
from ovolo.part.targets import CurveLimits
from ovolo.plan.model import Plan

__all__ = ["Curve", "Judged", "Verdict", "judge", "verdict_of"]

Verdict = Literal["good", "not good", "cannot tell"]

K = 2.0
"""Coverage factor of the expanded uncertainty."""

DRAWS, CHUNK = 320, 40
CLOSE, MOST = 0.02, 1400
"""The curve is looked at this closely, mm, at no more places than this."""

SMALLEST = 1e-4
AT_FACE = 0.01
"""So near to the end face of a part that does not begin on the axis nothing is judged, mm."""


@dataclass(frozen=True)
class Curve:
    """Deviation along the curve as it most likely is, with its standard uncertainty, mm; `z` and `foot` of each place;
    `layer` is what stands between the settings' own depth and the outline, ridges aside."""

    x: Floats
    y: Floats
    foot: Floats
    deviation: Floats
    u: Floats
    layer: Floats


@dataclass(frozen=True)
class Judged:
    """The verdict, the limits, what stands and what is missing at most, with the standard uncertainty of both, mm."""

    verdict: Verdict
    limits: CurveLimits
    above: float
    below: float
    u: float
    curve: Curve


def verdict_of(above: float, below: float, u: float, limits: CurveLimits) -> Verdict:
    """The decision rule of ISO 14253-1 with k = 2: proved to conform, proved not to, or neither.

    >>> limits = CurveLimits(above=0.1, below=0.05)
    >>> [verdict_of(a, 0.0, 0.01, limits) for a in (0.08, 0.0801, 0.12, 0.1201)]
    ['good', 'cannot tell', 'cannot tell', 'not good']
    """
    spare, hair = K * u, 1e-9
    if above - spare > limits.above + hair or below - spare > limits.below + hair:
        return "not good"
    fits = above + spare <= limits.above + hair and below + spare <= limits.below + hair
    return "good" if fits else "cannot tell"


def judge(plan: Plan, bench: Bench, found: Explained, limits: CurveLimits, named: bool) -> Judged:
    """The whole curve judged by what was read."""
    spots = _along(found.at)
    around = _around(plan, bench, found, named)
    field, read = _drawn_field(bench, found, around, spots)
    field = _conditioned(bench, found, field, read)
    above, below = field.max(axis=1), (-field).max(axis=1)
    u = max(float(above.std(ddof=1)), float(below.std(ddof=1)), SMALLEST)
    most, least = max(float(above.mean()), 0.0), max(float(below.mean()), 0.0)
    curve = _curve(found.at, spots, field)
    return Judged(verdict_of(most, least, u, limits), limits, most, least, u, curve)


def _along(at: Positions) -> Places:
    """Places along the curve, and in front of it where it begins on the axis."""
    frame = at.frame
    start, end = frame.curve_ends
    many = int(np.clip((end - start) / CLOSE, 200, MOST))
    x, _ = frame.chain.points(np.linspace(start, end, many))
    if not frame.on_axis:  # right at the end face the place is the face's, not the curve's
        x = x[x <= frame.front_of_part - AT_FACE]
    if frame.on_axis and start < 1e-6:
        x = np.concatenate([x, frame.front_of_part + np.linspace(0.01, 0.4, 12)])
    return places(at, np.unique(np.round(x, 9)), 0.3)


def _around(plan: Plan, bench: Bench, found: Explained, named: bool) -> list[tuple[Cause, float]]:
    """What may be off beside what was found, and what was found by more than its uncertainty: standard deviations."""
    errors = bench.errors
    spread: dict[tuple[str, str | None], tuple[Cause, float]] = {}
    for cause, sd in (
        (Cause("cross_offset"), errors.touching_cross),
        (Cause("saddle_offset"), errors.touching_saddle),
        *(
            (Cause("nose_radius", tool.name), errors.nose if tool.nose_radius_u is None else tool.nose_radius_u)
            for tool in plan.tools
            if tool.edge.noses
        ),
    ):
        spread[cause.key] = (cause, sd)
    for n, cause in enumerate(found.causes):
        if cause.fixed is None:
            known = spread.get(cause.key, (cause, 0.0))[1] if not named else 0.0
            spread[cause.key] = (cause, max(known, 2.0 * float(found.u[n])))
    return [pair for pair in spread.values() if pair[1] > 0]


def _drawn_field(
    bench: Bench, found: Explained, around: list[tuple[Cause, float]], spots: Places
) -> tuple[Floats, Floats]:
    """Deviation along the curve and what would have been read, for every draw."""
    source = np.random.default_rng(7)
    draws = max(DRAWS, 12 * bench.n)
    jaws = Jaws.on(found.at, bench.readings, 0.25)
    field, read = [], []
    at = drawn(found.at, bench.errors, draws, seed=11)
    for begin in range(0, draws, CHUNK):
        some = _rows(at, begin, min(begin + CHUNK, draws))
        many = len(some.x0)
        for cause, sd in around:
            some = _apply_each(some, cause, sd * source.standard_normal((many, 1)))
        field.append(_deviations(found.at, spots, heights(some, spots)))
        read.append(jaws.at_place(some))
    return np.concatenate(field), np.concatenate(read)


def _apply_each(at: Positions, cause: Cause, value: Floats) -> Positions:
    """A cause with another value for each draw; a square of a centre height adds to what is there."""
    if cause.name == "centre_height":
        square = np.maximum(np.asarray(at.height) ** 2 + value[:, 0], 0.0)
        return applied(at, [(cause, square)])
    return applied(at, [(cause, value)])


def _rows(at: Positions, begin: int, end: int) -> Positions:
    return replace(at, x0=at.x0[begin:end], x1=at.x1[begin:end], y0=at.y0[begin:end], y1=at.y1[begin:end])


def _deviations(at: Positions, spots: Places, y: Floats) -> Floats:
    many = len(y)
    deviation, _ = deviation_of(at.frame, np.tile(spots.x, many), y.ravel())
    in_air = (spots.x > at.frame.front_of_part) & (y <= at.frame.base + 1e-9)
    return np.where(in_air, 0.0, deviation.reshape(many, -1))


def _conditioned(bench: Bench, found: Explained, field: Floats, read: Floats) -> Floats:
    """The draws of the field, shifted by what the readings say."""
    source = np.random.default_rng(13)
    jaws = Jaws.on(found.at, bench.readings, 0.06)
    own = np.array([max(r.u, LEAST_U) for r in bench.readings]) ** 2 + jaws.from_place(found.at) + bench.extra
    noise = np.sqrt(own) * source.standard_normal(read.shape)
    off_read, off_field = read - read.mean(axis=0), field - field.mean(axis=0)
    many = len(read)
    covariance = off_read.T @ off_read / (many - 1) + np.diag(own)
    gain = np.linalg.solve(covariance, off_read.T @ off_field / (many - 1))
    return np.asarray(field + (bench.seen - read - noise) @ gain)


def _curve(at: Positions, spots: Places, field: Floats) -> Curve:
    y = heights(at, spots)
    _, foot = deviation_of(at.frame, spots.x, y)
    order: Ints = np.argsort(foot, kind="stable")
    mean, u = field.mean(axis=0)[order], field.std(axis=0, ddof=1)[order]
    return Curve(spots.x[order], y[order], foot[order], mean, u, _valleys(foot[order], mean))


def _valleys(foot: Floats, deviation: Floats) -> Floats:
    """Deviation without ridges: the line through its low places."""
    low = np.flatnonzero((deviation <= np.roll(deviation, 1)) & (deviation < np.roll(deviation, -1)))
    low = low[(low > 0) & (low < len(foot) - 1)]
    if len(low) < 2:
        return deviation.copy()
    return np.minimum(np.interp(foot, foot[low], deviation[low]), deviation)
