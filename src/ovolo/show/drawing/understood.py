"""What was understood drawn beside what was in the file: two half-pages, the notes under both."""

import textwrap
from collections.abc import Sequence

import shapely

from ovolo.geometry.segments import Point, Segment
from ovolo.part.files import Drawing, counted
from ovolo.part.files.drawing import INSIDE, MIRRORED
from ovolo.show.drawing.half_section import Area
from ovolo.show.paper.shapes import Place, common, hatching, on_paper, outline_path
from ovolo.show.paper.style import Mode, style
from ovolo.show.paper.svg import XY, arrow, clip, document, group, line, path, rect, text
from ovolo.show.paper.title_block import shortened
from ovolo.units import Unit, format_length

__all__ = ["understood_as_svg"]

WIDE = 277.0
FILE, FOUND = Area(6.0, 22.0, 130.0, 90.0), Area(141.0, 22.0, 130.0, 90.0)
"""Where the file is drawn, and where the outline, mm."""

HEAD, BODY, SMALL = 4.6, 3.6, 3.2
LEADING = 5.2
_CHORD = 0.05
"""Chordal error of what is only measured, mm."""


def understood_as_svg(drawing: Drawing, name: str, unit: Unit = "mm", *, mode: Mode = "paper") -> str:
    """The pieces of the file on the left, the outline understood on the right, the notes under both.

    Kept pieces are thick, left-out ones dashed; lengths are said in `unit`.
    """
    notes = _notes(drawing)
    tall = FILE.y + FILE.height + 14 + LEADING * len(notes) + 6
    plain = "".join(c if c.isprintable() else "?" for c in name)
    body = [
        rect(0, 0, WIDE, tall, "ground"),
        rect(2, 2, WIDE - 4, tall - 4, "thin"),
        text((FILE.x, 8.5), "In the file", HEAD, cls="strong"),
        text((FILE.x, 15), shortened(plain, SMALL, FILE.width), SMALL),
        text((FOUND.x, 8.5), "As understood", HEAD, cls="strong"),
        text((FOUND.x, 15), "half-section; the free end is on the right, the chuck on the left", SMALL),
        *_in_the_file(drawing),
        *_understood(drawing, unit),
        *(text((FILE.x, FILE.y + FILE.height + 11 + LEADING * k), words, BODY) for k, words in enumerate(notes)),
    ]
    return document(WIDE, tall, f"{plain}: in the file, and as understood", " ".join(notes), body, style(mode))


def _fitted(segments: Sequence[Segment], more: Sequence[Point], area: Area, room: float) -> Place:
    """Places of the plane on the paper, scaled to fit an area."""
    points = [p for s in segments for p in s.flattened(_CHORD)] + list(more)
    xs, ys = [p.x for p in points] or [0.0], [p.y for p in points] or [0.0]
    wide, tall = max(max(xs) - min(xs), 1e-3), max(max(ys) - min(ys), 1e-3)
    scale = min((area.width - 2 * room) / wide, (area.height - 2 * room) / tall)
    middle = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    return Place(area.x + area.width / 2 - scale * middle[0], area.y + area.height / 2 + scale * middle[1], scale)


def _in_the_file(drawing: Drawing) -> list[str]:
    # The axis is drawn for itself; what lies far off, such as a frame, is cut at the edge of the panel.
    dropped = [d for d in drawing.dropped if d.why not in ("centre line", "on the axis")]
    near = [d.segment for d in dropped if d.why in (MIRRORED, INSIDE)]
    placed, ends = drawing.placement, []
    if placed is not None:
        x0, _, x1, _ = drawing.outline.bounds()
        edge = 0.06 * (x1 - x0)
        ends = [
            Point(placed.origin.x + z * placed.along.x, placed.origin.y + z * placed.along.y) for z in (x0 - edge, edge)
        ]
    place = _fitted([*drawing.kept, *near], ends, FILE, 9)
    left_out = "".join(outline_path([d.segment], place) for d in dropped)
    return [
        clip("panel", rect(*FILE, "")),
        *([group([path(left_out, "left-out")], clip_to="panel")] if dropped else []),
        *([line(place.at(*ends[0]), place.at(*ends[1]), "axis")] if ends else []),
        path("".join(outline_path([s], place) for s in drawing.kept), "edge"),
    ]


def _understood(drawing: Drawing, unit: Unit) -> list[str]:
    outline = drawing.outline
    x0, _, x1, y1 = outline.bounds()
    place = _fitted([*outline.segments, *outline.mirrored().segments], [Point(x0, 0), Point(x1, 0)], FOUND, 14)
    edge = 0.06 * (x1 - x0)
    # The half-section closed: down to the axis, or in a bore out to a little above its widest place.
    level = 0.0 if drawing.surface == "outside" else y1 + 0.12 * max(x1 - x0, y1)
    ring = [(outline.start.x, level), *outline.flattened(0.01), (outline.end.x, level)]
    metal = common(on_paper(shapely.make_valid(shapely.Polygon(ring)), place), shapely.box(0, 0, WIDE, 1e3))
    return [
        path(hatching(metal), "hatch"),
        path(outline_path(outline, place.other_half), "thin"),
        path(outline_path(outline, place), "edge"),
        line(place.at(x0 - edge, 0), place.at(x1 + edge, 0), "axis"),
        *_sizes(place, (x0, x1, y1), unit),
    ]


def _sizes(place: Place, size: tuple[float, float, float], unit: Unit) -> list[str]:
    """Overall length and largest diameter."""
    x0, x1, y1 = size
    digits = 4 if unit == "in" else 3
    (xa, low), (xb, top) = place.at(x0, -y1), place.at(x1, y1)
    y, x = low + 8, xa - 7
    return [
        *(line((end, low + 1.5), (end, y + 1.5), "thin") for end in (xa, xb)),
        *_measured((xa, y), (xb, y)),
        text(((xa + xb) / 2, y - 2.4), format_length(x1 - x0, unit, digits), BODY, anchor="middle"),
        *(line((xa - 1.5, end), (x - 1.5, end), "thin") for end in (top, low)),
        *_measured((x, top), (x, low)),
        text((x - 2.4, (top + low) / 2), f"Ø {format_length(2 * y1, unit, digits)}", BODY, anchor="middle", turn=-90),
    ]


def _measured(a: XY, b: XY) -> list[str]:
    """A dimension line with its arrowheads."""
    way = b[0] - a[0], b[1] - a[1]
    return [line(a, b, "thin"), arrow(a, (-way[0], -way[1])), arrow(b, way)]


def _notes(drawing: Drawing) -> list[str]:
    """What was done, a sentence a line, wrapped to the page."""
    sentences = [f"the outline has {counted(drawing.outline)}", *drawing.notes]
    wrapped = [textwrap.wrap("– " + s, 150, subsequent_indent="   ", max_lines=3) for s in sentences]
    return [line for lines in wrapped for line in lines][:40]
