"""A part whose ridges were filed away: the surface as if it had been cut at every place, not at settings alone.

Each place is cut by the tool of the nearest setting, and shares the errors of that setting.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ovolo.check.positions import Positions
from ovolo.geometry.chain import Floats
from ovolo.plan.model import Plan
from ovolo.predict.forecast.settings import Setting, settings_of

__all__ = ["FILING", "without_ridges"]

FILING = 0.01
"""Standard uncertainty of what filing leaves, square to the outline, mm (common practice, no source)."""

OFF = 0.1
"""A nose farther than this from the outline does not touch it, mm."""

CLOSE = 0.05
"""The virtual cuts are this far apart, mm."""


def without_ridges(plan: Plan, positions: Positions) -> Positions:
    """Positions that leave the surface of a plan without its ridges; the plan's own where no nose made it."""
    settings = [s for s in settings_of(plan) if s.nose_radius > 0 and s.move > 0 and _touches(s)]
    if len(settings) < 2:
        return positions
    index = {move.n: n for n, move in enumerate(plan.moves)}
    chain, (start, end) = positions.frame.chain, positions.frame.curve_ends
    place = np.array([s.place for s in settings])
    edges = np.concatenate([[min(start, place[0])], (place[1:] + place[:-1]) / 2, [max(end, place[-1])]])
    x, y, move = [], [], []
    for n, setting in enumerate(settings):
        u = np.linspace(edges[n], edges[n + 1], max(2, int((edges[n + 1] - edges[n]) / CLOSE)))
        off = float(np.hypot(setting.centre.x - setting.foot.x, setting.centre.y - setting.foot.y))
        cx, cy = chain.points(u, max(off, setting.nose_radius))
        x.append(cx)
        y.append(cy)
        move.append(np.full(len(u), index[setting.move]))
    return _added(positions, np.concatenate(x), np.concatenate(y), np.concatenate(move))


def _touches(setting: Setting) -> bool:
    """Whether a setting touches the outline that is seen: beneath a lip it does not."""
    away = np.hypot(setting.centre.x - setting.foot.x, setting.centre.y - setting.foot.y) - setting.nose_radius
    return bool(abs(away) < OFF)


def _added(positions: Positions, x: Floats, y: Floats, move: np.ndarray) -> Positions:
    """The virtual cuts after the plan's own moves."""
    settings = positions.settings

    def more(values: np.ndarray, new: np.ndarray) -> np.ndarray:
        return np.concatenate([values, new])

    return replace(
        positions,
        tool=more(positions.tool, positions.tool[move]),
        x0=more(positions.x0, x),
        x1=more(positions.x1, x),
        y0=more(positions.y0, y),
        y1=more(positions.y1, y),
        radius=more(positions.radius, positions.radius[move]),
        under=None if positions.under is None else np.c_[positions.under, positions.under[:, move]],
        settings=replace(
            settings,
            cross_start=more(settings.cross_start, settings.cross_end[move]),
            cross_end=more(settings.cross_end, settings.cross_end[move]),
            saddle_start=more(settings.saddle_start, settings.saddle_end[move]),
            saddle_end=more(settings.saddle_end, settings.saddle_end[move]),
        ),
    )
