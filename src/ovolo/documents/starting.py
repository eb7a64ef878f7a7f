"""What a new job takes for granted: the usual drawer, the bar, how far it projects, and which stretch is the curve.

All of it is common practice, no source; every figure is written into the job, where it can be changed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from ovolo.documents.new_job import NewJob, NewTool, bar_for, hole_for, job_tables
from ovolo.documents.starts import STARTS, Start, usual_size
from ovolo.errors import Fault, JobFaults
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Segment
from ovolo.part.forms import chain_from_forms
from ovolo.part.part import Surface
from ovolo.units import Unit, from_mm, parse_length, to_mm

__all__ = [
    "curved_stretch",
    "form_outline",
    "sizes_told",
    "started",
    "started_around",
    "usual_curve",
    "usual_facing",
    "usual_stick_out",
    "usual_tools",
]

_LEVEL = 1e-9
"""Ends of a line that differ by less are level, mm."""


def usual_tools(unit: Unit, surface: Surface) -> tuple[NewTool, ...]:
    """The drawer that most shops have: a knife of either hand, a round nose, a blade 3 mm or 1/8 in wide; for a bore a
    boring bar.

    >>> [tool.name for tool in usual_tools("in", "bore")]
    ['boring bar, nose 1/64 in']
    """
    inch = unit == "in"
    fine, size = (to_mm(1 / 64, "in"), "1/64 in") if inch else (0.4, "0.4")
    if surface == "bore":
        return (NewTool(f"boring bar, nose {size}", "pointed", fine, "right"),)
    wide, width = (to_mm(1 / 8, "in"), "1/8 in") if inch else (3.0, "3")
    nose, round_size = (to_mm(1 / 8, "in"), "1/8 in") if inch else (3.0, "3")
    return (
        NewTool(f"right-hand knife, nose {size}", "pointed", fine, "right"),
        NewTool(f"left-hand knife, nose {size}", "pointed", fine, "left"),
        NewTool(f"round nose, radius {round_size}", "round", nose),
        NewTool(f"grooving blade {width}", "grooving", to_mm(0.008, "in") if inch else 0.2, width=wide),
    )


def usual_facing(unit: Unit) -> float:
    """Metal left in front of the finished end to be faced off, mm.

    >>> usual_facing("mm")
    0.5
    """
    return 0.5 if unit == "mm" else to_mm(0.02, "in")


def usual_stick_out(outline: Outline, unit: Unit) -> float:
    """From the jaws to z = 0: the part and 12 mm (1/2 in) for the tool behind it, up to whole 5 mm (1/4 in); mm.

    >>> from ovolo.geometry.segments import Point
    >>> usual_stick_out(Outline((Line(Point(0, 9), Point(-24, 9)),)), "mm")
    40.0
    """
    step, room = (5.0, 12.0) if unit == "mm" else (to_mm(0.25, "in"), to_mm(0.5, "in"))
    return round(math.ceil((room - outline.bounds()[0]) / step - 1e-6) * step, 9)


def curved_stretch(outline: Outline) -> tuple[float, float] | None:
    """What is curved or leans: from the first such piece to the last one, z in mm; None where nothing is.

    >>> from ovolo.part.forms import outline_from_forms
    >>> curved_stretch(outline_from_forms([{"form": "dome", "diameter": 18}, {"form": "cylinder", "to": -24}], 1.0))
    (0.0, -9.0)
    """
    found = [segment for segment in outline.segments if not _plain(segment)]
    if not found:
        return None
    spans = [Outline((segment,)).bounds() for segment in found]
    return max(span[2] for span in spans) + 0.0, min(span[0] for span in spans) + 0.0


def _plain(segment: Segment) -> bool:
    """Whether it is a piece of a cylinder or of a face."""
    if not isinstance(segment, Line):
        return False
    return min(abs(segment.start.x - segment.end.x), abs(segment.start.y - segment.end.y)) < _LEVEL


def started(
    form: str, sizes: Mapping[str, str] | None = None, unit: Unit = "mm", shop: Mapping[str, Any] | None = None
) -> dict[str, Any]:
    """A whole job from a form and some of its sizes (texts), as the document that a job.toml holds.

    Sizes left out have their usual values. `shop` holds tables of a shop of its own (`tool`, `slide`, `lathe`,
    `limits`, `pace`, …), in the unit of the job, in place of the usual drawer. Raises JobFaults with all faults, placed
    at `sizes.NAME`.
    """
    start = _start(form)
    forms, outline = form_outline(start, sizes_told(start, dict(sizes or {}), unit), start.surface, unit)
    data = started_around(outline, start.surface, unit, start.says.capitalize(), start.material, shop)
    kept = {key: value for key, value in data["part"].items() if key != "outline"}
    return {**data, "part": {**kept, "form": forms}}


def started_around(
    outline: Outline,
    surface: Surface,
    unit: Unit,
    title: str,
    material: str | None = None,
    shop: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """The same around an outline, such as one from a drawing: bar, projection, curve and tools as usual."""
    job = NewJob(
        title=title,
        unit=unit,
        surface=surface,
        outline=outline,
        diameter=bar_for(outline, surface, unit),
        tools=usual_tools(unit, surface),
        source=title,
        material=material,
        hole=hole_for(outline, unit) if surface == "bore" else None,
        proud=usual_facing(unit),
        stick_out=usual_stick_out(outline, unit),
        curve=usual_curve(outline),
    )
    return {**job_tables(job), **{key: value for key, value in (shop or {}).items() if key not in _OF_THE_PART}}


_OF_THE_PART = ("version", "title", "units", "part", "stock")


def form_outline(
    start: Start, sizes: Mapping[str, float], surface: Surface, unit: Unit
) -> tuple[list[dict[str, Any]], Outline]:
    """The forms of a start with their sizes in the unit, and the outline [mm] that they make; `sizes` are in mm.

    Raises JobFaults, each at the size that it came from, where the sizes make no outline.
    """
    forms = start.forms({name: round(from_mm(mm, unit), 9) for name, mm in sizes.items()})
    try:
        return forms, chain_from_forms(forms, to_mm(1.0, unit), surface).outline()
    except JobFaults as wrong:
        raise JobFaults(_at_size(fault) for fault in wrong.faults) from None


def usual_curve(outline: Outline) -> tuple[float, ...]:
    """The curved part from z to z [mm], where that is known to be all that is to be finished; else nothing.

    A curve that runs on to the bar behind stops a nose radius before it: that is what a job means that does not say.
    """
    found = curved_stretch(outline)
    return () if found is None or found[1] <= outline.end.x + _LEVEL else found


def _at_size(fault: Fault) -> Fault:
    """A fault of a form, placed at the size that it came from."""
    name = fault.where.rpartition(".")[2]
    where = f"sizes.{'length' if name == 'to' else name}"
    return Fault(where, fault.value, fault.limit, fault.says, fault.remedy)


def _start(form: str) -> Start:
    if form not in STARTS:
        raise JobFaults([Fault("form", form, ", ".join(STARTS), "no job starts from this form", "Take one of these")])
    return STARTS[form]


def sizes_told(start: Start, told: dict[str, str], unit: Unit) -> dict[str, float]:
    """Every size in mm, the usual one where none is given. Raises JobFaults with all faults at once."""
    known, faults, out = ", ".join(start.sizes), [], {}
    for name in told:
        if name not in start.sizes:
            faults.append(Fault(f"sizes.{name}", told[name], known, "it is no size of this form", "Take one of these"))
    for name in start.sizes:
        try:
            told.setdefault(name, usual_size(start, name, unit, told))
            out[name] = _length(told[name], unit, f"sizes.{name}")
        except JobFaults as wrong:
            faults += wrong.faults
    if faults:
        raise JobFaults(faults)
    return out


def _length(text: str, unit: Unit, where: str) -> float:
    value = parse_length(text, unit, where)
    if value <= 0:
        raise JobFaults([Fault(where, text, "more than 0", "the length is too small", "Write how long it is")])
    return value
