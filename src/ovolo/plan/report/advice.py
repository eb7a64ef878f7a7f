"""When a job can't be planned: where, why, and what would do."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

import numpy as np

from ovolo.errors import Fault
from ovolo.geometry.bisection import bisected
from ovolo.geometry.segments import Arc, Point
from ovolo.plan.job import Job
from ovolo.plan.stations.choose_tools import Reach, Stretch, assign, missed_by_all, reaches_of
from ovolo.plan.view.frame import Frame
from ovolo.plan.view.undercuts import Way, bays
from ovolo.shop.tools import Tool

#: Round noses that are tried as advice, mm, the largest first (common sizes, no source).
ROUND_NOSES = (6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0, 0.5)
#: Noses of knives that are tried as advice, mm, as ISO 1832 codes 12, 08, 04 and 02 name them.
KNIFE_NOSES = (1.2, 0.8, 0.4, 0.2)
#: The cutting edge angle that a knife has where none is told, degrees.
USUAL_EDGE = 93
#: A knife ground back so far that its other edge would lie along the work is none, radians.
LEAST_CLEAR = math.radians(5)
#: A gap of reach shorter than this is not told by itself, mm.
TOLD = 1e-3
#: How closely it is found how far a nose has to stand out, mm.
CLOSE = 0.02
#: What the advised tool is called among those of the drawer.
ADVISED = "the tool advised"
#: How many times finer a slide is imagined to find out whether its count is what stands in the way.
FINER = 20


def out_of_reach(frame: Frame, reaches: Sequence[Reach], ridge: float) -> list[Fault]:
    """Why no tools of the drawer finish the curve: a fault for each place, with what would do.

    Where slides that can be set much finer would do with the same tools, no tool is to blame: those places are told
    once, together.
    """
    missed, finer = missed_by_all(frame, reaches), _with_counts(frame, FINER)
    again = reaches_of(finer, _tools(reaches), ridge)
    gaps = missed_by_all(finer, again)
    gaps = [g for g in gaps if g[1] - g[0] > TOLD] or gaps
    about = _widened(gaps, _tools(reaches), ridge)
    coarse = _apart(missed, about)
    faults = [_too_coarse(frame, reaches, ridge, coarse, about)] if coarse else []
    return faults + [_gap_fault(finer, again, gap, ridge) for gap in gaps]


def tools_that_would_do(job: Job) -> list[tuple[Tool, str]]:
    """Tools that reach all that no tool of the drawer does, the largest of each kind, and what they are in words; none
    where tools are not in the way."""
    frame, ridge = Frame(job), job.part.ridge
    gaps = missed_by_all(frame, reaches_of(frame, job.shop.tools, ridge))
    tried = [tool for gap in gaps for tool in _candidates(frame, gap)]
    unit, name = job.measure
    wanted = _largest_of_each([t for t in tried if all(_reaches(frame, t, gap, ridge) for gap in gaps)])
    return [(tool, _say(tool, unit, name)) for tool in wanted]


def corners_in_the_way(job: Job) -> list[Point]:
    """The hollow corners (z, r), mm, that are too sharp for every nose of the drawer where none of its tools reaches;
    none where corners are not in the way."""
    frame, ridge = Frame(job), job.part.ridge
    gaps = missed_by_all(frame, reaches_of(frame, job.shop.tools, ridge))
    found = [corner for gap in gaps for corner in _tight_corners(frame, gap, ridge)]
    x, y = frame.chain.points(np.array([u for u, _ in found]))
    return [frame.place(float(a), float(b)) for a, b in zip(x, y, strict=True)]


def held_off(job: Job) -> list[tuple[Tool, Literal["stands_out", "stem"], float]]:
    """Tools that reach all that is missed once their nose stands out farther of what holds it: which field says so,
    and how far it has to be, mm; the first one."""
    frame, ridge = Frame(job), job.part.ridge
    gaps = missed_by_all(frame, reaches_of(frame, job.shop.tools, ridge))
    for tool in job.shop.tools if gaps else ():
        if _body_of(tool) and all(_reaches(frame, _bare(tool), gap, ridge) for gap in gaps):
            found = [_needed(frame, tool, gap, ridge) for gap in gaps]
            return [(tool, found[0][0], max(far for _, far in found))]
    return []


def _tools(reaches: Sequence[Reach]) -> list[Tool]:
    """The tools themselves, each once."""
    return [r.tool for r in reaches if r.side is None]


def _apart(missed: Sequence[Stretch], gaps: Sequence[Stretch]) -> list[Stretch]:
    """What of some stretches lies outside all the others; all of it where these are none."""
    left = list(missed)
    for begin, end in gaps:
        halves = [half for a, b in left for half in ((a, min(b, begin)), (max(a, end), b))]
        left = [(a, b) for a, b in halves if b > a]
    return left


def _widened(gaps: Sequence[Stretch], tools: Sequence[Tool], ridge: float) -> list[Stretch]:
    """Gaps of reach with what a nose leaves next to them: it rises by a ridge over sqrt(2 r h)."""
    nose = max(t.nose_radius if t.edge.noses else t.tightest for t in tools)
    beside = math.sqrt(2 * nose * ridge)
    return [(a - beside, b + beside) for a, b in gaps]


def _with_counts(frame: Frame, finer: float) -> Frame:
    shop = frame.job.shop
    cross = replace(shop.cross, count=shop.cross.count / finer)
    saddle = replace(shop.saddle, count=shop.saddle.count / finer)
    top = None if shop.top is None else replace(shop.top, count=shop.top.count / finer)
    return Frame(replace(frame.job, shop=replace(shop, cross=cross, saddle=saddle, top=top)))


def _too_coarse(
    frame: Frame, reaches: Sequence[Reach], ridge: float, places: Sequence[Stretch], gaps: Sequence[Stretch]
) -> Fault:
    """The counts are to blame at some places; `gaps` are those where a tool is, and a little beside them."""
    unit, name = frame.job.measure
    least = _least_ridge(frame, _tools(reaches), ridge, gaps)
    can = f"at least {least / unit:.4g} {name}" if least else "a coarser finish"
    where = _place(frame, places[0]) + (f", and at {len(places) - 1} more places" if len(places) > 1 else "")
    return Fault(
        "finish.ridge",
        round(ridge / unit, 6),
        can,
        f"with figures as coarse as these slides have, no settings leave so little {where}",
        f"Ask for a ridge of {can}, or give finer counts where the slides can be set so",
    )


def _least_ridge(frame: Frame, tools: Sequence[Tool], ridge: float, gaps: Sequence[Stretch]) -> float | None:
    """The least ridge that the counts allow beside `gaps`, found by halving, mm; rounded up to two figures."""

    def enough(height: float) -> bool:
        return not _apart(missed_by_all(frame, reaches_of(frame, tools, height)), gaps)

    low, high = ridge, ridge
    while not enough(high):
        low, high = high, high * 1.5
        if high > 1.0:
            return None
    high, _ = bisected(enough, high, low, most=12)
    scale = 10.0 ** (math.floor(math.log10(high)) - 1)
    return math.ceil(high / scale * 1.02) * scale


def _place(frame: Frame, stretch: Stretch) -> str:
    """Both ends of a stretch in the job's figures."""
    unit = frame.job.measure[0]
    x, y = frame.chain.points(np.array(stretch))
    z, d = x / unit, 2 * np.abs(y) / unit
    return f"from z = {z[0]:.4g} (Ø {d[0]:.4g}) to z = {z[1]:.4g} (Ø {d[1]:.4g})"


