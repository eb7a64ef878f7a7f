"""Finishing by one slide moved a constant amount: every whole multiple of it, wherever such steps keep the ridge.

Along the curve the figures of that slide are then 12, 11, 10, … (on a dial, a whole turn each), which is easy to wind
and hard to get wrong. It takes more stations than the fewest. Where equal steps would leave more than the ridge, and on
cylinders and faces, which one plain pass finishes, the settings are chosen as usual.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ovolo.geometry.chain import Floats, Ints
from ovolo.geometry.coverage import Settings, Spans
from ovolo.plan.stations.stations import REACHED, Chooser, cover_of
from ovolo.plan.view.frame import Frame
from ovolo.shop.slides import EqualSteps
from ovolo.shop.tools import Tool
from ovolo.tolerances import LEVEL

Stretch = tuple[float, float]

#: Fewer settings in a row than this are no equal steps.
FEWEST_IN_A_ROW = 2
#: A nose that lies in a direction farther than this from the outline's normal rests on a corner, radians.
ON_CORNER = 0.02


@dataclass(frozen=True)
class Row:
    """Settings at consecutive multiples whose stretches join up: which of the chooser's, in order; what each covers;
    from where to where they serve together."""

    chooser: Chooser
    covers: Spans
    picked: tuple[int, ...]
    begin: float
    end: float


class _Still:
    """A tool that is not taken along the axis at a setting: the saddle would leave its multiple."""

    apart = 0.0

    def limits(self, x: Floats, y: Floats, target: Floats, *, ahead: bool) -> Floats:
        """Nowhere else."""
        return x


def rows_in(
    frame: Frame, tool: Tool, settings: Settings, stretch: Stretch, ridge: float, by: EqualSteps
) -> tuple[Row, ...]:
    """The rows of equal steps that serve a stretch of the outline, the one at the free end first."""
    if not tool.edge.noses:  # a form tool touches now here and now there: a step of it is not even anywhere
        return ()
    multiples, index = _multiples(frame, tool, settings, by)
    if not len(index):
        return ()
    if by.slide != "cross":
        covers = tool.edge.spans(frame.chain, multiples, ridge, _Still())
    else:
        covers = cover_of(frame, tool, multiples, ridge)
    best = _one_each(frame, tool, multiples, covers, index, by)
    chooser = Chooser(frame, tool, stretch, multiples)
    rows = [_row(chooser, covers, group, stretch) for group in _joined(covers, index, best, stretch)]
    return tuple(row for row in rows if len(row.picked) >= FEWEST_IN_A_ROW)


def between(frame: Frame, rows: Sequence[Row], stretch: Stretch) -> list[Stretch]:
    """What the rows leave of a stretch, to be finished as usual; the axis always, unless a row begins at it."""
    gaps, at = [], stretch[0]
    for i, row in enumerate(rows):
        axis = i == 0 and frame.on_axis and at <= REACHED
        if axis and not _at_axis(row):
            gaps.append((at, max(row.begin, at + 10 * REACHED)))
        elif row.begin - at > REACHED:
            gaps.append((at, row.begin))
        at = row.end
    return [*gaps, (at, stretch[1])] if stretch[1] - at > REACHED else gaps


def _at_axis(row: Row) -> bool:
    at_axis = row.chooser.at_axis
    return row.begin <= REACHED and at_axis is not None and bool(at_axis[row.picked[0]])


def _multiples(frame: Frame, tool: Tool, s: Settings, by: EqualSteps) -> tuple[Settings, Ints]:
    """The settings at whole multiples of the amount, and which multiple each is; none that touch a cylinder, a face or
    only a corner."""
    lattice, shop = frame.lattice(tool), frame.job.shop
    if by.slide != "cross":
        counts, slide = np.rint((s.x - s.shift - lattice.x0) / lattice.dx), shop.fine
    else:
        counts, slide = np.rint((s.y - lattice.y0) / lattice.dy), shop.cross
    each = max(1, round(by.amount / slide.count))
    k, t = frame.chain.locate(s.u)
    nx, ny = frame.chain.normals(k, t)
    level = ~frame.chain.is_arc[k] & (np.abs(nx if by.slide != "cross" else ny) < LEVEL)
    px, py = frame.chain.points(s.u)
    away = tool.nose_radius + s.gap
    corner = np.hypot((s.x - px) / away - nx, (s.y - py) / away - ny) > ON_CORNER
    which = np.flatnonzero((counts % each == 0) & ~level & ~corner)
    return s.take(which), (counts[which] / each).astype(np.int64)


def _one_each(frame: Frame, tool: Tool, s: Settings, covers: Spans, index: Ints, by: EqualSteps) -> list[int]:
    """For each multiple, and on each flank, the setting that covers most."""
    lattice = frame.lattice(tool)
    nx, _ = frame.chain.normals(*frame.chain.locate(s.u))
    columns = np.rint((s.x - s.shift - lattice.x0) / lattice.dx)
    order = np.lexsort((s.u, s.shift, index))
    best: dict[int, int] = {}
    group, last = 0, -1
    for i in order:
        parted = last < 0 or index[i] != index[last] or s.shift[i] != s.shift[last]
        if by.slide == "cross" and not parted:  # the same row again on another flank
            parted = np.sign(nx[i]) != np.sign(nx[last]) or abs(columns[i] - columns[last]) > 1
        group, last = group + parted, int(i)
        if covers.end[i] <= covers.begin[i]:
            continue
        held = best.get(group)
        if held is None or covers.end[i] - covers.begin[i] > covers.end[held] - covers.begin[held]:
            best[group] = int(i)
    return sorted(best.values(), key=lambda i: (covers.begin[i], covers.end[i]))


def _joined(covers: Spans, index: Ints, best: Sequence[int], stretch: Stretch) -> list[list[int]]:
    """Runs of consecutive multiples that leave no more than the ridge between them."""
    inside = [i for i in best if covers.end[i] > stretch[0] + REACHED and covers.begin[i] < stretch[1] - REACHED]
    groups = [[i] for i in inside[:1]]
    for a, b in pairwise(inside):
        joined = abs(index[a] - index[b]) == 1 and covers.begin[b] <= covers.end[a] < covers.end[b]
        if joined:
            groups[-1].append(b)
        else:
            groups.append([b])
    return groups


def _row(chooser: Chooser, covers: Spans, group: list[int], stretch: Stretch) -> Row:
    """A run without what lies wholly beyond the ends of the stretch; the axis is always wanted."""
    axis = chooser.at_axis if chooser.at_axis is not None else np.zeros(len(covers.begin), dtype=bool)
    while len(group) > 1 and covers.begin[group[1]] <= stretch[0] + REACHED and not axis[group[0]]:
        group = group[1:]
    while len(group) > 1 and covers.end[group[-2]] >= stretch[1] - REACHED:
        group = group[:-1]
    begin, end = float(covers.begin[group[0]]), float(covers.end[group[-1]])
    return Row(chooser, covers, tuple(group), max(begin, stretch[0]), min(end, stretch[1]))
