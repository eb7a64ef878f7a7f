"""A job as resolved: every default filled in, the outline as points and arcs, in millimetres or the job's own unit.

What is written here reads back to the same job: a figure that its unit cannot carry exactly is written as text in mm.
"""

import math
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

import tomlkit
from tomlkit.items import Table

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.part import Surface
from ovolo.plan.model import Job
from ovolo.shop.instruments import Instrument
from ovolo.shop.lathe import Cutter, Lathe
from ovolo.shop.pace import Pace
from ovolo.shop.setting_errors import SettingErrors
from ovolo.shop.shop import Shop, Stock
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool
from ovolo.units import DEGREE, Unit, from_mm, to_mm

__all__ = ["job_as_data", "job_as_toml", "tool_as_data"]

Figure = float | int | str
Data = dict[str, Any]

_SAME_ARC = 1e-9
"""An arc is written by its radius where that brings its centre back to within this, as a share of the radius."""


def job_as_data(job: Job, unit: Unit = "mm") -> Data:
    """The job as resolved, in the shape of job.toml, its lengths in `unit`; plan.json carries it in mm.

    Slides count in the job's own unit whatever `unit` is: what reads this back in another unit gets other figures.
    """
    cross, saddle = job.shop.cross, job.shop.saddle
    return {
        "version": 1,
        "title": job.title,
        "units": unit,
        **({"sure": list(job.sure)} if job.sure else {}),
        "part": _part(job, unit),
        "stock": _stock(job.shop.stock, job.part.surface, unit),
        "tool": [_drawn_tool(job.shop, tool, unit) for tool in job.shop.tools],
        "finish": _finish(job, unit),
        "limits": _limits(job, unit),
        "lathe": _lathe(job.shop.lathe, unit),
        "pace": _pace(job.shop.pace),
        "errors": _errors(job.shop.errors, unit),
        **_measure(job.shop.instruments, unit),
        "slide": _without_none(
            {
                "cross": _slide(cross, unit),
                "saddle": _slide(saddle, unit),
                "top": _top(job, unit),
            }
        ),
    }


def job_as_toml(job: Job) -> str:
    """The job as resolved, as the text of a job.toml in the job's own unit; reads back to an equal job."""
    data = job_as_data(job, job.units)
    document = tomlkit.document()
    document.add(tomlkit.comment("The job as resolved: every default filled in."))
    for key in ("version", "title", "units", *(["sure"] if "sure" in data else [])):
        document.add(key, data.pop(key))
    outline = data["part"].pop("outline")
    part = _table(data.pop("part"))
    part.add("outline", _points(outline))
    document.add("part", part)
    tools = tomlkit.aot()
    for tool in data.pop("tool"):
        corners = tool.pop("outline", None)
        table = _table(tool)
        if corners is not None:
            table.add("outline", _points(corners))
        tools.append(table)
    slides = tomlkit.table(is_super_table=True)
    for name, slide in data.pop("slide").items():
        slides.add(name, _table(slide))
    shaped = data["stock"].pop("outline", None)
    stock = _table(data.pop("stock"))
    if shaped is not None:
        stock.add("outline", _points(shaped))
    document.add("stock", stock)
    document.add("tool", tools)
    measured = data.pop("measure", [])
    for name, table in data.items():
        document.add(name, _table(table))
    if measured:
        document.add("measure", _array(measured))
    document.add("slide", slides)
    return tomlkit.dumps(document)


def figure(mm: float, unit: Unit) -> Figure:
    """A length as a number of `unit` that reads back to the very same length, as text in mm where none does.

    >>> figure(9.0, "mm"), figure(7.9375, "in"), figure(-0.0, "mm")
    (9, 0.3125, 0)
    """
    bare = from_mm(mm, unit)
    for digits in (4, 6, 9, 12):
        if to_mm(round(bare, digits), unit) == mm:
            return _plain(round(bare, digits))
    near = (bare, math.nextafter(bare, math.inf), math.nextafter(bare, -math.inf))
    return next((_plain(number) for number in near if to_mm(number, unit) == mm), f"{Decimal(repr(mm)):f} mm")


def _plain(number: float) -> float | int:
    """Whole numbers without a point, and no negative zero."""
    return int(number) if number == int(number) else number


def _without_none(data: Mapping[str, Any]) -> Data:
    return {key: value for key, value in data.items() if value is not None}


def _maybe(mm: float | None, unit: Unit) -> Figure | None:
    return None if mm is None else figure(mm, unit)


def _part(job: Job, unit: Unit) -> Data:
    part = job.part
    return _without_none(
        {
            "surface": part.surface,
            "material": part.material or None,
            "outline": _outline(part.outline, part.surface, unit),
            "curve": [figure(z, unit) for z in part.curve],
        }
    )


