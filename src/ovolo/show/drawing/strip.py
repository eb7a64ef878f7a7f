"""What is left along the curve, unrolled: a strip whose heights are magnified much more than its length."""

from dataclasses import dataclass

import numpy as np

from ovolo.predict.forecast.settings import settings_of
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.lettering import breadth
from ovolo.show.paper.shapes import nice_scale
from ovolo.show.paper.style import Mode, style
from ovolo.show.paper.svg import XY, circle, closed, document, line, number, path, rect, text
from ovolo.show.paper.ticks import tick_text, ticks
from ovolo.units import Unit, format_figure, from_mm, to_mm

__all__ = ["StripView", "draw_strip", "strip_as_svg", "strip_view"]

SIZE = 3.2
_FINE = 900
_PITCH = 0.025
"""Places along the curve: so many at most, no nearer than this, mm; the border they come from is no finer."""

_BARE = 2e-4
"""What is lower than this is the outline itself, mm."""


@dataclass(frozen=True)
class StripView:
    """Heights over the outline along the curve, mm: places from the curve's free end, and what stands there.

    `asked` is the ridge that may be left, `settings` the places where the nose touches.
    """

    unit: Unit
    length: float
    profile: tuple[XY, ...]
    asked: float
    highest: float
    settings: tuple[float, ...]
    says: str


def strip_view(cuts: Cuts) -> StripView:
    """The strip of a plan."""
    plan, frame = cuts.plan, cuts.frame
    u, height, _ = plan.swept.over_curve
    start, end = frame.curve_ends
    many = int(min(_FINE, max(60, (end - start) / _PITCH)))
    edges = np.linspace(start, end, many + 1)
    highest = np.zeros(many)
    inside = (u >= start) & (u <= end) & (height > _BARE)
    np.maximum.at(highest, np.clip(np.digitize(u[inside], edges) - 1, 0, many - 1), height[inside])
    middles = (edges[:-1] + edges[1:]) / 2 - start
    unit = plan.job.units
    top = format_figure(plan.prediction.ridge_max, unit, 3 if unit == "mm" else 4)
    return StripView(
        unit=unit,
        length=end - start,
        profile=tuple((float(x), float(y)) for x, y in zip(middles, _bridged(highest), strict=True)),
        asked=plan.job.part.ridge,
        highest=plan.prediction.ridge_max,
        settings=tuple(s.place - start for s in settings_of(plan) if start - 1e-6 <= s.place <= end + 1e-6),
        says=f"Metal left along the curve, from its free end: at most {top} {unit}",
    )


def _bridged(heights: np.ndarray) -> np.ndarray:
    """Places that no point of the border fell into take the height between their neighbours."""
    seen = np.flatnonzero(heights > 0)
    if not len(seen):
        return heights
    near = np.interp(np.arange(len(heights)), seen, heights[seen])
    # A gap of more than a few places is bare: nothing stands there.
    gap = np.abs(np.arange(len(heights))[:, None] - seen[None, :]).min(axis=1) > 4
    return np.where(gap, 0.0, near)


def strip_as_svg(view: StripView, width: float = 180.0, height: float = 44.0, *, mode: Mode = "paper") -> str:
    """The strip as a picture of its own."""
    body = [rect(0, 0, width, height, "ground"), *draw_strip(view, 2, 2, width - 4, height - 4)]
    return document(
        width, height, "What is left along the curve", view.says, body, "" if mode == "page" else style(mode)
    )


def draw_strip(view: StripView, x: float, y: float, width: float, height: float) -> list[str]:
    """The strip in a rectangle of paper: heights on the left, lengths below, the scale in words."""
    marks = ticks(0.0, from_mm(max(view.asked, view.highest), view.unit), 2)
    margin = max(breadth(tick_text(mark, marks), SIZE) for mark in marks) + 3.0
    left, foot = x + margin, y + height - 11.0
    across = width - margin - 4.0
    up = nice_scale((foot - y - 5.0) / max(view.asked, view.highest, 1e-6))
    along = across / view.length

    def at(place: float, high: float) -> XY:
        return left + along * place, foot - up * high

    outline = [at(0, 0), *(at(place, high) for place, high in view.profile), at(view.length, 0)]
    pieces = [
        path(closed(outline), "to-go"),
        path("M" + "L".join(f"{number(px)} {number(py)}" for px, py in outline[1:-1]), "red"),
        line(at(0, view.asked), at(view.length, view.asked), "limit"),
        line(at(0, 0), at(view.length, 0), "edge"),
        *(circle(at(place, 0), 0.6, "mark") for place in view.settings),
    ]
    for mark in marks:
        px, py = at(0, to_mm(mark, view.unit))
        pieces += [
            line((px - 1.2, py), (px, py), "thin"),
            text((px - 2, py), tick_text(mark, marks), SIZE, anchor="end"),
        ]
    lengths = ticks(0.0, from_mm(view.length, view.unit), 9)
    for mark in lengths:
        px, py = at(to_mm(mark, view.unit), 0)
        pieces += [
            line((px, py + 1.0), (px, py + 2.2), "thin"),
            text((px, py + 4.4), tick_text(mark, lengths), SIZE, anchor="middle"),
        ]
    words = f"metal left along the curve, {view.unit} from its free end; heights × {up:.4g}, lengths × {along:.2g}"
    return [*pieces, text((left, y + height - 1.6), words, SIZE, cls="faint")]
