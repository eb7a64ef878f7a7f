"""The top slide set over to the angle of a taper: it cuts the cone in one pass along it, without steps.

Saddle and cross slide rough as ever and bring the tool to a figure of theirs from which the way of the top slide runs
along the cone: of all such figures one from which it runs as near to it as may be, and nowhere in the part. The pass
carries on beyond both ends of the cone as far as it may, to enter and leave clear of metal. What it leaves within the
ridge is done; the rest of the curve is finished by settings.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from ovolo.errors import Fault
from ovolo.geometry.bisection import bisected
from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.view.frame import NEAR, Frame
from ovolo.shop.set_over import SetOver
from ovolo.shop.tools import Tool
from ovolo.tolerances import LEVEL

Stretch = tuple[float, float]

#: A straight piece of the curve shorter than this is no taper to set a slide for, mm.
SHORT = 0.5
#: Over so many mm the figures from which a pass may start are compared.
CHOICE = 2.0
#: Heights that differ by less are the same, mm.
LOST = 1e-7
#: A pass has to get along at least this share of a cone.
LEAST = 0.5
#: A way this much too low is free: then it is laid as high as it has to be, mm.
LOOSE = 1e-6
#: Less than this of the curve is nothing left for settings, mm.
REST = 1e-4
#: How closely the ends of what a pass covers are looked for, mm.
CLOSE = 0.005
#: A pass leaves metal this far behind it where nothing stands in its way, mm.
CLEAR = 0.5


class Piece(NamedTuple):
    """A straight piece of the curve: its place along the outline, mm, and its angle in the planner's frame, radians,
    positive where it rises toward the chuck."""

    begin: float
    end: float
    angle: float


@dataclass(frozen=True)
class SlantPass:
    """A pass of the top slide along a cone, in the planner's frame: the nose centre goes from `start` to `end`.

    `leaves` is the most that it leaves on the cone, mm. `entry` and `exit` tell whether it begins and ends clear of
    what roughing leaves.
    """

    tool: Tool
    piece: Piece
    start: Point
    end: Point
    leaves: float
    entry: bool
    exit: bool

    @property
    def length(self) -> float:
        """How far the top slide goes, mm."""
        return math.dist(self.start, self.end)

    def covers(self, frame: Frame, ridge: float) -> Stretch:
        """The stretch of the outline above which it leaves no more than `ridge`."""
        chain, middle = frame.chain, (self.piece.begin + self.piece.end) / 2
        shift = _corner(self.tool, self.piece)

        trim_start, trim_end = chain.trims(ridge)  # in a hollow corner the parallels of its sides end where they meet

        def inside(u: Floats) -> np.ndarray:
            k, t = chain.locate(u)
            x, y = chain.offset_points(k, t, ridge)
            counts = (t >= trim_start[k]) & (t <= chain.size[k] - trim_end[k])
            return np.asarray(~counts | (_away(x - shift, y, self.start, self.end) <= self.tool.nose_radius + LOST))

        ends = []
        for limit in frame.stretch:
            u = np.linspace(middle, limit, math.ceil(abs(limit - middle) / CLOSE) + 2)
            out = np.flatnonzero(~inside(u))
            if not len(out):
                ends.append(limit)
                continue
            good, bad = float(u[max(out[0] - 1, 0)]), float(u[out[0]])
            ends.append(bisected(lambda place: bool(inside(np.array([place]))[0]), good, bad, close=LOST)[0])
        return ends[0], ends[1]


def _away(x: Floats, y: Floats, a: Point, b: Point) -> Floats:
    """Distance of points from the way between two places, mm."""
    dx, dy = b.x - a.x, b.y - a.y
    share = np.clip(((x - a.x) * dx + (y - a.y) * dy) / (dx * dx + dy * dy), 0.0, 1.0)
    return np.asarray(np.hypot(x - a.x - share * dx, y - a.y - share * dy))


def _corner(tool: Tool, piece: Piece) -> float:
    """How far the nose that touches lies from the nose centre along x: of a blade the corner on the cone's side."""
    return tool.edge.noses[-1] if piece.angle < 0 else 0.0


def leaning(frame: Frame) -> list[Piece]:
    """The straight pieces of the curve that are neither cylinders nor faces."""
    chain, (start, end) = frame.chain, frame.stretch
    out = []
    for k in np.flatnonzero(~chain.is_arc & (np.minimum(np.abs(chain.tx), np.abs(chain.ty)) > LEVEL)):
        low, high = max(float(chain.starts[k]), start), min(float(chain.starts[k + 1]), end)
        if high - low >= SHORT and chain.tx[k] < 0:
            out.append(Piece(low, high, math.atan2(float(chain.ty[k]), float(-chain.tx[k]))))
    return out


