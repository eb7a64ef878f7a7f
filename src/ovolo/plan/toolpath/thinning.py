"""Thinning: what roughing had to leave is gone over in layers, before finishing, where one cut may not take it all.

A nose that is wide for the bite can't follow a slope near 45°, nor clear the corner of a fillet little wider than
itself, with passes along and across. There the nose follows the outline at a distance, as in finishing but in coarse
steps, layer by layer from the outside in.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.plan.stations.stations import Pass
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.view.contact_line import ContactLine
from ovolo.plan.view.lattice import Lattice
from ovolo.plan.view.view import View
from ovolo.shop.tools import Tool

#: Ridges that a layer may leave, as a share of its thickness.
COARSE = 0.15
#: Steps out of the metal that are looked at together.
TOGETHER = 20
#: Cuts smaller than this many squares of the layer's thickness are left out.
LEAST = 0.02


def layers(frame: View, tool: Tool, metal: Metal, passes: Sequence[Pass], thickest: float) -> list[tuple[Pass, ...]]:
    """The layers that leave no more than `thickest` mm over the settings, the outermost first; `metal` is cut too."""
    if not passes:
        return []
    radius = tool.nose_radius
    low, high = min(p.last for p in passes) - radius, max(p.first for p in passes) + tool.edge.toward_end
    out = []
    for n in range(math.ceil(_standing(frame, metal, passes) / thickest - 1e-9) - 1, 0, -1):
        layer = _layer(frame, tool, metal, frame.contact_line(tool, n * thickest), (low, high), thickest)
        if layer:
            out.append(layer)
    return out


def _layer(
    frame: View, tool: Tool, metal: Metal, line: ContactLine, reach: tuple[float, float], thickness: float
) -> tuple[Pass, ...]:
    """Places along one contact line where the nose takes something."""
    lattice, chosen = frame.lattice(tool), []
    step = math.sqrt(8 * tool.edge.follows * COARSE * thickness)
    for x, y in _along(line, reach, step):
        place = _on_the_grid(line, lattice, x, max(y, frame.deepest(tool)))
        if place is None or metal.try_plunge(*place).area < LEAST * thickness**2:
            continue
        metal.cut_plunge(*place)
        chosen.append(place)
    if not chosen:
        return ()
    order = np.argsort([p[0] for p in chosen], kind="stable")
    xs, ys = np.array([chosen[i] for i in order]).T
    feet = np.empty(len(order))
    feet[order], _ = frame.chain.project(xs, ys, 2.0 * frame.job.shop.stock.radius)
    return tuple(Pass(y, x, x, float(u)) for (x, y), u in zip(chosen, feet, strict=True))


def _along(line: ContactLine, reach: tuple[float, float], step: float) -> list[tuple[float, float]]:
    """Places at even steps along a contact line and in its hollows, from the free end toward the chuck."""
    i, j = np.searchsorted(line.x, reach)
    x, y = line.x[i:j][::-1], line.height[i:j][::-1]
    x, y = x[np.isfinite(y)], y[np.isfinite(y)]
    if len(x) < 3:
        return []
    way = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    at = np.union1d(np.linspace(0.0, way[-1], max(2, math.ceil(way[-1] / step) + 1)), way[1:-1][_hollow(x, y)])
    return list(zip(np.interp(at, way, x).tolist(), np.interp(at, way, y).tolist(), strict=True))


def _hollow(x: Floats, y: Floats) -> np.ndarray:
    """Where the line turns sharply upward: the corner that a nose comes to rest in."""
    heading = np.arctan2(np.diff(y), -np.diff(x))
    return np.asarray(np.diff(heading) > 0.3)


def _on_the_grid(line: ContactLine, lattice: Lattice, x: float, y: float) -> tuple[float, float] | None:
    """The place of the grid next to one on the contact line, on its free side."""
    row = lattice.y_up(y)
    for column in (lattice.column_at(x, True), lattice.column_at(x, False)):
        if line.highest(lattice.x(column), lattice.x(column)) <= row + 1e-6:
            return lattice.x(column), row
    column = lattice.column_at(x, True)
    height = line.highest(lattice.x(column), lattice.x(column))
    return (lattice.x(column), lattice.y_up(height)) if math.isfinite(height) else None


def _standing(frame: View, metal: Metal, passes: Sequence[Pass]) -> float:
    """The greatest height of the metal over the settings and between them, square to the outline, mm."""
    feet = np.sort([p.foot for p in passes])
    places = np.unique(np.concatenate([np.linspace(a, b, 5) for a, b in itertools.pairwise(feet)] or [feet]))
    k, t = frame.chain.locate(places)
    nx, ny = frame.chain.normals(k, t)
    px, py = frame.chain.offset_points(k, t, 0.0)
    steps = np.linspace(0.0, 2.0 * frame.job.shop.stock.radius, 600)
    highest = 0.0
    for part in np.split(steps, range(TOGETHER, len(steps), TOGETHER)):  # most are out after a few steps
        x, y = px[:, None] + part * nx[:, None], py[:, None] + part * ny[:, None]
        inside = np.interp(x, metal.x, metal.height) > y
        on = inside.all(axis=1)
        highest = max(highest, float(part[np.where(on, 0, np.argmin(inside, axis=1))].max(initial=0.0)))
        px, py, nx, ny = px[on], py[on], nx[on], ny[on]
        if not len(px):
            return highest
    return float(steps[-1])
