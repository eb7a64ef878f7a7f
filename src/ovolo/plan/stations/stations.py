"""Where to set the slides: the fewest settings that leave no more than the ridge asked for, evenly spread.

Settings are chosen among the points of the readout's own grid that lie on or just outside the contact line, so what is
proven holds for the figures as printed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.geometry.coverage import Settings, Spans
from ovolo.plan.stations.search import least_that_serves
from ovolo.plan.view.lattice import Lattice
from ovolo.plan.view.view import View
from ovolo.shop.tools import Tool

#: A normal this near to the axis stands on a face.
UPRIGHT_FACE = 1 - 1e-9
#: How closely the least ridge is found, mm.
RIDGE_STEP = 2e-5
#: How far short of the end of a stretch counts as having reached it, mm.
REACHED = 1e-6


@dataclass(frozen=True)
class Pass:
    """One station: the nose is taken at height `y` from `first` to `last` (x, falling), which are one place except on
    cylinders and where a level sweep is needed. `foot` is its place on the outline. Without `station` a plain pass that
    another setting would have made less near."""

    y: float
    first: float
    last: float
    foot: float
    station: bool = True


@dataclass(frozen=True)
class Choice:
    """Settings chosen for a stretch of the outline and the ridge they were chosen for, mm."""

    passes: tuple[Pass, ...]
    ridge: float


def grid_settings(frame: View, tool: Tool, stretch: tuple[float, float]) -> Settings:
    """The points of the grid that lie next to the contact line over a stretch of the outline."""
    return tool.edge.settings(frame.chain, *_next_to_the_line(frame, tool, stretch), stretch)


def _next_to_the_line(frame: View, tool: Tool, stretch: tuple[float, float]) -> tuple[Floats, Floats]:
    """The points of the grid next to the contact line from which a tool can touch a stretch; in rising order of x."""
    lattice, edge = frame.lattice(tool), tool.edge
    x, _ = frame.chain.points(np.linspace(*stretch, 400))
    first = lattice.column_at(float(x.min()) - edge.toward_end, False) - 1
    last = lattice.column_at(float(x.max()) + edge.toward_chuck, True) + 1
    columns, low = column_rows(frame, tool, lattice, first, last)
    beside = np.maximum(np.concatenate([low[1:], low[-1:]]), np.concatenate([low[:1], low[:-1]]))
    many = np.maximum(beside - low, 0) + 1
    of = np.repeat(np.arange(len(columns)), many)
    row = low[of] + np.arange(len(of)) - np.repeat(np.cumsum(many) - many, many)
    return lattice.x0 + columns[of] * lattice.dx, lattice.y0 + row * lattice.dy


def column_rows(frame: View, tool: Tool, lattice: Lattice, first: int, last: int) -> tuple[np.ndarray, np.ndarray]:
    """The columns from `first` to `last` and, for each, the lowest row at which the tool stands clear of the part."""
    line = frame.contact_line(tool)
    columns = np.arange(first, last + 1)
    height = line.columns(first, last)
    deepest = frame.deepest(tool)
    least = lattice.row_at(deepest, True)
    rows = np.ceil((np.where(np.isfinite(height), height, deepest) - lattice.y0) / lattice.dy - 1e-6)
    return columns, np.maximum(rows.astype(np.int64), least)


def cover_of(frame: View, tool: Tool, settings: Settings, ridge: float) -> Spans:
    """What each setting of a tool covers."""
    return tool.edge.spans(frame.chain, settings, ridge, frame.contact_line(tool))


def uncovered(frame: View, covered: Spans) -> list[tuple[float, float]]:
    """The parts of the curve above which every setting leaves more than the ridge: out of this tool's reach."""
    start, end = frame.stretch
    order = np.argsort(covered.begin)
    begin, far = covered.begin[order], np.maximum.accumulate(covered.end[order])
    gaps, at = [], start
    while at < end - REACHED:
        i = int(np.searchsorted(begin, at + REACHED, side="right")) - 1
        if i >= 0 and far[i] > at + REACHED:
            at = float(far[i])
            continue
        following = float(begin[i + 1]) if i + 1 < len(begin) else math.inf
        gaps.append((at, min(following, end)))
        at = following
    return gaps


