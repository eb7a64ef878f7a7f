"""An outline out again: DXF with dimensions, SVG, points, and the outline of a job.toml."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from io import StringIO
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from ovolo.geometry.meet import turn_between
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.part import Surface
from ovolo.units import INCH, Unit

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

#: DXF's own numbers for units.
_INSUNITS = {"mm": 4, "in": 1}
#: Decimals of the unit with which an outline reads back as it was.
_EXACT = 9


def outline_points(
    outline: Outline, surface: Surface = "outside", unit: Unit = "mm", decimals: int = _EXACT
) -> list[dict[str, Any]]:
    """The outline in the form that job.toml has for it: z and d of each point, and how it is reached.

    An arc is written by its radius where that is exact, else through its middle. Figures are rounded to `decimals` of
    the unit; with nine of them the outline reads back to within 1e-7 mm.

    >>> outline_points(Outline((Arc(Point(0, 0), Point(-9, 9), Point(-9, 0), True),)))
    [{'z': 0, 'd': 0}, {'z': -9, 'd': 18, 'convex': 9}]
    """
    scale = INCH if unit == "in" else 1.0
    rows = [_row(outline.start, scale, decimals)]
    for s in outline.segments:
        rows.append(_row(s.end, scale, decimals) | (_bend(s, surface, scale, decimals) if isinstance(s, Arc) else {}))
    return rows


def counted(outline: Outline) -> str:
    """How many arcs and lines there are, in words.

    >>> counted(Outline((Line(Point(0, 9), Point(-24, 9)),)))
    '1 line'
    """
    tally = Counter("lines" if isinstance(s, Line) else "arcs" for s in outline.segments)
    return " and ".join(f"{n} {name if n > 1 else name[:-1]}" for name, n in sorted(tally.items()))


def _row(p: Point, scale: float, decimals: int) -> dict[str, Any]:
    return {"z": _figure(p.x / scale, decimals), "d": _figure(2 * p.y / scale, decimals)}


def _figure(value: float, decimals: int) -> float | int:
    """Rounded, a whole number without a point."""
    near = round(value, decimals) + 0.0
    return int(near) if near == int(near) else near


def _bend(arc: Arc, surface: Surface, scale: float, decimals: int) -> dict[str, Any]:
    kind = "convex" if arc.ccw == (surface == "outside") else "concave"
    rows = [_row(p, scale, decimals) for p in (arc.start, arc.end)]
    ends = [Point(row["z"] * scale, row["d"] / 2 * scale) for row in rows]
    # Near half a turn the radius alone leaves the centre loose.
    few = range(decimals, decimals + 1) if decimals >= _EXACT else range(decimals + 1)
    for digits in few if abs(arc.sweep) < math.pi * 0.999 else ():
        radius = _figure(arc.radius / scale, digits)
        if _is_near(arc, ends, radius * scale, decimals, scale):
            return {kind: radius}
    row = _row(arc.point(arc.length / 2), scale, decimals)
    return {"through": [row["z"], row["d"]]}


def _is_near(arc: Arc, ends: Sequence[Point], radius: float, decimals: int, scale: float) -> bool:
    """Whether an arc as written is the one meant: its centre where it is to be exact, else its middle."""
    try:
        again = Arc.from_radius(ends[0], ends[1], radius, ccw=arc.ccw)
    except ValueError:
        return False
    if decimals >= _EXACT:
        return math.dist(again.centre, arc.centre) <= 1e-7
    return math.dist(again.point(again.length / 2), arc.point(arc.length / 2)) <= 2 * scale * 10.0**-decimals


def outline_csv(outline: Outline, unit: Unit = "mm", sagitta: float = 1e-3) -> str:
    """Points along the outline as a table of z and diameter; chords stay within `sagitta` mm of its arcs.

    >>> outline_csv(Outline((Line(Point(0, 9), Point(-24, 9)),)))
    'z,d\\n0.0000000,18.0000000\\n-24.0000000,18.0000000\\n'
    """
    scale = INCH if unit == "in" else 1.0
    rows = [f"{p.x / scale:z.7f},{2 * p.y / scale:z.7f}" for p in outline.flattened(sagitta)]
    return "\n".join(["z,d", *rows]) + "\n"


def outline_svg(outline: Outline, unit: Unit = "mm", title: str = "Outline") -> str:
    """The half-section as an SVG of true size: the outline, and the axis as a centre line. +z to the right, r up."""
    x0, _, x1, y1 = outline.bounds()
    edge = 0.05 * max(x1 - x0, y1) + 1.0
    left, top, wide, tall = x0 - edge, y1 + edge, x1 - x0 + 2 * edge, y1 + 2 * edge
    scale = INCH if unit == "in" else 1.0
    dashes = " ".join(f"{v / scale:.3f}" for v in (4, 1, 0.5, 1))
    thin = f'fill="none" stroke="black" stroke-width="{0.18 / scale:.4f}" stroke-dasharray="{dashes}"'
    thick = f'fill="none" stroke="black" stroke-width="{0.5 / scale:.4f}"'

    def at(p: Point) -> str:
        return f"{_short(p.x / scale)} {_short(-p.y / scale)}"

    steps = [f"M {at(outline.start)}", *(_step(s, at, scale) for s in outline.segments)]
    box = " ".join(_short(v / scale) for v in (left, -top, wide, tall))
    size = f'width="{_short(wide / scale)}{unit}" height="{_short(tall / scale)}{unit}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="{box}">\n<title>{_escaped(title)}</title>\n'
        f'<g id="centre"><line x1="{_short(left / scale)}" y1="0" x2="{_short((left + wide) / scale)}" y2="0" '
        f"{thin}/></g>\n"
        f'<g id="outline"><path {thick} d="{" ".join(steps)}"/></g>\n</svg>\n'
    )


def _short(value: float) -> str:
    """Twelve decimals at most: near half a turn a radius has to be that exact."""
    return f"{value:z.12f}".rstrip("0").rstrip(".") or "0"


def _step(s: Segment, at: Any, scale: float) -> str:
    if isinstance(s, Line):
        return f"L {at(s.end)}"
    # y runs down in an SVG, so that counter-clockwise here is sweep 0 there.
    radius, large, sweep = _short(s.radius / scale), int(abs(s.sweep) > math.pi), int(not s.ccw)
    return f"A {radius} {radius} 0 {large} {sweep} {at(s.end)}"


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;")


def outline_dxf(outline: Outline, unit: Unit = "mm", *, dimensions: bool = True) -> str:
    """The half-section as a DXF of release 2010: outline, centre line, and real dimensions on a layer of their own."""
    from ezdxf.filemanagement import new

    document = new("R2010", setup=True, units=_INSUNITS[unit])
    document.header["$MEASUREMENT"] = 0 if unit == "in" else 1
    for name, options in _LAYERS.items():
        document.layers.add(name, **options)
    space = document.modelspace()
    scale = INCH if unit == "in" else 1.0
    for s in outline.segments:
        if isinstance(s, Line):
            space.add_line(_at(s.start, scale), _at(s.end, scale), dxfattribs={"layer": "outline"})
        else:
            _add_arc(space, s, scale)
    x0, _, x1, _y1 = outline.bounds()
    edge = 0.05 * (x1 - x0) + 2
    space.add_line(
        ((x0 - edge) / scale, 0), ((x1 + edge) / scale, 0), dxfattribs={"layer": "centre", "linetype": "CENTER"}
    )
    if dimensions:
        _add_dimensions(document, outline, unit, scale)
    out = StringIO()
    document.write(out)
    return out.getvalue()


_LAYERS: dict[str, dict[str, Any]] = {
    "outline": {"lineweight": 50},
    "centre": {"lineweight": 18, "linetype": "CENTER"},
    "dimensions": {"lineweight": 18},
}


def _past(outline: Outline) -> float:
    """How far the centre line runs past either end, mm."""
    x0, _, x1, _ = outline.bounds()
    return 0.05 * (x1 - x0) + 2


def _at(p: Point, scale: float) -> tuple[float, float]:
    return p.x / scale, p.y / scale


def _add_arc(space: Any, s: Arc, scale: float) -> None:
    first, last = (s.start, s.end) if s.ccw else (s.end, s.start)
    angles = [math.degrees(math.atan2(p.y - s.centre.y, p.x - s.centre.x)) for p in (first, last)]
    space.add_arc(_at(s.centre, scale), s.radius / scale, angles[0], angles[1], dxfattribs={"layer": "outline"})


def _add_dimensions(document: Document, outline: Outline, unit: Unit, scale: float) -> None:
    """Lengths from the free end to each corner, diameters where they differ, the radii of arcs where they are few."""
    space: Any = document.modelspace()
    x0, _, x1, y1 = outline.bounds()
    height = max(y1, (x1 - x0) / 3) / 18 / scale
    options: dict[str, Any] = {
        "override": {
            "dimtxt": height, "dimasz": height * 0.9, "dimtsz": 0, "dimexo": height * 0.4, "dimexe": height * 0.5,
            "dimgap": height * 0.3, "dimdec": 3 if unit == "in" else 2, "dimzin": 8, "dimtad": 1, "dimlfac": 1.0,
        },
        "dxfattribs": {"layer": "dimensions"},
    }  # fmt: skip
    places = _dimensioned(outline)
    lengths = _different([p for p in sorted(places, key=lambda p: -p.x) if x1 - p.x > 1e-3], 0)
    for k, p in enumerate(lengths):
        below = (0, -y1 / scale - (k + 1) * 2.2 * height)
        space.add_linear_dim(base=below, p1=_at(p, scale), p2=(x1 / scale, 0), **options).render()
    diameters = _different([p for p in sorted(places, key=lambda p: p.y) if p.y > 1e-3], 1)
    for k, p in enumerate(diameters):
        beside = ((x0 - _past(outline)) / scale - (k + 1) * 2.4 * height, 0)
        ends = {"p1": (p.x / scale, -p.y / scale), "p2": _at(p, scale)}
        space.add_linear_dim(base=beside, angle=90, text="%%c<>", **ends, **options).render()
    arcs = [s for s in outline.segments if isinstance(s, Arc)]
    for s in arcs if len(arcs) <= _MOST_RADII else ():
        middle = s.point(s.length / 2)
        angle = math.degrees(math.atan2(middle.y - s.centre.y, middle.x - s.centre.x))
        reach = s.radius / scale + 3 * height
        where = [c / scale + reach * v for c, v in zip(s.centre, _unit(angle), strict=True)]
        space.add_radius_dim(
            center=_at(s.centre, scale), radius=s.radius / scale, angle=angle, location=where, **options
        ).render()


#: A curve of many arcs is not dimensioned joint by joint.
_MOST_CORNERS, _MOST_RADII = 10, 6


def _unit(degrees: float) -> tuple[float, float]:
    return math.cos(math.radians(degrees)), math.sin(math.radians(degrees))


def _different(places: Sequence[Point], k: int) -> list[Point]:
    """Those of sorted places that differ from the one before in z (k = 0) or r (k = 1)."""
    kept: list[Point] = []
    for p in places:
        if not kept or abs(p[k] - kept[-1][k]) > 1e-3:
            kept.append(p)
    return kept


def _dimensioned(outline: Outline) -> Sequence[Point]:
    """The places that are given a length and a diameter: both ends, the corners, the thickest and thinnest joints."""
    nodes = outline.nodes
    turns = {k + 1: abs(turn_between(a, b)) for k, (a, b) in enumerate(pairwise(outline.segments))}
    turning = [k for k in turns if (nodes[k].y - nodes[k - 1].y) * (nodes[k + 1].y - nodes[k].y) < 0]
    corners = sorted((k for k, turn in turns.items() if turn > 1e-3), key=lambda k: -turns[k])
    chosen = sorted({*corners[:_MOST_CORNERS], *turning[:_MOST_CORNERS]})
    return [nodes[0], *(nodes[k] for k in chosen), nodes[-1]]
