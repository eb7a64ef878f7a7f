"""Plain passes: cylinders and faces inside the curve are brought to the very figure that the grid allows.

A setting in a hollow beside a cylinder may cover the whole cylinder by going level along it, as high as the ridge
allows: the fewest settings are proven with that. Where the nose could go lower along the cylinder itself, or nearer
down a face, a pass of its own does it. It carries no station: the number of settings stays what it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ovolo.plan.stations.stations import Pass
from ovolo.plan.view.frame import Frame, Lattice
from ovolo.shop.tools import Tool
from ovolo.tolerances import LEVEL
from ovolo.tolerances import SAME_PLACE as SAME

#: Shorter passes than this are not worth their moves, mm.
SHORT = 0.1

Stretch = tuple[float, float]


def with_plain(frame: Frame, tool: Tool, passes: Sequence[Pass], stretches: Sequence[Stretch]) -> tuple[Pass, ...]:
    """Settings with the plain passes that bring cylinders and faces within `stretches` of the outline to their figure,
    in order along it. One that goes along a cylinder as low already goes to its ends; a level sweep that a plain pass
    does in its stead is cut short."""
    if not tool.edge.noses:  # the lowest place of a form tool is not its nose
        return tuple(passes)
    out = list(passes)
    for plain in _wanted(frame, tool, passes, stretches):
        own = next((i for i, p in enumerate(out) if _goes_along(p, plain)), None)
        if own is not None:
            out[own] = replace(out[own], first=max(out[own].first, plain.first), last=min(out[own].last, plain.last))
            continue
        out.insert(next((i for i, p in enumerate(out) if p.foot > plain.foot), len(out)), plain)
    return tuple(_cut_short(out, frame.lattice(tool).dx))


def _goes_along(item: Pass, plain: Pass) -> bool:
    """Whether a setting goes along the cylinder of a plain pass as low as that."""
    overlap = min(item.first, plain.first) - max(item.last, plain.last)
    return item.y <= plain.y + SAME and overlap > SHORT


def _wanted(frame: Frame, tool: Tool, passes: Sequence[Pass], stretches: Sequence[Stretch]) -> Iterator[Pass]:
    chain = frame.chain
    for k in np.flatnonzero(~chain.is_arc & (np.minimum(np.abs(chain.tx), np.abs(chain.ty)) < LEVEL)):
        for start, end in stretches:
            low, high = max(float(chain.starts[k]), start), min(float(chain.starts[k + 1]), end)
            if high - low < SHORT:
                continue
            along = _cylinder if abs(chain.ty[k]) < LEVEL else _face
            found = along(frame, tool, passes, (low, high))
            if found is not None:
                yield found


def _cylinder(frame: Frame, tool: Tool, passes: Sequence[Pass], piece: Stretch) -> Pass | None:
    """A pass along a cylinder, at its ends as far as the settings that went along it higher, if it can; None where one
    of the settings goes as low, or no lower pass is possible."""
    lattice, line = frame.lattice(tool), frame.contact_line(tool)
    x, y = frame.chain.points(np.array(piece))
    if y[0] < frame.base + SAME or x[1] > x[0]:
        return None
    y_low = lattice.y_up(max(float(y[0]) + tool.nose_radius, frame.deepest(tool)))
    i, j = np.searchsorted(line.x, (x[1] - SAME, x[0] - tool.edge.noses[-1] + SAME))
    free = np.flatnonzero(line.height[i:j] <= y_low + SAME)
    if not len(free):
        return None
    last, first = lattice.x_up(float(line.x[i + free[0]])), lattice.x(lattice.column_at(line.x[i + free[-1]], False))
    if first - last < SHORT or line.highest(last, first) > y_low + SAME:
        return None
    if _swept(passes, first, last, y_low) > first - last - 2 * _spare(tool, lattice):
        return None
    beside = [p for p in passes if p.y > y_low and p.first > last and p.last < first]
    first = line.free_toward(first, max([first, *(p.first for p in beside)]), y_low)
    last = line.free_toward(last, min([last, *(p.last for p in beside)]), y_low)
    first, last = lattice.x(lattice.column_at(first, False)), lattice.x_up(last)
    return Pass(y_low, first, last, sum(piece) / 2, station=False)


def _swept(passes: Sequence[Pass], first: float, last: float, y: float) -> float:
    """How much of a level way the settings go along as low as that, mm."""
    low = [p for p in passes if p.y <= y + SAME and p.first > last and p.last < first]
    return sum(min(p.first, first) - max(p.last, last) for p in low)


def _face(frame: Frame, tool: Tool, passes: Sequence[Pass], piece: Stretch) -> Pass | None:
    """A pass down a face; None where one of the settings stands as near, or none nearer is possible."""
    lattice, line = frame.lattice(tool), frame.contact_line(tool)
    (face, _), ends = frame.chain.points(np.array(piece))
    looks_right = frame.chain.normals(*frame.chain.locate(np.array([sum(piece) / 2])))[0][0] > 0
    x = lattice.x_up(face + tool.nose_radius)
    if not looks_right:
        x = lattice.x(lattice.column_at(face - tool.edge.toward_end, False))
    y = lattice.y_up(max(line.highest(x, x), frame.deepest(tool)))
    if not max(ends) - y > SHORT or any(_as_near(p, x, looks_right, y) for p in passes):
        return None
    return Pass(y, x, x, sum(piece) / 2, station=False)


def _as_near(item: Pass, x: float, looks_right: bool, y: float) -> bool:
    """Whether a setting goes down a face as near as x, and as low."""
    near = item.last <= x + SAME if looks_right else item.first >= x - SAME
    return near and item.y <= y + SHORT


def _cut_short(passes: Sequence[Pass], count: float) -> list[Pass]:
    """Level sweeps no farther than to where a neighbouring plain pass takes over, lower.

    The end in the hollow, where the setting has its foot, is kept; the other one too where it lies more than a `count`
    beyond the plain pass.
    """
    out = list(passes)
    for i, plain in enumerate(passes):
        if plain.station or plain.first - plain.last < SHORT:
            continue
        for j in (i - 1, i + 1):
            item = out[j] if 0 <= j < len(out) else plain
            if item.y <= plain.y or item.first < plain.last or item.last > plain.first:
                continue
            if item.foot > plain.foot and item.last < plain.last and item.first < plain.first + count + SAME:
                out[j] = replace(item, first=plain.last)
            elif item.foot < plain.foot and item.first > plain.first and item.last > plain.last - count - SAME:
                out[j] = replace(item, last=plain.first)
    return out


def _spare(tool: Tool, lattice: Lattice) -> float:
    """How far short of its end a pass may stop: there the nose leaves less than half a count, mm."""
    return max(math.sqrt(tool.nose_radius * lattice.dy), lattice.dx) + SAME