class Chooser:
    """Chooses settings for one tool over one stretch of the outline."""

    def __init__(
        self,
        frame: View,
        tool: Tool,
        stretch: tuple[float, float],
        settings: Settings,
        known: dict[float, Spans] | None = None,
    ) -> None:
        self.frame, self.tool, self.stretch, self.settings = frame, tool, stretch, settings
        self.known = known or {}
        self.at_axis = self._axis_settings() if frame.on_axis and stretch[0] <= REACHED else None

    def _axis_settings(self) -> np.ndarray:
        """The settings whose nose centre is as near the axis as the grid allows: no pip may be left in the middle."""
        return self.frame.axis_settings(self.tool, self.settings.x, self.settings.y)

    def _spans(self, ridge: float) -> Spans:
        """What every setting covers; `known` holds what was worked out before."""
        found = self.known.get(ridge)
        return cover_of(self.frame, self.tool, self.settings, ridge) if found is None else found

    def _fewer_to_choose_from(self, ridges: Sequence[float]) -> Chooser:
        """The same with only those settings that no other beats at both ends, at one of these ridges at least.

        A setting that is beaten at a ridge is beaten at those near it too: the search between them loses nothing that
        could be measured, and looks at a tenth of the settings.
        """
        keep = np.zeros(len(self.settings.x), dtype=bool)
        known = {ridge: self._spans(ridge) for ridge in ridges}
        for covers in known.values():
            order = np.lexsort((-covers.end, covers.begin))
            end = covers.end[order]
            before = np.concatenate([[-np.inf], np.maximum.accumulate(end)[:-1]])
            keep[order[end > before]] = True
        if self.at_axis is not None:
            keep |= self.at_axis
        known = {ridge: covers.take(keep) for ridge, covers in known.items()}
        return Chooser(self.frame, self.tool, self.stretch, self.settings.take(keep), known)

    def cover(self, ridge: float, most: int | None = None) -> tuple[Spans, list[int]] | None:
        """Fewest settings for a ridge (or None where they don't cover the stretch, or more than `most` are needed)."""
        covers = self._spans(ridge)
        picked = self._picked(covers)
        return None if picked is None or (most is not None and len(picked) > most) else (covers, picked)

    def _picked(self, covers: Spans) -> list[int] | None:
        """Each time the one that reaches farthest among those that join up."""
        at, picked = self.stretch[0], []
        if self.at_axis is not None:
            on = np.flatnonzero(self.at_axis & (covers.begin <= at + REACHED))
            if not len(on):
                return None
            picked = [int(on[np.argmax(covers.end[on])])]
            at = float(covers.end[picked[0]])
        order = np.argsort(covers.begin, kind="stable")
        end = covers.end[order]
        order = order[end >= np.maximum.accumulate(end)]  # the others are never the farthest
        begin, end = covers.begin[order], covers.end[order]
        following = np.searchsorted(begin, end + REACHED / 10, side="right") - 1
        chain, ends = following.tolist(), end.tolist()
        i = int(np.searchsorted(begin, at + REACHED / 10, side="right")) - 1
        while at < self.stretch[1] - REACHED:
            if i < 0 or ends[i] <= at + REACHED / 10:
                return None
            picked.append(int(order[i]))
            at, i = ends[i], chain[i]
        return picked

    def _need(self, covers: Spans, picked: Sequence[int] | None) -> float:
        """How many settings that is, the last step counted by its share that is needed; inf where none do.

        What is needed is to come to where a setting takes over that covers the rest.
        """
        if not picked:
            return math.inf if picked is None else 0.0
        wanted = float(covers.begin[covers.end >= self.stretch[1] - REACHED].min())
        a, b = ([self.stretch[0]] * 2 + covers.end[picked[:-1]].tolist())[-2:]
        share = (wanted - a) / (b - a) if b > a else 1.0
        return len(picked) - 1 + min(max(share, REACHED), 1.0)

    def choose(self, ridge: float) -> Choice | None:
        """The fewest settings for this ridge, then spread so that the highest ridge is as low as that number allows."""
        found = self.cover(ridge)
        if found is None:
            return None
        count = len(found[1])
        # What a number of settings leaves goes with its square: the lowest ridge is sought between these two.
        few = self._fewer_to_choose_from([ridge, ridge * min(max(0.4, (1 - 1 / count) ** 2), 0.95)])
        return few.least_ridge(count, upper=ridge)

    def least_ridge(self, count: int, upper: float, lower: float = 0.0) -> Choice | None:
        """The settings, at most `count` of them, that leave the lowest ridge; None where `upper` can't be kept."""
        found = self._least(count, upper, lower)
        return None if found is None else Choice(self.passes(*found[1]), found[0])

    def _least(self, count: int, upper: float, lower: float) -> tuple[float, tuple[Spans, list[int]]] | None:
        """The lowest ridge that `count` settings leave, with what they cover and which they are."""
        found: dict[float, tuple[Spans, list[int]]] = {}

        def needs(ridge: float) -> float:
            covers = self._spans(ridge)
            picked = self._picked(covers)
            found[ridge] = covers, picked or []
            return self._need(covers, picked)

        tried = {ridge: needs(ridge) for ridge in {*self.known, upper}}
        if tried[upper] > count:
            return None
        ridge = least_that_serves(needs, count, lower, upper, RIDGE_STEP, tried)
        return ridge, found[ridge]

    def one_fewer(self, count: int, ridge: float) -> float | None:
        """The lowest ridge that one setting fewer would leave, mm; None where no height up to the nose would do."""
        upper, wider = ridge, 1.05 * (count / max(count - 1, 1)) ** 2
        while upper < self.tool.nose_radius:
            lower, upper = upper, min(upper * min(wider, 1.5), self.tool.nose_radius)
            found = self._fewer_to_choose_from([lower, upper])._least(count - 1, upper, lower)
            if found is not None:
                return found[0]
            wider = 1.5
        return None

    def passes(self, covers: Spans, picked: Sequence[int]) -> tuple[Pass, ...]:
        """The settings with the level sweeps that they need: no farther than to where the next one takes over."""
        begins = [float(covers.begin[i]) for i in picked[1:]] + [self.stretch[1]]
        ends = [self.stretch[0]] + [float(covers.end[i]) for i in picked[:-1]]
        # Round a corner the place on the outline stands still and its parallel goes on: the farther of the two counts.
        heights = (0.0, self.frame.job.part.ridge)
        both = np.array([self.frame.chain.points(np.array([ends, begins]), h)[0] for h in heights])
        x_ends = both.max(axis=0)[0], both.min(axis=0)[1]
        lattice, s, out = self.frame.lattice(self.tool), self.settings, []
        line = self.frame.contact_line(self.tool)
        for n, i in enumerate(picked):
            shift = float(s.shift[i])
            x = float(s.x[i]) - shift
            first = min(float(covers.first[i]), float(x_ends[0][n])) - self.tool.lowest[1]
            last = max(float(covers.last[i]), float(x_ends[1][n])) - self.tool.lowest[0]
            y = float(s.y[i])
            x = max(x, last) if self._goes_on_level(x, last) else x
            first = line.free_toward(x, lattice.x_up(max(first, x)), y)
            last = line.free_toward(x, lattice.x(lattice.column_at(min(last, x), False)), y)
            first, last = lattice.x(lattice.column_at(first, False)), lattice.x_up(last)
            out.append(self._settled(Pass(y, max(first, x), min(last, x), float(s.u[i]))))
        return (self._from_the_mouth(out[0]), *out[1:]) if out else ()

    def _goes_on_level(self, x: float, last: float) -> bool:
        """Whether a setting stands farther toward the chuck than it has to along a cylinder: it may end sooner."""
        if x >= last or len(self.tool.edge.noses) != 1:
            return False
        line = self.frame.contact_line(self.tool)
        i, j = np.searchsorted(line.x, (x, last))
        return bool(np.ptp(line.height[i : j + 1]) < REACHED)

    def _from_the_mouth(self, item: Pass) -> Pass:
        """In a bore a form tool comes to its first setting from in front of the mouth: beside its upright flank there
        would be left standing what is in front of the part, and that leans over the curve."""
        if self.frame.sign > 0 or self.stretch[0] > REACHED or self.tool.edge.noses:
            return item
        lattice, line = self.frame.lattice(self.tool), self.frame.contact_line(self.tool)
        out = line.free_toward(item.first, lattice.x_up(self.frame.front + self.tool.nose_radius), item.y)
        return replace(item, first=max(item.first, lattice.x(lattice.column_at(out, False))))

    def _settled(self, item: Pass) -> Pass:
        """A plain pass as near to its cylinder or face as the grid allows: nearer covers more, and costs nothing.

        (On a slope it would cover another stretch, and where the job asks for equal steps they are what it asks for.)
        """
        if self.frame.job.shop.by is not None:
            return item
        lattice, line = self.frame.lattice(self.tool), self.frame.contact_line(self.tool)
        if item.first - item.last > REACHED:
            lowest = max(line.highest(item.last, item.first), self.frame.deepest(self.tool))
            return replace(item, y=min(item.y, lattice.y_up(lowest)))
        nx, _ = self.frame.chain.normals(*self.frame.chain.locate(np.array([item.foot])))
        if abs(nx[0]) < UPRIGHT_FACE:
            return item
        way, x = -math.copysign(lattice.dx, nx[0]), item.first
        while abs(x + way - item.first) < self.tool.nose_radius and line.highest(x + way, x + way) <= item.y + 1e-6:
            x += way
        return replace(item, first=x, last=x)