def _gap_fault(frame: Frame, reaches: Sequence[Reach], gap: Stretch, ridge: float) -> Fault:
    name, place = frame.job.measure[1], _place(frame, gap)
    names = list(dict.fromkeys(r.tool.name for r in reaches))
    held_off = [t for t in _tools(reaches) if _body_of(t) and _reaches(frame, _bare(t), gap, ridge)]
    cause = f"the {_body_of(held_off[0])} of {held_off[0].name}" if held_off else "the nose or an edge"
    return Fault(
        "tool" if len(names) > 1 else f"tool {names[0]}",
        ", ".join(names),
        f"a tool that reaches the outline {place}, in {name}",
        f"the outline {place} is out of reach: there {cause} would cut the part or the bar next to it",
        _let_it_stand_out(frame, held_off[0], gap, ridge) if held_off else " ".join(_what_would_do(frame, gap, ridge)),
    )


def _body_of(tool: Tool) -> str | None:
    """What of a tool does not cut and may be in the way."""
    if tool.stands_out is not None:
        return "boring bar"
    return "shank" if tool.stem is not None and tool.shank is not None else None


def _bare(tool: Tool) -> Tool:
    """The same tool with nothing in the way of its nose and edges."""
    return replace(tool, stem=None, shank=None, stands_out=None)


