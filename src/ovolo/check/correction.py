"""The cut that mends a part: what to add to the readouts, and the fewest moves from the part as it is."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ovolo.check.causes import Cause, applied
from ovolo.check.evidence import Explained
from ovolo.check.measured import Circumstances
from ovolo.check.positions import Positions, positions_of
from ovolo.check.profile import heights, places
from ovolo.check.reach import deviation_of
from ovolo.check.verdict import Curve, Judged, K
from ovolo.errors import CannotPlan
from ovolo.geometry.chain import Floats
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point
from ovolo.part.part import Part
from ovolo.part.targets import CurveLimits
from ovolo.plan.model import Job, Plan
from ovolo.plan.planner import make_plan
from ovolo.plan.view.frame import Frame
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool

__all__ = ["Correction", "Smaller", "Stretch", "correct", "shift_of"]

FINE, SHAPE = 0.02, 1.5e-3
"""The part as it is, is taken at places this far apart, then by as few points as keep within SHAPE of them, mm."""

LEAST_STRETCH = 0.3
"""No stretch that is cut again is shorter, mm; and so much is added at either end."""

AFTER_K = 3.0


@dataclass(frozen=True)
class Stretch:
    """A stretch of the curve, (greater z, lesser z), and how thick a layer stands over it at most, mm."""

    z: tuple[float, float]
    layer: float


@dataclass(frozen=True)
class Smaller:
    """The same shape that the part as it is still holds: every arc's radius less (or, hollow, more) by `by`, mm."""

    by: float
    radius: float | None
    convex: bool


@dataclass(frozen=True)
class Correction:
    """What to do. shift: added to what each readout shows, in the job's units and its own convention. plan: the moves.

    cut: what is cut again; file: what is too thin to cut; missing: how much metal is missing at most where that is more
    than allowed, and what would still be good. refused: why no plan could be made. nothing: nothing need be done.
    """

    shift: Mapping[str, float]
    plan: Plan | None = None
    cut: Stretch | None = None
    file: tuple[Stretch, ...] = ()
    missing: float = 0.0
    smaller: Smaller | None = None
    refused: str = ""
    nothing: bool = False
    hold: str = ""


def shift_of(job: Job, found: Sequence[tuple[Cause, float]]) -> dict[str, float]:
    """What is added to what each readout shows, in the job's units: where the tool truly is, less what it shows.

    With several tools, that of the tool whose offset was found.
    """
    shop = job.shop
    out = {"cross": 0.0, "saddle": 0.0}
    for cause, value in found:
        if cause.name == "cross_offset":
            out["cross"] += value * shop.cross.factor / shop.unit
        elif cause.name == "saddle_offset":
            out["saddle"] += value * shop.saddle.factor / shop.unit
    return {name: round(value, 6) + 0.0 for name, value in out.items()}


def correct(
    plan: Plan, found: Explained, rivals: Sequence[Explained], judged: Judged, asked: Circumstances
) -> Correction:
    """What to do about a part that was judged.

    Its causes are taken out of the figures. Where `rivals` explain the readings as well, that is done only if it mends
    the part whichever of them is true.
    """
    causes = [(cause, found.value_of(n)[0]) for n, cause in enumerate(found.causes)]
    shift, limits = shift_of(plan.job, causes if not rivals else ()), judged.limits
    if judged.verdict == "good":
        return Correction(shift, nothing=True)
    if judged.below > limits.below:
        return Correction(shift, missing=judged.below, smaller=_smaller(found.at.frame.job, judged.below))
    over = judged.curve.deviation > limits.above - AFTER_K * judged.curve.u
    if not over.any():
        return Correction(shift)
    cut, file = _split(judged.curve, over, _thinnest(plan))
    if cut is None:
        return Correction(shift, file=file)
    hold = _hold(asked)
    if hold:
        return Correction(shift, file=(cut, *file), hold=hold)
    made = _planned(plan, found, causes, judged, cut)
    if isinstance(made, str):
        return Correction(shift, None, cut, file, refused=made)
    if not all(_mends(made, found, each, limits) for each in (found, *rivals)):
        return Correction(shift, None, cut, file, hold="undecided")
    return Correction(shift_of(plan.job, causes), made, cut, file)


def _planned(
    plan: Plan, found: Explained, causes: Sequence[tuple[Cause, float]], judged: Judged, cut: Stretch
) -> Plan | str:
    """The moves, over the stretch that needs them or else over the whole curve; or why there are none."""
    refused = ""
    for stretch in (cut, Stretch(plan.job.part.curve, cut.layer)):
        try:
            return make_plan(_job_as_is(plan, found, causes, judged, stretch))
        except CannotPlan as why:
            refused = refused or str(why.faults[0])
    return refused


