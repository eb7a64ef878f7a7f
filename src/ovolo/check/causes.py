"""What may have gone wrong, each as a change of where the tools went.

Values in mm. `cross_offset`: a tool farther from the axis than its figure says, in a bore too. `saddle_offset`: too far
from the chuck. `nose_radius`: true less entered, the tool touched off by its reference point as usual, so that a larger
nose stands farther out and farther from its leading side. `taper`: radius gained for each mm toward the chuck, nothing
at z = 0. `centre_height`: how far the tool is off centre. `counts_twice`, `counts_half`: a cross slide that reads
diameters was taken for one that reads radii, or the other way. `backlash`: what a slide falls short by where it was
brought to its figure against the way in which it was touched off. `setting`: one figure set wrong.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from ovolo.check.positions import Positions
from ovolo.geometry.chain import Floats
from ovolo.plan.model import Plan

Value = Floats | float
"""A value, or one for each draw, (draws, 1)."""

__all__ = ["Cause", "CauseName", "Value", "applied", "ordinary", "settings_wrong"]

CauseName = Literal[
    "cross_offset",
    "saddle_offset",
    "nose_radius",
    "taper",
    "centre_height",
    "counts_twice",
    "counts_half",
    "backlash",
    "setting",
]

MOST_HEIGHT = 0.5
"""No tool is set farther off centre than this, mm; left free, it would explain away any offset on a cylinder."""


SELDOM = 8
"""A slide that is read on its scale stops short only where it was not locked: so many times less likely than on a dial,
by our own judgement."""

_WAYS: tuple[Literal["back", "forth"], ...] = ("back", "forth")


@dataclass(frozen=True)
class Cause:
    """Something that may have gone wrong.

    tool: whose nose, or whose offset where several tools have one each. slide: of a backlash or a setting. move: of
    a setting, the number in the plan. fixed: its value where that is no question of how much. about: the radius at
    which a slide that counts wrong, or a tool off centre, was right, mm. way: of a backlash, whether the slide fell
    short on its way back, outward or away from the chuck, or forth. choices: among how many like it this one was
    picked.
    """

    name: CauseName
    tool: str | None = None
    slide: Literal["cross", "saddle"] | None = None
    move: int | None = None
    fixed: float | None = None
    about: float = 0.0
    way: Literal["back", "forth"] = "back"
    choices: int = 1

    @property
    def unit(self) -> float:
        """A small step of it, to see what it does."""
        return {"taper": 5e-4, "centre_height": 0.01}.get(self.name, 0.005)

    @property
    def most(self) -> float:
        """The largest value that is looked at."""
        return {"taper": 0.05, "centre_height": MOST_HEIGHT**2, "setting": 2.0}.get(self.name, 1.5)

    @property
    def key(self) -> tuple[str, str | None]:
        """What tells it from others in words and documents."""
        return self.name, self.tool


def ordinary(plan: Plan, positions: Positions, touching: Sequence[int]) -> list[Cause]:
    """The causes to look at, but for single settings; `touching` are the moves that shaped what was read."""
    tools = [plan.tools[n] for n in sorted({int(positions.tool[m]) for m in touching})]
    noses = [Cause("nose_radius", tool.name) for tool in tools if tool.edge.noses]
    found = [Cause("cross_offset"), Cause("saddle_offset"), *noses, Cause("taper"), Cause("centre_height")]
    if len(tools) > 1:
        for tool in tools:
            found.append(Cause("cross_offset", tool.name, choices=len(tools)))
            found.append(Cause("saddle_offset", tool.name, choices=len(tools)))
    at_touch = plan.job.shop.stock.radius
    found.append(Cause("centre_height", about=at_touch))
    for slide in (plan.job.shop.cross, plan.job.shop.fine):
        name: Literal["cross", "saddle"] = "cross" if slide.name == "cross" else "saddle"
        seldom = 1 if slide.on_dial else SELDOM
        found += [Cause("backlash", slide=name, way=way, choices=seldom) for way in _WAYS]
    for about in (0.0, at_touch):
        found += [Cause("counts_twice", fixed=1.0, about=about), Cause("counts_half", fixed=1.0, about=about)]
    return found


def settings_wrong(positions: Positions, touching: Sequence[int]) -> Iterator[Cause]:
    """Every setting of a slide by which a move that shaped what was read was guided."""
    settings, moves = positions.settings, np.array(sorted(touching), dtype=np.int64)
    ends = {"cross": settings.cross_end[moves], "saddle": settings.saddle_end[moves]}
    made = {"cross": settings.cross_made, "saddle": settings.saddle_made}
    found: list[tuple[Literal["cross", "saddle"], int]] = []
    for slide in ("cross", "saddle"):
        found += [(slide, int(n)) for n in np.unique(ends[slide])]
    for slide, n in found:
        yield Cause("setting", slide=slide, move=int(made[slide][n]), choices=len(found))


def applied(positions: Positions, causes: Sequence[tuple[Cause, Value]]) -> Positions:
    """Where the tools went with these causes at work, each with its value (of centre height: its square)."""
    for cause, value in causes:
        positions = _APPLY[cause.name](positions, cause, value)
    return positions


def _mine(positions: Positions, cause: Cause) -> Floats:
    """1 for moves of the tool that a cause is about, or for all."""
    if cause.tool is None:
        return np.ones(positions.count)
    names = [tool.name for tool in positions.tools]
    return np.asarray(positions.tool == names.index(cause.tool), dtype=np.float64)


def _cross(positions: Positions, cause: Cause, value: Value) -> Positions:
    return positions.moved(0.0, positions.frame.sign * value * _mine(positions, cause))


def _saddle(positions: Positions, cause: Cause, value: Value) -> Positions:
    return positions.moved(value * _mine(positions, cause), 0.0)


def _nose(positions: Positions, cause: Cause, value: Value) -> Positions:
    mine = _mine(positions, cause)
    value = np.maximum(value, -0.95 * float(positions.radius[..., mine > 0].min()))
    leads = np.array([-np.sign(tool.reference[0]) for tool in positions.tools])[positions.tool]
    moved = positions.moved(value * leads * mine, value * mine)
    return replace(moved, radius=positions.radius + value * mine)


def _taper(positions: Positions, cause: Cause, value: Value) -> Positions:
    gain = -value * positions.frame.sign
    return replace(positions, y0=positions.y0 + gain * positions.x0, y1=positions.y1 + gain * positions.x1)


def _height(positions: Positions, cause: Cause, value: Value) -> Positions:
    """All radii grow; where the tool was touched off on the bar its radius is right, and smaller ones are large."""
    square = np.maximum(value, 0.0)
    at = replace(positions, height=np.sqrt(square))
    if not cause.about:
        return at
    back = cause.about - np.sqrt(np.maximum(cause.about**2 - square, 0.0))
    return at.moved(0.0, -positions.frame.sign * (back[..., None] if np.ndim(back) == 1 else back))


def _counts(positions: Positions, cause: Cause, value: Value) -> Positions:
    """The reference point went half or twice as far as was meant, from where it was right."""
    share = 0.5 if cause.name == "counts_twice" else 2.0
    sign, radius = positions.frame.sign, positions.radius

    def r(y: Floats) -> Floats:
        at = sign * (y - radius)
        return np.asarray(sign * (cause.about + share * (at - cause.about)) + radius)

    return replace(positions, y0=r(positions.y0), y1=r(positions.y1))


def _backlash(positions: Positions, cause: Cause, value: Value) -> Positions:
    """Where the slide came to its figure going out, or away from the chuck (forth: the other way), it stands short."""
    settings, sign = positions.settings, 1.0 if cause.way == "back" else -1.0
    if cause.slide == "cross":
        short = _came(settings.cross_outward, cause.way)
        by = positions.frame.sign * sign * value
        start, end = settings.cross_start, settings.cross_end
        return replace(positions, y0=positions.y0 - by * short[start], y1=positions.y1 - by * short[end])
    short, by = _came(settings.saddle_away, cause.way), sign * value
    start, end = settings.saddle_start, settings.saddle_end
    return replace(positions, x0=positions.x0 - by * short[start], x1=positions.x1 - by * short[end])


def _came(back: Floats, way: str) -> Floats:
    """1 for the settings that were come to one way; a slide that is set anew is brought to its figure forth."""
    return back if way == "back" else 1.0 - back


def _setting(positions: Positions, cause: Cause, value: Value) -> Positions:
    """One setting: outward or away from the chuck positive; it holds until that slide is set again."""
    settings = positions.settings
    if cause.slide == "cross":
        n = int(np.flatnonzero(settings.cross_made == cause.move)[-1])
        by = positions.frame.sign * value
        start, end = (settings.cross_start == n) * by, (settings.cross_end == n) * by
        return replace(positions, y0=positions.y0 + start, y1=positions.y1 + end)
    n = int(np.flatnonzero(settings.saddle_made == cause.move)[-1])
    start, end = (settings.saddle_start == n) * value, (settings.saddle_end == n) * value
    return replace(positions, x0=positions.x0 + start, x1=positions.x1 + end)


_APPLY = {
    "cross_offset": _cross,
    "saddle_offset": _saddle,
    "nose_radius": _nose,
    "taper": _taper,
    "centre_height": _height,
    "counts_twice": _counts,
    "counts_half": _counts,
    "backlash": _backlash,
    "setting": _setting,
}