def _let_it_stand_out(frame: Frame, tool: Tool, gap: Stretch, ridge: float) -> str:
    """By how much more the nose has to stand out of what holds it."""
    unit, name = frame.job.measure
    field, needed = _needed(frame, tool, gap, ridge)
    far = f"{needed / unit:.4g} {name}"
    return f"Let the nose of {tool.name} project at least {far} ({field}), or add another tool"


def _needed(frame: Frame, tool: Tool, gap: Stretch, ridge: float) -> tuple[Literal["stands_out", "stem"], float]:
    """Which field says how far a nose stands out, and the least that it may be, mm, up to a tenth of the unit."""
    field: Literal["stands_out", "stem"] = "stands_out" if tool.stands_out is not None else "stem"
    low = high = (tool.stands_out if field == "stands_out" else tool.stem) or 0.0
    while not _reaches(frame, _standing_out(tool, field, high), gap, ridge):
        low, high = high, 1.5 * high + 1.0
    high, _ = bisected(lambda far: _reaches(frame, _standing_out(tool, field, far), gap, ridge), high, low, close=CLOSE)
    tenth = 0.1 * frame.job.measure[0]
    return field, math.ceil(high / tenth) * tenth


def _standing_out(tool: Tool, field: str, far: float) -> Tool:
    return replace(tool, stands_out=far) if field == "stands_out" else replace(tool, stem=far)


def _what_would_do(frame: Frame, gap: Stretch, ridge: float) -> list[str]:
    """Sentences: tools that would reach and what they would leave, and the limits that the outline itself sets."""
    unit, name = frame.job.measure
    out = [_in_the_corner(frame, corner, ridge) for corner in _tight_corners(frame, gap, ridge)]
    wanted = _largest_of_each([t for t in _candidates(frame, gap) if _reaches(frame, t, gap, ridge)])
    if wanted:
        said = "; or ".join(_say(t, unit, name) + _would_leave(frame, t, ridge) for t in wanted)
        out.append(f"Add to the drawer {said}.")
    elif not out:
        least = min(*ROUND_NOSES, *KNIFE_NOSES) / unit
        out.append(f"No usual nose down to R {least:.2g} {name} reaches it: shorten the curve, or change the outline.")
    hollows = [s.radius for s in frame.outline.segments if isinstance(s, Arc) and not s.ccw]
    if hollows and min(hollows) < max(t.tightest for t in frame.job.shop.tools):
        out.append(f"The tightest hollow takes a nose of at most R {min(hollows) / unit:.4g} {name}.")
    return out


def _would_leave(frame: Frame, tool: Tool, ridge: float) -> str:
    """What the drawer would leave with this tool in it, and in how many settings; nothing where it takes more yet."""
    found = assign(frame, reaches_of(frame, [*frame.job.shop.tools, replace(tool, name=ADVISED)], ridge), ridge)
    if found is None:
        return ""
    unit, name = frame.job.measure
    leaves = max(w.highest for w in found.works) / unit
    return f", which would leave {leaves:.2g} {name} in {found.stations} settings"


def _tight_corners(frame: Frame, gap: Stretch, ridge: float) -> list[tuple[float, float]]:
    """(place along the outline, angle between its sides) of the hollow corners in a gap of reach that are too sharp for
    every nose of the drawer."""
    chain, found, nose = frame.chain, [], _least_nose(frame)
    for k in range(1, chain.count):
        u = float(chain.starts[k])
        if not gap[0] - ridge < u < gap[1] + ridge:
            continue
        nx, ny = chain.normals(np.array([k - 1, k]), np.array([chain.size[k - 1], 0.0]))
        turn = math.atan2(nx[0] * ny[1] - ny[0] * nx[1], nx[0] * nx[1] + ny[0] * ny[1])
        angle = math.pi - abs(turn)  # a hollow corner turns to the left, the metal is on the right of the way
        if turn < 0 and nose * (1 - math.sin(angle / 2)) > ridge:
            found.append((u, angle))
    return found


def _least_nose(frame: Frame) -> float:
    """The smallest nose of the drawer, or bend of a form tool, mm."""
    return min(t.tightest for t in frame.job.shop.tools)


