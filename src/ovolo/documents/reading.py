"""Reading a job: from a file or from data to a `Job`, or to every fault that it has.

Two stages, each of which finds all it can: the document field by field and as a structure; then, once every
figure can be trusted, the job as a whole.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from pydantic import ValidationError

from ovolo.cutting.materials import plunge_for
from ovolo.documents.building import Built, build_outline, check_outline, segment_to
from ovolo.documents.check_tables import errors_of, instrument_of
from ovolo.documents.checks import Draft, curve_of, draft_faults
from ovolo.documents.drawn import outline_from_drawing
from ovolo.documents.faults import fault_at, faults_of
from ovolo.documents.form_outline import form_segments, nose_of
from ovolo.documents.job_model import CrossTable, JobFile, SaddleTable, SlideTables, ToolTable, TopTable, kind_of
from ovolo.documents.slips import CAN_BE_PLANNED, axis_slip, shape_slips, size_slips
from ovolo.documents.structure import structure_faults
from ovolo.documents.text_file import text_of
from ovolo.documents.toml_slips import toml_fault
from ovolo.errors import Fault, FaultsFound, JobFaults
from ovolo.geometry.outline import Outline
from ovolo.part.forms.document import outline_from_forms
from ovolo.part.part import Part
from ovolo.part.targets import allowed_ridge, with_unit
from ovolo.plan.model import Job
from ovolo.shop.form_tools import form_tool
from ovolo.shop.lathe import REPEATED_CHANGE, Cutter, Lathe
from ovolo.shop.pace import Pace
from ovolo.shop.set_over import SetOver
from ovolo.shop.shop import Shop, Stock
from ovolo.shop.slides import EqualSteps, Slide, SlideName
from ovolo.shop.tools import Tool
from ovolo.units import INCH, Unit, to_mm

LARGEST_FILE = 4_000_000
"""A job of ten thousand points takes less, bytes."""

_RIDGE: dict[Unit, float] = {"mm": 0.05, "in": 0.002 * INCH}
_ALLOWANCE: dict[Unit, float] = {"mm": 0.2, "in": 0.008 * INCH}
_BITE: dict[Unit, float] = {"mm": 1.0, "in": 0.04 * INCH}
_COUNT: dict[Unit, float] = {"mm": 0.01, "in": 0.0005 * INCH}
"""What is taken where the job says nothing, mm."""


def read_job(path: Path | str) -> Job:
    """The job in a file. Raises JobFaults with all that is wrong with it; nothing else for any content."""
    path = Path(path)
    text = text_of(path, "a job", LARGEST_FILE)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        raise JobFaults([toml_fault(str(path), text, str(wrong))]) from None
    except (RecursionError, ValueError):  # nested past reason; a whole number of more digits than Python reads
        says = "it is nested too deeply, or holds a number too long to be read"
        raise JobFaults([Fault(str(path), None, "", says, "Check the name and what is in it")]) from None
    return job_from_data(data, path.parent)


def job_from_data(data: object, base: Path | None = None) -> Job:
    """The job in a document already read, in the shape of job.toml.

    `base` is the folder of the job's own file, where its drawing is looked for; without it no drawing is read. Raises
    JobFaults with all that is wrong with it.
    """
    if not isinstance(data, Mapping):
        raise JobFaults([Fault("", None, "a table", f"{kind_of(data)} stands where a job is wanted", "Write a job")])
    file = _validated(data)
    built = _outline(file, data, base)
    shaped = _shaped(file, data)
    allowed, unmet = _allowed(file, data, built)
    draft = _draft(file, data, built, shaped.outline, allowed)
    asked = _slips(file, data, built)
    doubts = tuple(question for question in asked if question.answer in CAN_BE_PLANNED)
    faults = [
        *(question for question in asked if question not in doubts),
        *built.faults,
        *shaped.faults,
        *unmet,
        *draft_faults(draft),
    ]
    if faults or draft.outline is None or draft.curve is None:
        raise JobFaults(faults)
    return replace(_job(draft, draft.outline, draft.curve), doubts=doubts)


def _validated(data: Mapping[str, object]) -> JobFile:
    unit = "in" if data.get("units") == "in" else "mm"
    structure = structure_faults(data)
    try:
        file = JobFile.model_validate(dict(data), context={"unit": unit})
    except ValidationError as error:
        found = faults_of(error, JobFile)
        told = {fault.where for fault in found}
        raise JobFaults([*found, *(fault for fault in structure if fault.where not in told)]) from None
    if structure:
        raise JobFaults(structure)
    return file


def _outline(file: JobFile, data: object, base: Path | None) -> Built:
    """The outline of the part, from whichever of its three sources the job names."""
    part = file.part
    if part.outline is not None:
        slip = axis_slip(part.outline, data, ("part", "outline"), file.units)
        if slip is not None:
            return Built(None, [slip])
        return build_outline(part.outline, part.surface, data, ("part", "outline"), file.units)
    if part.form is not None:
        try:
            drawn = outline_from_forms(part.form, to_mm(1.0, file.units), part.surface)
        except JobFaults as found:
            return Built(None, list(found.faults))
        return check_outline(drawn, part.surface, data, ("part", "form"), file.units)
    return outline_from_drawing(str(part.file), file, data, base)


def _slips(file: JobFile, data: object, built: Built) -> list[Fault]:
    """Questions about figures that are possible, but most likely not what was meant."""
    largest = 2 * built.outline.bounds()[3] if built.outline is not None else None
    points = file.part.outline or []
    return [
        *size_slips(file, data, largest),
        *shape_slips(file, points, data, ("part", "outline"), build=segment_to),
    ]


def _shaped(file: JobFile, data: object) -> Built:
    """The outline of a piece that is already shaped: in a bore the wall of its hole."""
    if file.stock.outline is None:
        return Built(None, [])
    return build_outline(file.stock.outline, file.part.surface, data, ("stock", "outline"), file.units)


def _allowed(file: JobFile, data: object, built: Built) -> tuple[float | None, list[Fault]]:
    """The ridge that the drawing's tolerance allows, mm, where one is given."""
    if file.finish.tolerance is None or built.outline is None:
        return None, []
    high, low = curve_of(file.part, built.outline, file.tool)
    points = built.outline.flattened(1e-3)
    largest = max((p.y for p in points if low - 1e-3 <= p.x <= high + 1e-3), default=built.outline.end.y)
    try:
        return allowed_ridge(with_unit(file.finish.tolerance, file.units), 2 * largest), []
    except FaultsFound as found:
        bare = fault_at(data, ("finish", "tolerance"), "", "")
        return None, [replace(fault, value=bare.value) for fault in found.faults]