def _limits(job: Job, unit: Unit) -> Data:
    shop = job.shop
    limits: Data = {"bite": figure(shop.bite, unit), "plunge": figure(shop.plunge, unit)}
    if job.shop.top is not None or job.shop.set_over is not None:
        limits["slides"] = ["saddle", "cross", "top"] if job.shop.saddle_moves else ["cross", "top"]
    return limits


def _finish(job: Job, unit: Unit) -> Data:
    by = job.shop.by
    return _without_none(
        {
            "ridge": figure(job.part.ridge, unit),
            "tolerance": job.part.tolerance,
            "allowance": figure(job.shop.allowance, unit),
            "by": None if by is None else {"slide": by.slide, "amount": figure(by.amount, unit)},
        }
    )


def _outline(outline: Outline, surface: Surface, unit: Unit) -> list[Data]:
    first = outline.start
    points: list[Data] = [{"z": figure(first.x, unit), "d": figure(2 * first.y, unit)}]
    return points + [_point(segment, surface, unit) for segment in outline.segments]


def _point(segment: Segment, surface: Surface, unit: Unit) -> Data:
    end = segment.end
    point: Data = {"z": figure(end.x, unit), "d": figure(2 * end.y, unit)}
    return point if isinstance(segment, Line) else {**point, **_bend(segment, surface, unit)}


def _bend(arc: Arc, surface: Surface, unit: Unit) -> Data:
    """By its radius where that says it all; the longer arcs, and those near half a turn, through a third point."""
    radius = _radius(arc, unit)
    if radius is None:
        middle = arc.point(arc.length / 2)
        return {"through": [figure(middle.x, unit), figure(2 * middle.y, unit)]}
    return {"convex" if arc.ccw == (surface == "outside") else "concave": figure(radius, unit)}


def _radius(arc: Arc, unit: Unit) -> float | None:
    """The radius, mm, that brings the arc back exactly, or else within `_SAME_ARC`; None where none does."""
    bare = from_mm(arc.radius, unit)
    candidates = [to_mm(round(bare, digits), unit) for digits in (3, 4, 6, 9, 12)] + [arc.radius]
    errors = {radius: _centre_error(arc, radius) for radius in candidates}
    best = min(candidates, key=lambda radius: errors[radius])
    return best if errors[best] <= _SAME_ARC * max(1.0, arc.radius) else None


def _centre_error(arc: Arc, radius: float) -> float:
    try:
        again = Arc.from_radius(arc.start, arc.end, radius, ccw=arc.ccw)
    except ValueError:
        return math.inf
    return math.dist(again.centre, arc.centre)


def _stock(stock: Stock, surface: Surface, unit: Unit) -> Data:
    whole = stock.outline is None or surface == "bore"  # the outside of a piece whose hole is shaped is given as well
    return _without_none(
        {
            "diameter": figure(2 * stock.radius, unit) if whole else None,
            "outline": None if stock.outline is None else _outline(stock.outline, surface, unit),
            "hole": figure(stock.hole, unit),
            "proud": figure(stock.proud, unit),
            "stick_out": _maybe(stock.stick_out, unit),
        }
    )


def _drawn_tool(shop: Shop, tool: Tool, unit: Unit) -> Data:
    """A tool of the drawer with what it is made of and how wide it may plunge."""
    plunge = {"plunge": figure(shop.plunge_of(tool), unit)}
    return tool_as_data(tool, unit) | plunge | _cutter(shop.lathe.cutter(tool.name), unit)


def tool_as_data(tool: Tool, unit: Unit) -> Data:
    """A tool as it is written in a job, its lengths in `unit`."""
    if tool.outline is not None:
        return _form_tool(tool, tool.outline, unit)
    return _without_none(
        {
            "name": tool.name,
            "kind": tool.kind,
            "hand": tool.hand,
            "nose_radius": figure(tool.nose_radius, unit),
            "nose_radius_u": _maybe(tool.nose_radius_u, unit),
            "width": _maybe(tool.width, unit),
            "stem": _maybe(tool.stem, unit),
            "shank": _maybe(tool.shank, unit),
            "stands_out": _maybe(tool.stands_out, unit),
            "edge_angle": _degrees(tool.edge_angle),
            "point_angle": _degrees(tool.point_angle),
        }
    )


def _form_tool(tool: Tool, outline: Sequence[Segment], unit: Unit) -> Data:
    """A form tool by its outline about its nose centre; the nose radius only says where that is."""
    return _without_none(
        {
            "name": tool.name,
            "kind": tool.kind,
            "nose_radius": figure(tool.nose_radius, unit),
            "outline": [_corner(outline[0].start, {}, unit), *(_tool_point(segment, unit) for segment in outline)],
            "stem": _maybe(tool.stem, unit),
            "shank": _maybe(tool.shank, unit),
            "stands_out": _maybe(tool.stands_out, unit),
        }
    )