def _in_the_corner(frame: Frame, corner: tuple[float, float], ridge: float) -> str:
    """What a nose leaves in a sharp hollow corner, its sides at an angle of a: square to them, r·(1 - sin(a/2))."""
    (u, angle), (unit, name) = corner, frame.job.measure
    x, y = frame.chain.points(np.array([u]))
    share = 1 - math.sin(angle / 2)
    least, largest = _least_nose(frame), ridge / share / unit
    figure = 10.0 ** (math.floor(math.log10(largest)) - 1)
    place = f"z = {x[0] / unit:.4g} (Ø {2 * abs(y[0]) / unit:.4g})"
    fits = f"R {math.floor(largest / figure) * figure:.2g} {name} or less would do"
    rounded = f"round the corner by the radius of your nose, such as R {least / unit:.3g} {name}"
    return f"In the sharp corner at {place} a nose leaves {share:.2g} of its radius: {fits}; or {rounded}."


def _largest_of_each(tools: Sequence[Tool]) -> list[Tool]:
    """The first, which is the largest, of each kind and hand."""
    first: dict[tuple[str, str], Tool] = {}
    for tool in tools:
        first.setdefault((tool.kind, tool.hand), tool)
    return list(first.values())


def _candidates(frame: Frame, gap: Stretch) -> list[Tool]:
    """Tools tried as advice: the largest round nose first, then knives of either hand; where the outline leans over,
    those whose edge leans as far."""
    leaning = [t for way, lean in _leans(frame, gap) for t in _leaning_knives("right" if way > 0 else "left", lean)]
    if leaning:
        return leaning
    round_noses = [Tool("", "round", r) for r in ROUND_NOSES if r <= _widest_nose(frame, gap)]
    right = [Tool("", "pointed", r) for r in KNIFE_NOSES]
    hands = [*right, *(replace(t, hand="left") for t in right)]
    slim = [replace(t, point_angle=math.radians(35)) for t in hands]
    return [*round_noses, *hands, *slim]


def _widest_nose(frame: Frame, gap: Stretch) -> float:
    """The largest round nose that finishes the hollows of a gap with no wider a plunge than is allowed, mm.

    A nose R that goes to the bottom of a hollow of radius F, where the allowance a is left, is engaged over
    2 √(2 R' a) with 1/R' = 1/R - 1/(F - a): parabolas for circles, derived here. One of half the plunge always may.
    """
    chain, shop = frame.chain, frame.job.shop
    inside = (chain.starts[:-1] < gap[1]) & (chain.starts[1:] > gap[0])
    hollows = chain.radius[inside & chain.is_arc & (chain.sign < 0)]
    free = np.maximum(hollows - shop.allowance, 1e-3)
    noses = 1 / (1 / free + 8 * shop.allowance / shop.plunge**2)
    return max(shop.plunge / 2, float(noses.min(initial=math.inf)))


def _leans(frame: Frame, gap: Stretch) -> list[tuple[Way, float]]:
    """The ways in which the outline leans over in a gap of reach, and how far, radians."""
    out = []
    for bay in bays(frame.chain):
        low, high = max(bay.first, gap[0]), min(bay.last, gap[1])
        if high > low:
            _, ny = frame.chain.normals(*frame.chain.locate(np.linspace(low, high, 200)))
            out.append((bay.way, math.asin(min(1.0, -float(ny.min())))))
    return out


def _leaning_knives(hand: Literal["right", "left"], lean: float) -> list[Tool]:
    """Slim knives whose edge clears a lean by two degrees or a little more."""
    edge = math.radians(math.ceil(math.degrees(math.pi / 2 + lean)) + 2)
    slim = math.radians(35)
    if edge + slim > math.pi - LEAST_CLEAR:
        return []
    return [Tool("", "pointed", r, hand, edge, slim) for r in KNIFE_NOSES]


def _reaches(frame: Frame, tool: Tool, gap: Stretch, ridge: float) -> bool:
    missed = missed_by_all(frame, reaches_of(frame, [tool], ridge))
    return all(min(b, gap[1]) - max(a, gap[0]) <= 0 for a, b in missed)


def _say(tool: Tool, unit: float, name: str) -> str:
    radius = f"R {tool.nose_radius / unit:.3g} {name}"
    if tool.kind == "round":
        return f"a round nose of {radius} or less"
    angle = round(math.degrees(tool.point_angle))
    edge = round(math.degrees(tool.edge_angle))
    at = "" if edge == USUAL_EDGE else f", its edge at {edge}°,"
    return f"a {tool.hand}-hand knife of {angle}°{at} with a nose of {radius} or less"