def cones(frame: Frame) -> list[Piece]:
    """Those of them that run along the top slide, as nearly as the ridge allows over their length."""
    over = frame.job.shop.set_over
    if over is None:
        return []
    angle, ridge = frame.sign * over.angle, frame.job.part.ridge
    return [p for p in leaning(frame) if (p.end - p.begin) * abs(math.sin(p.angle - angle)) <= ridge]


def pass_along(frame: Frame, tool: Tool, piece: Piece) -> SlantPass | None:
    """The pass of a tool along a cone; None where it does not get along it, or leaves more than the ridge."""
    key = (tool, piece)
    known: dict[tuple[Tool, Piece], SlantPass | None] = frame.slants
    if key not in known:
        over = frame.job.shop.set_over
        known[key] = None if over is None or not tool.edge.noses else _Way(frame, tool, piece, over).found()
    return known[key]


class _Way:
    """The way of the top slide past a piece: height over the contact line of a tool at close places, from which figure
    to which."""

    def __init__(self, frame: Frame, tool: Tool, piece: Piece, over: SetOver) -> None:
        self.frame, self.tool, self.piece, self.over = frame, tool, piece, over
        self.lattice, self.line = frame.lattice(tool), frame.contact_line(tool)
        self.angle = frame.sign * over.angle
        self.slope = math.tan(self.angle)
        x, y = frame.chain.points(np.array([piece.begin, piece.end]))
        out = math.sin(piece.angle) * tool.nose_radius - _corner(tool, piece)
        self.first, self.last = float(x[0]) + out, float(x[1]) + out  # the nose centre touching either end
        touching = y + math.cos(piece.angle) * tool.nose_radius + self.slope * (x + out)
        self.height = float(touching.max()) + LOOSE  # in the same measure as `rise`
        self.rise = self.line.height + self.slope * self.line.x  # a way of this angle is level in it
        self.low = frame.deepest(tool) + self.slope * self.line.x

    def found(self) -> SlantPass | None:
        """The pass, if there is one."""
        height = self.height
        left, right = self._free(height)
        if min(right, self.first) - max(left, self.last) < LEAST * (self.first - self.last):
            return None
        clear = self.frame.contact_line(self.tool, self.frame.job.shop.allowance + NEAR).height
        stands = clear + self.slope * self.line.x > height
        longest = math.inf if self.over.slide.travel is None else self.over.slide.travel * math.cos(self.angle)
        need = self.first - self.last
        if need > longest:
            return None
        spare = longest - need
        ahead = self._beyond(stands, self.first, right, 1)
        behind = self._beyond(stands, self.last, left, -1)
        entry, leave = ahead is not None, behind is not None
        start = min(self.first if ahead is None else ahead, self.first + spare)
        spare -= max(start - self.first, 0.0)
        end = max(left if behind is None else behind - CLEAR, left, self.last - spare)
        return self._from(start, min(right, self.first + longest - need), end, entry, leave)

    def _between(self, low: float, high: float) -> np.ndarray:
        return np.asarray((self.line.x >= low - LOST) & (self.line.x <= high + LOST))

    def _free(self, height: float) -> Stretch:
        """How far the way is free both ways from the piece: neither in the part nor deeper than the tool may stand."""
        x = self.line.x
        blocked = (self.rise > height + LOST) | (self.low > height + LOST)
        middle = int(np.searchsorted(x, (self.first + self.last) / 2))
        if blocked[middle]:
            return math.inf, -math.inf
        before, after = np.flatnonzero(blocked[:middle]), np.flatnonzero(blocked[middle:])
        left = float(x[before[-1] + 1]) if len(before) else float(x[0])
        right = float(x[middle + after[0] - 1]) if len(after) else float(x[-1])
        return left, right

    def _beyond(self, stands: np.ndarray, at: float, limit: float, way: int) -> float | None:
        """The first place from `at` on, as far as the limit, where what roughing leaves is no longer touched."""
        inside = self._between(min(at, limit), max(at, limit)) & ~stands
        places = self.line.x[inside]
        if not len(places):
            return None
        return float(places[0] if way > 0 else places[-1])

    def _from(self, start: float, most: float, end: float, entry: bool, leave: bool) -> SlantPass | None:
        """The pass from the best figures at `start` or a little farther out, no farther than `most`, to `end`."""
        lattice = self.lattice
        low, high = lattice.column_at(start, True), lattice.column_at(min(start + CHOICE, most), False)
        if high < low:  # no figure of the saddle lies there: it starts later, and settings finish what is before it
            low = high = lattice.column_at(min(start, most), False)
        best: tuple[float, float, float] | None = None
        for column in range(low, high + 1):
            x = lattice.x(column)
            on = self._between(end, x)
            height = float(self.rise[on].max()) if on.any() else math.inf
            y = lattice.y_up(max(height - self.slope * x, self.frame.deepest(self.tool)))
            spare = y + self.slope * x - height
            if best is None or spare < best[0] - LOST:
                best = spare, x, y
        assert best is not None
        return self._pass(Point(best[1], best[2]), end, entry and start <= best[1], leave)

    def _pass(self, start: Point, end: float, entry: bool, leave: bool) -> SlantPass | None:
        """A pass from a place, a whole number of counts long, if it leaves no more than the ridge."""
        count, along = self.over.slide.count, (start.x - end) / math.cos(self.angle)
        length = count * math.floor(along / count + 1e-6)
        if length <= 0:
            return None
        way = Point(start.x - length * math.cos(self.angle), start.y + length * math.sin(self.angle))
        made = SlantPass(self.tool, self.piece, start, way, 0.0, entry, leave)
        u = np.linspace(self.piece.begin, self.piece.end, 200)
        x, y = self.frame.chain.points(u)
        x = x - _corner(self.tool, self.piece)
        gap = _away(x, y, start, way) - self.tool.nose_radius
        share = ((x - start.x) * (way.x - start.x) + (y - start.y) * (way.y - start.y)) / length**2
        leaves = float(gap[(share > 0) & (share < 1)].max(initial=0.0))
        if leaves > self.frame.job.part.ridge:
            return None
        return SlantPass(self.tool, self.piece, made.start, made.end, max(leaves, 0.0), entry, leave)