def _mends(made: Plan, found: Explained, true: Explained, limits: CurveLimits) -> bool:
    """Whether the moves leave the part within its limits, if `true` is what is wrong, by as much as was found or by its
    expanded uncertainty more or less, and `found` was taken out: with what stays wrong at the lathe, and also with that
    put right."""
    taken = [(c, -v) for c, v in zip(found.causes, found.values.tolist(), strict=True) if c.name in _TAKEN_OUT]
    return all(
        _inside(applied(positions_of(made), [*each, *taken]), true, limits)
        for values in _as_known(true)
        for each in _left_wrong(true.causes, values)
    )


def _as_known(true: Explained) -> list[list[float]]:
    """The values of an explanation: as they are, and each by its expanded uncertainty larger or smaller."""
    out = [true.values.tolist()]
    for n, u in enumerate(true.u):
        for sign in (1.0, -1.0) if true.causes[n].name in _TAKEN_OUT else ():
            values = true.values.copy()
            values[n] += sign * K * u
            out.append(values.tolist())
    return out


def _left_wrong(causes: Sequence[Cause], values: Sequence[float]) -> list[list[tuple[Cause, float]]]:
    """What is wrong while the correction is cut: with what can be put right at the lathe, and without."""
    stays = [(c, v) for c, v in zip(causes, values, strict=True) if c.name in _STAYS]
    moved = [(c, v) for c, v in stays if c.name in _TAKEN_OUT]
    return [stays] if stays == moved else [stays, moved]


def _inside(at: Positions, true: Explained, limits: CurveLimits) -> bool:
    """Whether a part that is as `true` says lies within its limits after these moves too."""
    start, end = at.frame.curve_ends
    x, _ = at.frame.chain.points(np.linspace(start, end, 500)[1:-1])
    y = np.minimum(heights(at, places(at, x, 0.3)), heights(true.at, places(true.at, x, 0.3)))
    deviation, _ = deviation_of(at.frame, x, y)
    return bool(deviation.max() <= limits.above and deviation.min() >= -limits.below)


_TAKEN_OUT = ("cross_offset", "saddle_offset", "nose_radius", "taper")
"""Causes that the figures of a correction allow for; others are put right at the lathe before it is cut."""

_STAYS = (*_TAKEN_OUT, "centre_height", "backlash")
"""Causes that are there while the correction is cut, unless they were put right; a figure set wrong is not."""


def _hold(asked: Circumstances) -> str:
    """Why nothing may be cut: the part or the tool is not where it was."""
    if not asked.in_chuck:
        return "rechucked"
    return "" if asked.tool_untouched else "tool moved"


def _thinnest(plan: Plan) -> float:
    lathe = plan.job.shop.lathe
    tools = {move.tool for move in plan.moves if move.station is not None} or {tool.name for tool in plan.tools}
    return min(lathe.cutter(name).thinnest for name in tools)


def _split(curve: Curve, over: np.ndarray, thin: float) -> tuple[Stretch | None, tuple[Stretch, ...]]:
    """What stands too high, as one stretch to be cut where the layer is thick enough, and the rest to be filed."""
    thick = over & (curve.layer >= thin)
    if not thick.any():
        return None, _stretches(curve, over)
    first, last = np.flatnonzero(thick)[[0, -1]]
    x = curve.x[first : last + 1]
    high, low = float(x.max()) + LEAST_STRETCH, float(x.min()) - LEAST_STRETCH
    high, low = min(high, float(curve.x.max())), max(low, float(curve.x.min()))
    rest = over & ((curve.x > high) | (curve.x < low))
    return Stretch((high, low), float(curve.layer[thick].max())), _stretches(curve, rest)


def _stretches(curve: Curve, over: np.ndarray) -> tuple[Stretch, ...]:
    """Places that stand too high, joined where they are near each other."""
    rows = np.flatnonzero(over)
    if not len(rows):
        return ()
    groups = np.split(rows, np.flatnonzero(np.diff(curve.foot[rows]) > 3 * LEAST_STRETCH) + 1)
    return tuple(
        Stretch((float(curve.x[g].max()), float(curve.x[g].min())), float(curve.deviation[g].max())) for g in groups
    )