def _draft(file: JobFile, data: object, built: Built, shaped: Outline | None, allowed: float | None) -> Draft:
    unit = file.units
    return Draft(
        data=data,
        file=file,
        outline=built.outline,
        curve=curve_of(file.part, built.outline, file.tool) if built.outline is not None else None,
        ridge=_or(file.finish.ridge, _or(allowed, _RIDGE[unit])),
        bite=_or(file.limits.bite, _BITE[unit]),
        plunge=_plunge(file),
        slides=_slides(file.slide, unit),
        shaped=shaped,
        top=_top(file, unit),
    )


def _plunge(file: JobFile) -> float:
    """The widest plunge, mm: the job's own, else that of the material, in a bore no more than the bite."""
    usual = plunge_for(file.part.material)
    if file.part.surface == "bore":
        usual = min(usual, _or(file.limits.bite, _BITE[file.units]))
    return _or(file.limits.plunge, usual)


def _or(value: float | None, default: float) -> float:
    return default if value is None else value


def _slides(tables: SlideTables, unit: Unit) -> tuple[Slide, Slide]:
    """Cross slide and saddle."""
    return _slide("cross", tables.cross, unit), _slide("saddle", tables.saddle, unit)


def _top(file: JobFile, unit: Unit) -> Slide | None:
    """The top slide parallel to the axis, where it is to be used."""
    table = file.slide.top
    return _slide("top", table, unit) if table is not None and _top_used(file) and not table.angle else None


def _set_over(file: JobFile, unit: Unit) -> SetOver | None:
    """The top slide at an angle, where it is to be used."""
    table = file.slide.top
    if table is None or not _top_used(file) or not table.angle:
        return None
    return SetOver(_slide("top", table, unit), table.angle)


def _top_used(file: JobFile) -> bool:
    return "top" in file.limits.slides


