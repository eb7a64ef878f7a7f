"""A way to turn a curve as a small picture: what would come out over what was wanted, all at one scale."""

from __future__ import annotations

from html import escape

from ovolo.geometry.segments import Point
from ovolo.show.pages.paths import at, points_path
from ovolo.show.words.methods import MethodCard, MethodsView

__all__ = ["shape_picture"]

MARGIN = 0.06
"""Room round the outline, as a share of its size."""


def shape_picture(view: MethodsView, card: MethodCard) -> str:
    """The half-section that comes out (red) over the outline (ink); only the outline where it can't be done."""
    xs, ys = [p.x for p in view.outline], [p.y for p in view.outline]
    room = MARGIN * max(max(xs) - min(xs), max(ys))
    box = min(xs) - room, -max(ys) - room, max(xs) - min(xs) + 2 * room, max(ys) + 2 * room
    shape = _inside(card.shape, min(xs), max(xs) + room)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="scene method" role="img" viewBox="{" ".join(map(at, box))}">',
        f"<title>{escape(card.name)}: what comes out, over the outline</title>",
        f'<path class="axis" d="{points_path([(box[0], 0), (box[0] + box[2], 0)])}"/>',
        f'<path class="edge" d="{points_path(view.outline)}"/>',
        f'<path class="comes-out" d="{points_path(shape)}"/>' if len(shape) > 1 else "",
        "</svg>",
    ]
    return "\n".join(part for part in parts if part)


def _inside(shape: tuple[Point, ...], low: float, high: float) -> list[Point]:
    return [p for p in shape if low <= p.x <= high]