def _smaller(job: Job, missing: float) -> Smaller:
    """The parallel of the curve that the part still holds."""
    by = math.ceil(missing * 100) / 100
    high, low = job.part.curve
    arcs = [
        s
        for s in job.part.outline.segments
        if isinstance(s, Arc) and min(s.start.x, s.end.x) < high - 1e-6 and max(s.start.x, s.end.x) > low + 1e-6
    ]
    if not arcs:
        return Smaller(by, None, True)
    arc = max(arcs, key=lambda each: each.length)
    convex = arc.ccw == (job.part.surface == "outside")
    return Smaller(by, arc.radius - by if convex else arc.radius + by, convex)


def _job_as_is(plan: Plan, found: Explained, named: Sequence[tuple[Cause, float]], judged: Judged, cut: Stretch) -> Job:
    """The job that mends the part: the noses as found, the piece as it is, the stretch that is cut again."""
    job = plan.job
    high, low = job.part.curve
    curve = (min(cut.z[0], high), max(cut.z[1], low))
    tools = tuple(_as_found(tool, named) for tool in job.shop.tools)
    used = {tool.name for tool in plan.tools}
    tools = tuple(tool for tool in tools if tool.name in used) or tools
    outline, taper = job.part.outline, sum(value for cause, value in named if cause.name == "taper")
    stock = _as_it_is(found.at, judged.curve)
    if taper:
        outline, stock = _sheared(outline, taper), _sheared(stock, taper)
    part: Part = replace(job.part, outline=outline, curve=curve)
    shaped = replace(
        job.shop.stock, radius=stock.end.y if job.part.surface == "outside" else job.shop.stock.radius, outline=stock
    )
    if job.part.surface == "bore":
        shaped = replace(shaped, hole=2 * stock.end.y, proud=0.0)
    shop = replace(job.shop, tools=tools, stock=shaped, by=None, cross=_as_it_reads(job.shop.cross, named))
    return replace(job, title=f"{job.title}, corrected", part=part, shop=shop)


def _as_it_reads(cross: Slide, named: Sequence[tuple[Cause, float]]) -> Slide:
    """The cross slide as it truly reads, where diameters and radii were mixed up."""
    found = {cause.name for cause, _ in named}
    if "counts_twice" in found:
        return replace(cross, reads="diameter")
    return replace(cross, reads="radius") if "counts_half" in found else cross


def _as_found(tool: Tool, named: Sequence[tuple[Cause, float]]) -> Tool:
    """A tool with the nose that was found."""
    by = sum(value for cause, value in named if cause.name == "nose_radius" and cause.tool == tool.name)
    return replace(tool, nose_radius=round(tool.nose_radius + by, 4)) if by else tool


def _as_it_is(at: Positions, curve: Curve) -> Outline:
    """The surface of the part as it most likely is, from its free end toward the chuck, in (z, r)."""
    frame = at.frame
    x = np.arange(frame.back, max(frame.front_of_part, float(curve.x.max())) + FINE, FINE)
    y = heights(at, places(at, x, 0.1))
    order = np.argsort(curve.x)
    more = np.interp(x, curve.x[order], _lift(frame, curve)[order], left=0.0, right=0.0)
    y = np.maximum(y + more, frame.base)
    metal = y > frame.base + 1e-6
    front = float(x[metal].max()) if metal.any() else frame.front_of_part
    x, y = x[x <= front + 1e-9], y[x <= front + 1e-9]
    line = shapely.simplify(shapely.LineString(np.c_[x[::-1], y[::-1]]), SHAPE)
    points = [Point(round(float(px), 5), round(float(frame.sign * py), 5)) for px, py in shapely.get_coordinates(line)]
    if frame.on_axis and points[0].y > 1e-6:
        points.insert(0, Point(points[0].x, 0.0))
    return Outline(tuple(Line(a, b) for a, b in itertools.pairwise(points)))


def _lift(frame: Frame, curve: Curve) -> Floats:
    """By how much the surface as it most likely is, is higher than that of the causes alone, mm along y."""
    alone, _ = deviation_of(frame, curve.x, curve.y)
    _, ny = frame.chain.normals(*frame.chain.locate(curve.foot))
    return np.asarray(np.clip(curve.deviation - alone, -0.1, 0.1) / np.maximum(ny, 0.3))


def _sheared(outline: Outline, taper: float) -> Outline:
    """An outline as the slides have to follow it so that a taper of lathe or bar brings it to what is wanted."""
    points = [Point(p.x, max(p.y + taper * p.x, 0.0) if p.y > 1e-9 else p.y) for p in outline.flattened(5e-4)]
    return Outline(tuple(Line(a, b) for a, b in itertools.pairwise(points)))
