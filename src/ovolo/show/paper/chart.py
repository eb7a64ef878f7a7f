"""A small chart of one quantity over another, drawn like the rest: ruled axes, ink, a red dot for what is chosen."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from ovolo.show.paper.lettering import breadth
from ovolo.show.paper.style import Mode, style
from ovolo.show.paper.svg import XY, Anchor, circle, document, line, path, polyline, rect, text
from ovolo.show.paper.ticks import tick_text, ticks

__all__ = ["ChartView", "Curve", "Mark", "chart_as_svg", "draw_chart"]

SIZE = 3.2


@dataclass(frozen=True)
class Curve:
    """Points joined by lines, marked by dots, or stepped; `name` stands at its end."""

    points: tuple[XY, ...]
    kind: Literal["line", "dots", "steps"] = "line"
    name: str = ""
    dashed: bool = False


@dataclass(frozen=True)
class Mark:
    """The point that matters, and what is said of it."""

    at: XY
    says: str


@dataclass(frozen=True)
class ChartView:
    """Curves over two axes, each with the name of what it counts; both begin at 0 unless `x_from` says otherwise."""

    title: str
    x_name: str
    y_name: str
    curves: tuple[Curve, ...]
    mark: Mark | None = None
    x_from: float | None = None
    y_top: float | None = None

    @property
    def ranges(self) -> tuple[float, float, float, float]:
        """(least x, greatest x, least y, greatest y)."""
        points = [point for curve in self.curves for point in curve.points]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        low = 0.0 if self.x_from is None else self.x_from
        return low, max(max(xs), low + 1e-9), min(0.0, *ys, 0.0), self.y_top or max(max(ys), 1e-9)


def chart_as_svg(view: ChartView, width: float = 120.0, height: float = 70.0, *, mode: Mode = "paper") -> str:
    """The chart as a picture of its own."""
    body = [rect(0, 0, width, height, "ground"), *draw_chart(view, 2, 2, width - 4, height - 4)]
    says = f"{view.y_name} over {view.x_name}" + (f"; {view.mark.says}" if view.mark else "")
    return document(width, height, view.title, says, body, style(mode))


def draw_chart(view: ChartView, x: float, y: float, width: float, height: float) -> list[str]:
    """The chart in a rectangle of paper."""
    x0, x1, y0, y1 = view.ranges
    x_marks, y_marks = ticks(x0, x1, max(2, int(width / 22))), ticks(y0, y1, max(2, int(height / 14)))
    margin = max(breadth(tick_text(mark, y_marks), SIZE) for mark in y_marks) + 3.0
    left, top, right, foot = x + margin, y + 6.0, x + width - 4.0, y + height - 10.0

    def at(point: XY) -> XY:
        return (
            left + (point[0] - x0) / (x1 - x0) * (right - left),
            foot - (min(point[1], y1) - y0) / (y1 - y0) * (foot - top),
        )

    pieces = [line((left, foot), (right, foot), "thin"), line((left, foot), (left, top), "thin")]
    for mark in y_marks:
        px, py = at((x0, mark))
        pieces += [
            line((px - 1.2, py), (px, py), "thin"),
            text((px - 2, py), tick_text(mark, y_marks), SIZE, anchor="end"),
        ]
    for mark in x_marks:
        px, py = at((mark, y0))
        pieces += [
            line((px, py), (px, py + 1.2), "thin"),
            text((px, py + 3.4), tick_text(mark, x_marks), SIZE, anchor="middle"),
        ]
    pieces += [
        text((x, y + 2), view.y_name, SIZE, cls="faint"),
        text((right, y + height - 1.8), view.x_name, SIZE, cls="faint", anchor="end"),
    ]
    for curve in view.curves:
        pieces += _curve(curve, [at(point) for point in curve.points if point[0] >= x0])
    return pieces + (_mark(view.mark, at(view.mark.at), right) if view.mark else [])


def _curve(curve: Curve, points: Sequence[XY]) -> list[str]:
    if curve.kind == "dots":
        pieces = [circle(point, 0.6, "mark") for point in points]
    else:
        shown = points if curve.kind == "line" else _stepped(points)
        pieces = [path(polyline(shown), "ghost" if curve.dashed else "thin")]
        pieces += [circle(point, 0.6, "mark") for point in points] if curve.kind == "steps" else []
    if curve.name and points:
        pieces.append(text((points[-1][0], points[-1][1] - 3), curve.name, SIZE, anchor="end", cls="halo"))
    return pieces


def _stepped(points: Sequence[XY]) -> list[XY]:
    """Level until the next point."""
    out = list(points[:1])
    for (_, before), (px, py) in pairwise(points):
        out += [(px, before), (px, py)]
    return out


def _mark(mark: Mark, at: XY, right: float) -> list[str]:
    """A red dot, and its words where they fit."""
    fits = at[0] + 4 + breadth(mark.says, SIZE, strong=True) < right
    anchor: Anchor = "start" if fits else "end"
    place = (at[0] + (3 if fits else -3), at[1] - 3.2)
    return [circle(at, 1.4, "red-dot"), text(place, mark.says, SIZE, cls="strong halo", anchor=anchor)]
