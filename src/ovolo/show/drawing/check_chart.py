"""Deviation along the curve: what stands and what is missing, with its band, the limits, and every reading."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from ovolo.check.checking import Checked
from ovolo.show.paper.lettering import breadth
from ovolo.show.paper.style import Mode, style
from ovolo.show.paper.svg import XY, circle, closed, document, line, path, polyline, rect, text
from ovolo.show.paper.ticks import tick_text, ticks

__all__ = ["DeviationView", "deviation_as_svg", "deviation_view"]

SIZE = 3.2
Box = tuple[float, float, float, float]
At = Callable[[float, float], XY]
"""From z and deviation to a place on paper."""

ALLOWED = "allowed"
POINTS = 300
"""So many places of the curve are drawn."""


@dataclass(frozen=True)
class DeviationView:
    """In the job's unit: z, deviation and half its band along the curve; readings likewise; the limits."""

    title: str
    unit: str
    z: tuple[float, ...]
    deviation: tuple[float, ...]
    band: tuple[float, ...]
    readings: tuple[tuple[float, float, float], ...]
    above: float
    below: float
    says: str


def deviation_view(checked: Checked) -> DeviationView | None:
    """What the chart shows; None where nothing was judged."""
    judged = checked.judged
    if judged is None or checked.held:
        return None
    length, unit = checked.plan.job.shop.unit, "in" if checked.plan.job.shop.unit > 1 else "mm"
    curve = judged.curve
    on_part = np.flatnonzero(curve.x <= checked.plan.frame.front_of_part)
    rows = on_part[np.unique(np.linspace(0, len(on_part) - 1, POINTS).astype(int))]
    used = [row for row in checked.lines if row.unused is None]
    return DeviationView(
        checked.plan.job.title,
        unit,
        tuple((curve.x[rows] / length).tolist()),
        tuple((curve.deviation[rows] / length).tolist()),
        tuple((2 * curve.u[rows] / length).tolist()),
        tuple((row.reading.z / length, row.deviation / length, 2 * row.u / length) for row in used),
        checked.limits.above / length,
        -checked.limits.below / length,
        f"Deviation along the curve, {unit}: at most {judged.above / length:.3f} above and {judged.below / length:.3f} "
        "below the outline",
    )


def deviation_as_svg(view: DeviationView, width: float = 160.0, height: float = 76.0, *, mode: Mode = "paper") -> str:
    """The chart as a picture."""
    body = [rect(0, 0, width, height, "ground"), *_drawn(view, 2.0, 2.0, width - 4.0, height - 4.0)]
    sheet = "" if mode == "page" else style(mode)
    return document(width, height, f"{view.title}: deviation", view.says, body, sheet)


def _drawn(view: DeviationView, x: float, y: float, width: float, height: float) -> list[str]:
    low, high = _range(view)
    z0, z1 = max(view.z), min(view.z)
    y_marks = ticks(low, high, max(3, int(height / 12)))
    z_marks = ticks(z1, z0, max(3, int(width / 22)))
    left = x + max(breadth(tick_text(m, y_marks), SIZE) for m in y_marks) + 3.0
    right, top, foot = x + width - breadth(ALLOWED, SIZE) - 3.0, y + 7.0, y + height - 11.0

    def at(z: float, deviation: float) -> XY:
        inside = min(max(deviation, low), high)
        return left + (z0 - z) / (z0 - z1) * (right - left), foot - (inside - low) / (high - low) * (foot - top)

    return [
        path(closed([*_edge(view, 1, at), *reversed(_edge(view, -1, at))]), "tool-fill"),
        *_axes(view, y_marks, z_marks, (left, right, top, foot), at),
        path(polyline([at(z, d) for z, d in zip(view.z, view.deviation, strict=True)]), "tool"),
        *_dots(view, at),
        text((x, y + 2.2), f"Above the outline, {view.unit}", SIZE, cls="faint"),
        text((right, y + height - 1.8), f"z, {view.unit}", SIZE, cls="faint", anchor="end"),
    ]


def _range(view: DeviationView) -> tuple[float, float]:
    """Limits, band and readings, with room; nothing far off squeezes the rest."""
    dots = [d for _, d, _ in view.readings]
    high = max(view.above * 1.25, *(d + b for d, b in zip(view.deviation, view.band, strict=True)), *dots)
    low = min(view.below * 1.25, *(d - b for d, b in zip(view.deviation, view.band, strict=True)), *dots)
    most = 4 * max(view.above, -view.below)
    return max(low, -most), min(high, most)


def _edge(view: DeviationView, side: int, at: At) -> list[XY]:
    return [at(z, d + side * b) for z, d, b in zip(view.z, view.deviation, view.band, strict=True)]


def _axes(
    view: DeviationView,
    y_marks: Sequence[float],
    z_marks: Sequence[float],
    box: tuple[float, float, float, float],
    at: At,
) -> list[str]:
    left, right, _, foot = box
    pieces = []
    for mark in y_marks:
        py = at(view.z[0], mark)[1]
        pieces.append(line((left, py), (right, py), "thin" if abs(mark) < 1e-12 else "hair"))
        pieces.append(text((left - 1.5, py), tick_text(mark, list(y_marks)), SIZE, anchor="end"))
    for mark in z_marks:
        px = at(mark, 0.0)[0]
        if left - 0.1 <= px <= right + 0.1:
            pieces.append(line((px, foot), (px, foot + 1.2), "thin"))
            pieces.append(text((px, foot + 3.8), tick_text(mark, list(z_marks)), SIZE, anchor="middle"))
    for limit in (view.above, view.below):
        py = at(view.z[0], limit)[1]
        pieces.append(line((left, py), (right, py), "limit"))
        pieces.append(text((right + 1.5, py), ALLOWED, SIZE, cls="red"))
    return pieces


def _dots(view: DeviationView, at: At) -> list[str]:
    pieces = []
    for z, deviation, half in view.readings:
        pieces.append(line(at(z, deviation - half), at(z, deviation + half), "hair"))
        pieces.append(circle(at(z, deviation), 0.9, "mark"))
    return pieces
