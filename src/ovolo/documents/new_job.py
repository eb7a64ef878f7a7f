"""The text of a new job: commented, in the form that people edit and everything else reads."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import tomlkit
from tomlkit.items import Array, Table

from ovolo.geometry.outline import Outline
from ovolo.part.files import outline_points
from ovolo.part.part import Surface
from ovolo.units import Unit, from_mm, to_mm

__all__ = ["NewJob", "NewTool", "bar_for", "hole_for", "job_tables", "job_text"]

_DECIMALS: dict[Unit, int] = {"mm": 4, "in": 5}
"""Figures of a new outline are written to a tenth of a micrometre or so: more mean nothing at a lathe."""


@dataclass(frozen=True)
class NewTool:
    """A tool of the drawer as it is written; nose radius and width in mm."""

    name: str
    kind: str
    nose_radius: float
    hand: str = "right"
    width: float | None = None


@dataclass(frozen=True)
class NewJob:
    """All that a new job says; lengths in mm, written in `unit`."""

    title: str
    unit: Unit
    surface: Surface
    outline: Outline
    diameter: float
    tools: tuple[NewTool, ...]
    source: str
    material: str | None = None
    hole: float | None = None
    proud: float | None = None
    stick_out: float | None = None
    ridge: float | None = None
    curve: tuple[float, ...] = ()


def bar_for(outline: Outline, surface: Surface, unit: Unit) -> float:
    """A bar that the part fits in: its largest diameter and at least 1 mm (1/32 in), up to whole mm (eighths); mm.

    Common practice, no source. A bore gets a ring around it.

    >>> from ovolo.geometry.segments import Line, Point
    >>> bar_for(Outline((Line(Point(0, 9), Point(-24, 9)),)), "outside", "mm")
    19.0
    """
    step = 1.0 if unit == "mm" else to_mm(1 / 8, "in")
    spare = 1.0 if unit == "mm" else to_mm(1 / 32, "in")
    widest = 2 * outline.bounds()[3] * (1.0 if surface == "outside" else 1.5)
    return round(math.ceil((widest + spare) / step - 1e-6) * step, 9)


def hole_for(outline: Outline, unit: Unit) -> float:
    """A hole to drill before boring: the least diameter and at least 1 mm less, down to whole mm (1/16 in); mm.

    Common practice, no source.

    >>> from ovolo.geometry.segments import Line, Point
    >>> hole_for(Outline((Line(Point(0, 9.2), Point(-24, 9.2)),)), "mm")
    17.0
    """
    step = 1.0 if unit == "mm" else to_mm(1 / 16, "in")
    spare = 1.0 if unit == "mm" else to_mm(1 / 32, "in")
    least = 2 * outline.bounds()[1]
    return round(max(math.floor((least - spare) / step + 1e-6), 1) * step, 9)


def job_text(job: NewJob) -> str:
    """The job as the text of a job.toml."""
    document = tomlkit.document()
    # A file may be called anything: a line break in its name must not add lines to the job.
    source = "".join(c if c.isprintable() else "?" for c in job.source)
    document.add(tomlkit.comment(f"{source}. Every line may be edited."))
    document.add("version", 1)
    document.add("title", job.title)
    document.add("units", job.unit)
    document["units"].comment("the unit of every bare number below")
    document.add(tomlkit.nl())
    document.add("part", _part(job))
    document.add("stock", _stock(job))
    tools = tomlkit.aot()
    for tool in job.tools:
        tools.append(_tool(tool, job.unit))
    document.add("tool", tools)
    document.add("finish", _finish(job))
    return tomlkit.dumps(document)


def _figure(mm: float, unit: Unit) -> float | int:
    near = round(from_mm(mm, unit), 9) + 0.0
    return int(near) if near == int(near) else near


def _near(mm: float, unit: Unit) -> float | int:
    """A place of the outline, as the outline is written."""
    near = round(from_mm(mm, unit), _DECIMALS[unit]) + 0.0
    return int(near) if near == int(near) else near


def job_tables(job: NewJob) -> dict[str, Any]:
    """The same as plain tables, without comments."""
    return dict(tomlkit.parse(job_text(job)).unwrap())


def _part(job: NewJob) -> Table:
    table = tomlkit.table()
    table.add("surface", job.surface)
    if job.material is not None:
        table.add("material", job.material)
    else:
        table.add(tomlkit.comment('material = "mild steel"'))
    table.add(tomlkit.comment("From the free end toward the chuck: z falls, d is the diameter. An arc is given by its"))
    table.add(tomlkit.comment("radius (convex or concave), or by a third point that it runs through."))
    table.add("outline", _outline(job))
    x0, _, x1, _ = job.outline.bounds()
    ends = [_near(z, job.unit) for z in job.curve or (x1, job.outline.end.x)]
    if job.curve or x1 - x0 <= max(tool.nose_radius for tool in job.tools) + 1e-3:
        # Left out, the curve ends a nose radius before the bar: an outline shorter than that would have none.
        table.add("curve", ends)
        table["curve"].comment("finished in settings, from z to z")
    else:
        table.add(tomlkit.comment(f"curve = [{ends[0]}, {ends[1]}]  # finished in settings, from z to z"))
    return table


def _outline(job: NewJob) -> Array:
    rows = tomlkit.array()
    for point in outline_points(job.outline, job.surface, job.unit, decimals=_DECIMALS[job.unit]):
        row = tomlkit.inline_table()
        row.update(point)
        rows.append(row)
    return rows.multiline(True)


def _stock(job: NewJob) -> Table:
    table = tomlkit.table()
    table.add("diameter", _figure(job.diameter, job.unit))
    table["diameter"].comment("the bar as it stands in the chuck")
    optional: dict[str, float | None] = {"hole": job.hole, "proud": job.proud, "stick_out": job.stick_out}
    for name, value in optional.items():
        if value is not None:
            table.add(name, _figure(value, job.unit))
    if job.stick_out is None:
        table.add(tomlkit.comment("stick_out = ...  # from the jaws to z = 0; the chuck is checked once it is known"))
    return table


def _tool(tool: NewTool, unit: Unit) -> Table:
    table = tomlkit.table()
    values: dict[str, Any] = {"name": tool.name, "kind": tool.kind}
    if tool.kind == "pointed":
        values["hand"] = tool.hand
    if tool.width is not None:
        values["width"] = _figure(tool.width, unit)
    values["nose_radius"] = _figure(tool.nose_radius, unit)
    table.update(values)
    return table


def _finish(job: NewJob) -> Table:
    table = tomlkit.table()
    if job.ridge is not None:
        table.add("ridge", _figure(job.ridge, job.unit))
        table["ridge"].comment("the most metal that may stand above the outline")
    else:
        usual = "0.05" if job.unit == "mm" else "0.002"
        table.add(tomlkit.comment(f"ridge = {usual}  # the most metal that may stand above the outline"))
    return table
