"""What was understood drawn beside what was in the file: two half-pages of one SVG, in mm of paper."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Point, Segment
from ovolo.part.files.drawing import INSIDE, MIRRORED, Drawing
from ovolo.part.files.write import counted
from ovolo.units import Unit, format_length

_WIDE, _PANEL, _TALL = 277.0, 130.0, 90.0
_LEFT, _RIGHT, _TOP = 6.0, 141.0, 22.0
_STYLE = """
  svg { background: #fbf8f1 } text { font-family: "Source Sans 3", "Source Sans Pro", sans-serif; fill: #1d1b18 }
  .head { font-size: 4.6px; font-weight: 600 } .body { font-size: 3.6px } .small { font-size: 3.2px }
  .thick { fill: none; stroke: #1d1b18; stroke-width: .5; stroke-linejoin: round; stroke-linecap: round }
  .thin { fill: none; stroke: #1d1b18; stroke-width: .18 } .metal { fill: url(#hatch); stroke: none }
  .left-out { fill: none; stroke: #8a8378; stroke-width: .25; stroke-dasharray: 1.4 .9 }
  .axis { fill: none; stroke: #1d1b18; stroke-width: .18; stroke-dasharray: 6 1.2 .6 1.2 }
  .frame { fill: none; stroke: #1d1b18; stroke-width: .18 }
"""


class _View:
    """Places of the plane on the paper: scaled to fit a panel, y down."""

    def __init__(self, segments: Sequence[Segment], more: Sequence[Point], left: float, room: float) -> None:
        points = [p for s in segments for p in s.flattened(0.05)] + list(more)
        xs, ys = [p.x for p in points] or [0.0], [p.y for p in points] or [0.0]
        wide, tall = max(max(xs) - min(xs), 1e-3), max(max(ys) - min(ys), 1e-3)
        self.scale = min((_PANEL - 2 * room) / wide, (_TALL - 2 * room) / tall)
        self.x0 = left + _PANEL / 2 - self.scale * (min(xs) + max(xs)) / 2
        self.y0 = _TOP + _TALL / 2 + self.scale * (min(ys) + max(ys)) / 2

    def at(self, p: Point) -> tuple[float, float]:
        return self.x0 + self.scale * p.x, self.y0 - self.scale * p.y

    def path(self, segments: Sequence[Segment], *, joined: bool = False) -> str:
        parts = []
        for i, s in enumerate(segments):
            if i == 0 or not joined:
                parts.append("M{:.3f} {:.3f}".format(*self.at(s.start)))
            x, y = self.at(s.end)
            if isinstance(s, Line):
                parts.append(f"L{x:.3f} {y:.3f}")
            else:
                r = s.radius * self.scale
                parts.append(f"A{r:.3f} {r:.3f} 0 {int(abs(s.sweep) > math.pi)} {int(not s.ccw)} {x:.3f} {y:.3f}")
        return " ".join(parts)


def picture(drawing: Drawing, name: str, unit: Unit = "mm") -> str:
    """An SVG page: the pieces of the file on the left, the outline understood on the right, the notes under both.

    Kept pieces are thick, left-out ones dashed and grey; lengths are said in `unit`.
    """
    lines = _notes(drawing)
    tall = _TOP + _TALL + 14 + 5.2 * len(lines) + 6
    size = f'width="{_WIDE}mm" height="{tall:.1f}mm" viewBox="0 0 {_WIDE} {tall:.1f}"'
    body = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size}>',
        f"<title>{_escaped(name)}: in the file, and as understood</title>",
        f"<style>{_STYLE}</style>",
        '<defs><pattern id="hatch" width="2.2" height="2.2" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)">'
        '<line x1="0" y1="0" x2="0" y2="2.2" stroke="#1d1b18" stroke-width=".12"/></pattern>'
        f'<clipPath id="panel"><rect x="{_LEFT}" y="{_TOP}" width="{_PANEL}" height="{_TALL}"/></clipPath></defs>',
        f'<rect class="frame" x="2" y="2" width="{_WIDE - 4}" height="{tall - 4:.1f}"/>',
        _text(_LEFT, 10, "head", "In the file"),
        _text(_LEFT, 16, "small", _cut(name, 60)),
        _text(_RIGHT, 10, "head", "As understood"),
        _text(_RIGHT, 16, "small", "half-section; the free end is on the right, the chuck on the left"),
        *_in_the_file(drawing),
        *_understood(drawing, unit),
    ]
    y = _TOP + _TALL + 12
    for line in lines:
        body.append(_text(_LEFT, y, "body", line))
        y += 5.2
    return "\n".join([*body, "</svg>\n"])


def _in_the_file(drawing: Drawing) -> list[str]:
    # The axis is drawn for itself; what lies far off, such as a frame, is cut at the edge of the panel.
    dropped = [d for d in drawing.dropped if d.why not in ("centre line", "on the axis")]
    near = [d.segment for d in dropped if d.why in (MIRRORED, INSIDE)]
    place = drawing.placement
    ends: list[Point] = []
    if place is not None:
        x0, _, x1, _ = drawing.outline.bounds()
        edge = 0.06 * (x1 - x0)
        ends = [
            Point(place.origin.x + z * place.along.x, place.origin.y + z * place.along.y) for z in (x0 - edge, edge)
        ]
    view = _View([*drawing.kept, *near], ends, _LEFT, 9)
    left_out = view.path([d.segment for d in dropped])
    out = [f'<path class="left-out" clip-path="url(#panel)" d="{left_out}"/>'] if dropped else []
    if ends:
        (xa, ya), (xb, yb) = view.at(ends[0]), view.at(ends[1])
        out.append(f'<line class="axis" x1="{xa:.3f}" y1="{ya:.3f}" x2="{xb:.3f}" y2="{yb:.3f}"/>')
    return [*out, f'<path class="thick" d="{view.path(drawing.kept)}"/>']


def _understood(drawing: Drawing, unit: Unit) -> list[str]:
    outline = drawing.outline
    x0, _, x1, y1 = outline.bounds()
    image = outline.mirrored()
    edge = 0.06 * (x1 - x0)
    view = _View([*outline.segments, *image.segments], [Point(x0, 0), Point(x1, 0)], _RIGHT, 14)
    (xa, y), (xb, _) = view.at(Point(x0 - edge, 0)), view.at(Point(x1 + edge, 0))
    out = [
        f'<path class="metal" d="{_metal(view, outline, drawing.surface)}"/>',
        f'<path class="thin" d="{view.path(image.segments, joined=True)}"/>',
        f'<path class="thick" d="{view.path(outline.segments, joined=True)}"/>',
        f'<line class="axis" x1="{xa:.3f}" y1="{y:.3f}" x2="{xb:.3f}" y2="{y:.3f}"/>',
    ]
    return [*out, *_dimensions(view, (x0, x1, y1), unit)]


def _metal(view: _View, outline: Outline, surface: str) -> str:
    """The half-section closed: down to the axis, or in a bore out to a little above its widest place."""
    x0, _, x1, y1 = outline.bounds()
    level = 0.0 if surface == "outside" else y1 + 0.12 * max(x1 - x0, y1)
    back, front = view.at(Point(outline.end.x, level)), view.at(Point(outline.start.x, level))
    return view.path(outline.segments, joined=True) + " L{:.3f} {:.3f} L{:.3f} {:.3f} Z".format(*back, *front)


def _dimensions(view: _View, size: tuple[float, float, float], unit: Unit) -> list[str]:
    """Overall length and largest diameter."""
    x0, x1, y1 = size
    digits = 4 if unit == "in" else 3
    (xa, ya), (xb, _) = view.at(Point(x0, -y1)), view.at(Point(x1, -y1))
    y = ya + 8
    (_, top), (xl, bottom) = view.at(Point(x0, y1)), view.at(Point(x0, -y1))
    x = xl - 7
    length, wide = format_length(x1 - x0, unit, digits), "Ø " + format_length(2 * y1, unit, digits)
    turned = f'transform="translate({x - 1.2:.3f} {(top + bottom) / 2:.3f}) rotate(-90)"'
    return [
        _thin(xa, ya + 1.5, xa, y + 1.5), _thin(xb, ya + 1.5, xb, y + 1.5), _thin(xa, y, xb, y),
        _arrow(xa, y, 1, 0), _arrow(xb, y, -1, 0),
        _text((xa + xb) / 2, y - 1.2, "body", length, "middle"),
        _thin(xl - 1.5, top, x - 1.5, top), _thin(xl - 1.5, bottom, x - 1.5, bottom), _thin(x, top, x, bottom),
        _arrow(x, top, 0, 1), _arrow(x, bottom, 0, -1),
        f'<text class="body" text-anchor="middle" {turned}>{wide}</text>',
    ]  # fmt: skip


def _thin(xa: float, ya: float, xb: float, yb: float) -> str:
    return f'<line class="thin" x1="{xa:.3f}" y1="{ya:.3f}" x2="{xb:.3f}" y2="{yb:.3f}"/>'


def _arrow(x: float, y: float, dx: float, dy: float) -> str:
    """A filled arrowhead at a place, the dimension line leaving it toward (dx, dy)."""
    a = (x + 2.4 * dx - 0.4 * dy, y + 2.4 * dy + 0.4 * dx)
    b = (x + 2.4 * dx + 0.4 * dy, y + 2.4 * dy - 0.4 * dx)
    return f'<path d="M{x:.3f} {y:.3f} L{a[0]:.3f} {a[1]:.3f} L{b[0]:.3f} {b[1]:.3f} Z" fill="#1d1b18"/>'


def _notes(drawing: Drawing) -> list[str]:
    """What was done, a sentence a line, wrapped to the page."""
    sentences = [f"the outline has {counted(drawing.outline)}", *drawing.notes]
    return [line for s in sentences for line in textwrap.wrap("– " + s, 150, subsequent_indent="   ", max_lines=3)][:40]


def _text(x: float, y: float, kind: str, text: str, anchor: str = "start") -> str:
    return f'<text class="{kind}" x="{x:.3f}" y="{y:.3f}" text-anchor="{anchor}">{_escaped(text)}</text>'


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else "…" + text[1 - most :]


def _escaped(text: str) -> str:
    """Safe in XML: markup escaped, control characters shown as a question mark."""
    plain = "".join(c if c.isprintable() else "?" for c in text)
    return plain.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