def passes_by(frame: Frame, tools: Sequence[Tool], ridge: float) -> list[SlantPass] | None:
    """A pass along every cone, with the largest nose of these tools that gets along it; None where none does."""
    out = []
    for piece in cones(frame):
        found = [pass_along(frame, tool, piece) for tool in sorted(tools, key=lambda t: -t.nose_radius)]
        able = [item for item in found if item is not None and item.leaves <= ridge]
        if not able:
            return None
        out.append(able[0])
    return out


def left_to_step(frame: Frame, passes: Sequence[SlantPass], ridge: float) -> list[Stretch]:
    """What these passes leave of the curve for settings."""
    left = [frame.stretch]
    for low, high in (item.covers(frame, ridge) for item in passes):
        left = [(a, b) for c, d in left for a, b in ((c, min(d, low)), (max(c, high), d)) if b - a > REST]
    return left


def slant_faults(frame: Frame, tools: Sequence[Tool]) -> list[Fault]:
    """A top slide at an angle that no piece of the curve has, or along which no tool gets."""
    over = frame.job.shop.set_over
    if over is None:
        return []
    found = cones(frame)
    if not found:
        return [_no_such(frame, round(math.degrees(over.angle), 6))]
    none = [piece for piece in found if all(pass_along(frame, tool, piece) is None for tool in tools)]
    return [_no_way(frame, over, piece, tools) for piece in none]


def _no_such(frame: Frame, said: float) -> Fault:
    angles = [frame.sign * math.degrees(p.angle) for p in leaning(frame)]
    texts = list(dict.fromkeys(f"{angle:.4g}" for angle in angles))
    limit = ("one of " if len(texts) > 1 else "") + ", ".join(texts) if texts else "0"
    says = "no straight piece of the curve leans by as much, within what the ridge allows over its length"
    remedy = (
        "Set it to one of these, which the curve has, or correct the outline"
        if texts
        else "The curve has no straight piece that leans: set the slide parallel to the axis, or leave it out"
    )
    return Fault("slide.top.angle", said, limit, says, remedy)


def _no_way(frame: Frame, over: SetOver, piece: Piece, tools: Sequence[Tool]) -> Fault:
    unit, name = frame.job.measure
    length = (piece.end - piece.begin) / unit
    travel = over.slide.travel
    if travel is not None and piece.end - piece.begin > travel:
        says = f"the taper is {length:.4g} {name} long, and the slide has to go along all of it"
        remedy = "Finish with saddle and cross slide alone, or shorten the curve"
        return Fault("slide.top.travel", round(travel / unit, 4), f"at least {length:.4g} {name}", says, remedy)
    x, _ = frame.chain.points(np.array([piece.begin, piece.end]))
    says = (
        f"no tool gets along the taper from z = {x[0] / unit:.4g} to {x[1] / unit:.4g} within the ridge: its edge or "
        "shank is in the way, or the slides cannot be set finely enough"
    )
    remedy = "Add a tool that gets there, give finer counts, or finish with saddle and cross slide alone"
    tool = ", ".join(t.name for t in tools)
    return Fault("tool", tool, "a tool that gets along the taper", says, remedy)