def _tool_point(segment: Segment, unit: Unit) -> Data:
    if isinstance(segment, Line):
        return _corner(segment.end, {}, unit)
    radius = _radius(segment, unit)
    if radius is not None:
        return _corner(segment.end, {"convex": figure(radius, unit)}, unit)
    middle = segment.point(segment.length / 2)
    return _corner(segment.end, {"through": [figure(middle.x, unit), figure(middle.y, unit)]}, unit)


def _corner(place: Point, bend: Data, unit: Unit) -> Data:
    return {"z": figure(place.x, unit), "r": figure(place.y, unit), **bend}


def _cutter(cutter: Cutter, unit: Unit) -> Data:
    return _without_none(
        {
            "material": cutter.material,
            "bar_diameter": _maybe(cutter.bar_diameter, unit),
            "overhang": _maybe(cutter.overhang, unit),
            "least_cut": _maybe(cutter.least_cut, unit),
        }
    )


def _lathe(lathe: Lathe, unit: Unit) -> Data:
    return _without_none(
        {
            "speeds": [_plain(speed) for speed in lathe.speeds],
            "motor_w": None if lathe.motor_w is None else _plain(lathe.motor_w),
            "chuck_max_rpm": None if lathe.chuck_max_rpm is None else _plain(lathe.chuck_max_rpm),
            "stiffness": None if lathe.stiffness is None else _plain(lathe.stiffness),
            "holding": lathe.holding,
            "centre_hole": _maybe(lathe.centre_hole, unit),
            "centre_body": _maybe(lathe.centre_body, unit),
            "jaws": _maybe(lathe.jaws, unit),
            "post": lathe.post,
            "power_feed": list(lathe.power_feed),
        }
    )


def _pace(pace: Pace) -> Data:
    return {
        "turn": _plain(pace.turn),
        "setting": _plain(pace.setting),
        "lock": _plain(pace.lock),
        "tool_change": _plain(pace.tool_change),
        "measuring": _plain(pace.measuring),
        "filing_mm3": _plain(pace.filing),
    }


def _errors(errors: SettingErrors, unit: Unit) -> Data:
    def both(cross: float, saddle: float) -> Data:
        return {"cross": figure(cross, unit), "saddle": figure(saddle, unit)}

    return {
        "setting": both(errors.setting_cross, errors.setting_saddle),
        "touching": both(errors.touching_cross, errors.touching_saddle),
        "height": figure(errors.height, unit),
        "nose": figure(errors.nose, unit),
    }


def _measure(instruments: Sequence[Instrument], unit: Unit) -> Data:
    rows = [
        {"name": i.name, "kind": i.kind, **{name: figure(getattr(i, name), unit) for name in ("over", "u", "u_z")}}
        for i in instruments
    ]
    return {"measure": rows} if rows else {}


def _degrees(angle: float) -> float | int | str:
    """An angle as a number of degrees that reads back to the very same angle."""
    bare = angle / DEGREE
    near = (
        *(round(bare, digits) for digits in (3, 6, 9, 12)),
        bare,
        math.nextafter(bare, 0),
        math.nextafter(bare, 360),
    )
    return next((_plain(number) for number in near if number * DEGREE == angle), f"{angle:.17g} rad")


def _top(job: Job, unit: Unit) -> Data | None:
    shop = job.shop
    if shop.set_over is not None:
        return {**_slide(shop.set_over.slide, unit), "angle": _degrees(shop.set_over.angle)}
    return None if shop.top is None else _slide(shop.top, unit)


def _slide(slide: Slide, unit: Unit) -> Data:
    return _without_none(
        {
            "reads": slide.reads,
            "grows": slide.grows,
            "count": figure(slide.count, unit),
            "per_turn": _maybe(slide.per_turn, unit),
            "divisions": slide.divisions,
            "backlash": _maybe(slide.backlash, unit),
            "travel": _maybe(slide.travel, unit),
            "lock": slide.lock,
            "clockwise": slide.clockwise,
        }
    )


def _table(data: Mapping[str, Any]) -> Table:
    table = tomlkit.table()
    for key, value in data.items():
        table.add(key, value)
    return table


def _array(rows: list[Data]) -> tomlkit.items.AoT:
    tables = tomlkit.aot()
    for row in rows:
        tables.append(_table(row))
    return tables


def _points(points: list[Data]) -> tomlkit.items.Array:
    """One point a line, as people write them."""
    array = tomlkit.array()
    for point in points:
        row = tomlkit.inline_table()
        row.update(point)
        array.append(row)
    return array.multiline(True)