def _slide(name: SlideName, table: CrossTable | SaddleTable | TopTable, unit: Unit) -> Slide:
    return Slide(
        name=name,
        reads=table.reads,
        grows=table.grows,
        count=_or(table.count, _COUNT[unit]),
        unit=to_mm(1.0, unit),
        per_turn=table.per_turn,
        divisions=table.divisions,
        backlash=table.backlash,
        travel=table.travel,
        lock=table.lock,
        clockwise=table.clockwise,
    )


def _tool(table: ToolTable, plunge: float) -> Tool:
    """A tool; `plunge` is the job's limit, for one that has none of its own, mm."""
    own = table.plunge or table.width or plunge
    if table.outline is not None:
        bodies = {"stem": table.stem, "shank": table.shank, "stands_out": table.stands_out}
        return replace(form_tool(table.name, form_segments(table.outline), **bodies), plunge=own)
    return Tool(
        name=table.name,
        kind=table.kind,
        nose_radius=nose_of(table),
        hand=table.hand,
        edge_angle=table.edge_angle,
        point_angle=table.point_angle,
        nose_radius_u=table.nose_radius_u,
        width=table.width,
        stem=table.stem,
        shank=table.shank,
        stands_out=table.stands_out,
        plunge=own,
    )


def _lathe(file: JobFile) -> Lathe:
    table = file.lathe
    cutters = tuple(
        Cutter(tool.name, tool.material, tool.bar_diameter, tool.overhang, tool.least_cut) for tool in file.tool
    )
    return Lathe(
        speeds=tuple(sorted(set(table.speeds))),
        motor_w=table.motor_w,
        chuck_max_rpm=table.chuck_max_rpm,
        holding=table.holding,
        cutters=cutters,
        centre_hole=table.centre_hole,
        centre_body=table.centre_body,
        jaws=table.jaws,
        post=table.post,
        power_feed=tuple(table.power_feed),
        stiffness=table.stiffness,
    )


def _pace(file: JobFile) -> Pace:
    table = file.pace
    quick = file.lathe.post == "repeats" and "tool_change" not in table.model_fields_set
    change = REPEATED_CHANGE if quick else table.tool_change
    return Pace(table.turn, table.setting, table.lock, change, table.measuring, table.filing_mm3)


def _by(file: JobFile) -> EqualSteps | None:
    """The constant amount to finish by, where the job has one."""
    return None if file.finish.by is None else EqualSteps(file.finish.by.slide, file.finish.by.amount)


_WALL = 1.5
"""The outside of a piece with a hole already shaped, where it is not given: a multiple of its widest place."""


def _stock(draft: Draft, outline: Outline) -> Stock:
    stock, shaped = draft.file.stock, draft.shaped
    told = _or(stock.diameter, 0.0) / 2
    if shaped is None:
        return Stock(told, stock.hole, stock.proud, stock.stick_out)
    if draft.surface == "outside":
        return Stock(shaped.end.y, stock.hole, stock.proud, stock.stick_out, shaped)
    radius = told or _WALL * max(shaped.bounds()[3], outline.bounds()[3])
    return Stock(radius, 2 * shaped.end.y, 0.0, stock.stick_out, shaped, assumed=not told)


def _tolerance(file: JobFile) -> str | None:
    """The tolerance as written; the width of a profile's zone with its unit, so that it means the same anywhere."""
    text = file.finish.tolerance
    return None if text is None else with_unit(text, file.units)


def _job(draft: Draft, outline: Outline, curve: tuple[float, float]) -> Job:
    file, unit = draft.file, draft.unit
    cross, saddle = draft.slides
    return Job(
        title=file.title,
        part=Part(outline, file.part.surface, file.part.material or "", curve, draft.ridge, _tolerance(file)),
        shop=Shop(
            stock=_stock(draft, outline),
            tools=tuple(_tool(table, draft.plunge) for table in file.tool),
            cross=cross,
            saddle=saddle,
            bite=draft.bite,
            plunge=draft.plunge,
            allowance=_or(file.finish.allowance, _ALLOWANCE[unit]),
            unit=to_mm(1.0, unit),
            lathe=_lathe(file),
            by=_by(file),
            top=draft.top,
            saddle_moves="saddle" in file.limits.slides,
            pace=_pace(file),
            set_over=_set_over(file, unit),
            errors=errors_of(file.errors),
            instruments=tuple(instrument_of(table) for table in file.measure),
        ),
        sure=tuple(file.sure),
    )
