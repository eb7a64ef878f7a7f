"""Points: a table of z and diameter, one place a line, fitted with lines and arcs."""

from __future__ import annotations

import math
import re

from ovolo.errors import Fault, JobFaults
from ovolo.geometry.fit_points import fit_points, scatter
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files.drawing import Asked, Drawing, refusal, refuse_file
from ovolo.part.files.sources import Source, load, name_of
from ovolo.part.files.write import counted
from ovolo.units import Unit

#: The most points that are read.
MOST_POINTS = 100_000
_MOST_FAULTS = 10


def read_points(source: Source, asked: Asked = Asked()) -> Drawing:  # noqa: B008 (frozen)
    """The outline through a table of points: a header `z,d` (or `z,r`), then one place a line, end to end.

    Separated by commas, semicolons or tabs; with the last two a decimal comma is understood. Points stay within
    `asked.tolerance` of the lines and arcs fitted to them. Where they scatter more than that they are refused, unless
    `asked.smooth` says how far the outline may stray from them. Raises JobFaults, with the line at fault.
    """
    where = name_of(source, "points")
    scale = asked.scale(None, "units")
    points, notes = _points(load(source, "points"), scale, where)
    points, more = _in_order(points, asked, where)
    notes += more
    noise = scatter(points)
    tolerance = asked.tolerance if asked.smooth is None else asked.smooth
    if not (math.isfinite(tolerance) and tolerance > 0):
        refuse_file("smooth", tolerance, "it is not a distance", "Write how far the outline may stray", "more than 0")
    if noise > tolerance:
        says = f"the points scatter by about {noise:.4f} mm, more than the {tolerance:g} mm that the outline may stray"
        remedy = f"Let the outline be smoothed by {_round_up(4 * noise):g} mm, or measure again"
        refuse_file("smooth", asked.smooth, says, remedy, f"at least {_round_up(noise):g} mm")
    if points[0].y <= tolerance:
        points[0] = Point(points[0].x, 0.0)
    fitted = fit_points(points, tolerance)
    front = max(p.x for p in points)
    off = f"at most {fitted.deviation * 1000:.2f} µm off"
    notes.append(f"{len(points)} points became {counted(Outline(fitted.segments))}, {off}")
    if len(points) > 20 and len(fitted.segments) > 0.5 * (len(points) - 1):
        notes.append("nearly every point became a corner: a wider tolerance would find the arcs between them")
    outline = Outline(tuple(_moved(s, -front) for s in fitted.segments))
    _check(outline, where)
    unit: Unit = "in" if scale != 1.0 else "mm"
    return Drawing(outline, asked.surface, tuple(notes), fitted.deviation, fitted.segments, unit=unit)


def _round_up(value: float) -> float:
    digits = 1 - math.floor(math.log10(value))
    return float(math.ceil(value * 10.0**digits) / 10.0**digits)


def _points(data: bytes, scale: float, where: str) -> tuple[list[Point], list[str]]:
    try:
        lines = data.decode("utf-8-sig").splitlines()
    except UnicodeDecodeError:
        raise refusal(where, None, "it is not text in UTF-8", "Save the table as text (CSV)") from None
    rows = [(i + 1, line.strip()) for i, line in enumerate(lines) if line.strip() and not line.startswith("#")]
    if len(rows) > MOST_POINTS:
        refuse_file(where, len(rows), "there are too many points", "Thin them out", f"at most {MOST_POINTS}")
    mark = next((c for c in (";", "\t", ",") if rows and c in rows[0][1]), ",")
    head = [cell.strip().strip('"').casefold() for cell in rows[0][1].split(mark)] if rows else []
    if head[:1] != ["z"] or len(head) < 2 or head[1] not in ("d", "r"):
        says = "the first line does not name the columns"
        refuse_file(
            where, rows[0][1][:40] if rows else None, says, "Write z,d there (d the diameter), or z,r", "z,d or z,r"
        )
    half = scale / 2 if head[1] == "d" else scale
    faults: list[Fault] = []
    points: list[Point] = []
    for number, line in rows[1:]:
        cells = line.split(mark)
        values = [_number(cell, mark) for cell in cells[:2]]
        if len(values) < 2 or values[0] is None or values[1] is None or len(cells) > len(head):
            faults.append(Fault(f"{where}, line {number}", line[:40], "two numbers", "it is not a point", "Correct it"))
        elif values[1] < 0:
            says = f"the {'diameter' if head[1] == 'd' else 'radius'} is negative"
            faults.append(Fault(f"{where}, line {number}", values[1], "0 or more", says, "Correct it"))
        else:
            points.append(Point(values[0] * scale, values[1] * half))
        if len(faults) >= _MOST_FAULTS:
            break
    if faults:
        raise JobFaults(faults)
    return points, []


def _number(cell: str, mark: str) -> float | None:
    text = cell.strip().strip('"')
    if mark != ",":
        text = text.replace(",", ".")
    if not re.fullmatch(r"[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?", text):
        return None
    value = float(text)
    return value if math.isfinite(value) and abs(value) < 1e6 else None


def _in_order(points: list[Point], asked: Asked, where: str) -> tuple[list[Point], list[str]]:
    """Points from the free end toward the chuck, each place once."""
    notes = []
    kept = [p for k, p in enumerate(points) if k == 0 or math.dist(p, points[k - 1]) > 1e-7]
    if len(kept) < len(points):
        notes.append(f"{len(points) - len(kept)} points were the same as the one before and were dropped")
    if len(kept) < 2:
        refuse_file(where, len(kept), "it holds too few points", "Give at least two different ones", "2 or more")
    ends_left = asked.free_end == "left"
    if ends_left:
        kept = [Point(-p.x, p.y) for p in kept]
        notes.append("z was taken as growing toward the chuck")
    if kept[0].x < kept[-1].x:
        kept = kept[::-1]
        notes.append("the points came from the chuck outward and were turned round")
    return kept, notes


def _moved(s: Segment, by: float) -> Segment:
    def moved(p: Point) -> Point:
        return Point(p.x + by, p.y)

    if isinstance(s, Line):
        return Line(moved(s.start), moved(s.end))
    return Arc(moved(s.start), moved(s.end), moved(s.centre), s.ccw)


def _check(outline: Outline, where: str) -> None:
    import shapely

    if not shapely.LineString([tuple(p) for p in outline.flattened(1e-2)]).is_simple:
        says = "the points don't make one line: it crosses itself"
        refuse_file(where, None, says, "Sort them along the outline, from the free end toward the chuck")
    inner = [p for p in outline.nodes[1:-1] if p.y <= 1e-6]
    if inner:
        says = f"the outline touches the axis at z = {inner[0].x:.3f} mm, between its ends"
        refuse_file(where, None, says, "A part cannot hang together by a point: correct the points")
