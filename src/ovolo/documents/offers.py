"""What would turn a refusal into a plan, one change of the job each: another tool, a rounded corner, a larger bar.

Each offer is the whole job with that change, ready to be planned and to be kept. Whether it is enough, its plan says.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from ovolo.documents.new_job import bar_for
from ovolo.documents.reading import job_from_data
from ovolo.documents.resolved import tool_as_data
from ovolo.errors import Fault, JobFaults
from ovolo.geometry.meet import rounded
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Point
from ovolo.part.files import outline_points
from ovolo.part.forms.document import chain_from_forms
from ovolo.part.part import Part
from ovolo.plan.job import Job
from ovolo.plan.report.advice import corners_in_the_way, held_off, tools_that_would_do
from ovolo.shop.tools import Tool
from ovolo.units import Unit, from_mm

__all__ = ["Offer", "cheaper", "larger_bar", "offers"]

Data = dict[str, Any]

ONE_CORNER = 1e-3
"""A corner of a chain lies this near to the point of the outline that it is, mm."""

SMALL_BITE = 1.0
"""A bite below this was chosen small, mm (our judgement); a deeper one is offered."""

MOST_TOOLS, MOST_ROUNDINGS = 2, 2
"""This many of a kind are offered: a person chooses between two."""


@dataclass(frozen=True)
class Offer:
    """A change that may help.

    says: what it is, or where; button: what pressing it does; document: the job with it. tool: where a tool is added,
    its place in the drawer, whose true nose radius is to be given; it is called `name` and then that radius.
    """

    says: str
    button: str
    document: Data
    tool: int | None = None
    name: str = ""


def offers(document: Mapping[str, Any]) -> list[Offer]:
    """What may help where no tool of the drawer reaches; nothing where that is not in the way."""
    try:
        job = job_from_data(document)
    except JobFaults:
        return []
    return [*_farther_out(document, job), *_rounder(document, job), *_other_tools(document, job)]


def larger_bar(document: Mapping[str, Any], part: Part, unit: Unit, faults: Sequence[Fault]) -> list[Offer]:
    """A bar that the part fits in, where the one of the job is thinner than the part."""
    if not any(fault.where == "stock.diameter" for fault in faults):
        return []
    size = round(from_mm(bar_for(part.outline, part.surface, unit), unit), 6)
    stock = {**document["stock"], "diameter": size}
    wide = f"Ø {size:g} {unit}"
    return [Offer("", f"Use a larger bar, {wide}", {**document, "stock": stock})]


def cheaper(document: Mapping[str, Any], job: Job) -> list[Offer]:
    """Changes that usually save moves, one each: a ridge twice as high, no constant move of a slide, a deeper cut.

    A drawing that gives a tolerance has said what the ridge may be: it stays.
    """
    finish, limits = document.get("finish", {}), document.get("limits", {})
    out = []
    if job.part.tolerance is None:
        ridge = round(2 * from_mm(job.part.ridge, job.units), 6)
        wanted = {**document, "finish": {**finish, "ridge": ridge}}
        out.append(Offer("", f"Allow a ridge of {ridge:g} {job.units}", wanted))
    if "by" in finish:
        free = {key: value for key, value in finish.items() if key != "by"}
        out.append(Offer("", "Finish without a constant move", {**document, "finish": free}))
    if "bite" in limits and job.shop.bite < SMALL_BITE:
        bite = round(1.5 * from_mm(job.shop.bite, job.units), 4)
        deeper = {**document, "limits": {**limits, "bite": bite}}
        out.append(Offer("", f"Allow a depth of cut of {bite:g} {job.units}", deeper))
    return out


# ---- tools


def _other_tools(document: Mapping[str, Any], job: Job) -> Iterator[Offer]:
    for tool, says in tools_that_would_do(job)[:MOST_TOOLS]:
        kind = "round nose" if tool.kind == "round" else f"{tool.hand}-hand knife"
        table = tool_as_data(tool, job.units)
        named = {**table, "name": _free(f"{kind} R {table['nose_radius']:g}", job.shop.tools)}
        many = len(document["tool"])
        short = "round nose" if tool.kind == "round" else "knife"
        yield Offer(says, f"Add this {short}", {**document, "tool": [*document["tool"], named]}, many, f"{kind} R ")


def _free(name: str, tools: Sequence[Tool]) -> str:
    """A name that no tool has."""
    taken = {tool.name for tool in tools}
    return next(n for k in range(1, len(taken) + 2) if (n := name if k == 1 else f"{name}, {k}") not in taken)


def _farther_out(document: Mapping[str, Any], job: Job) -> Iterator[Offer]:
    for tool, field, far in held_off(job):
        i = [each.name for each in job.shop.tools].index(tool.name)
        size = round(from_mm(far, job.units), 6)
        tools = [{**t, field: size} if k == i else t for k, t in enumerate(document["tool"])]
        says = f"Let the nose of {tool.name} project {size:g} {job.units}"
        yield Offer("", says, {**document, "tool": tools})


# ---- corners


def _rounder(document: Mapping[str, Any], job: Job) -> Iterator[Offer]:
    """The corners that are too sharp, rounded to a nose of the drawer, the largest first."""
    corners = corners_in_the_way(job)
    noses = sorted({t.nose_radius for t in job.shop.tools if t.edge.noses}, reverse=True) if corners else []
    made = 0
    for radius in noses:
        changed = _rounded(document, job, corners, radius)
        if changed is not None and made < MOST_ROUNDINGS:
            made += 1
            many = "the corner" if len(corners) == 1 else f"{len(corners)} corners"
            size = f"R {from_mm(radius, job.units):g}"
            places = " and ".join(_place(corner, job.units) for corner in corners[:2])
            more = f" and {len(corners) - 2} more" if len(corners) > 2 else ""
            yield Offer(f"at {places}{more}", f"Round {many} to {size}", changed)


def _place(corner: Point, unit: Unit) -> str:
    return f"z = {from_mm(corner.x, unit):.4g} (Ø {from_mm(2 * corner.y, unit):.4g})"


def _rounded(document: Mapping[str, Any], job: Job, corners: Sequence[Point], radius: float) -> Data | None:
    """The job with these corners rounded, where they can be and are then in the way no more."""
    part = document["part"]
    if "form" in part:
        shape = {"form": _forms_rounded(part["form"], job, corners, from_mm(radius, job.units))}
    elif "outline" in part:
        shape = {"outline": _points_rounded(part["outline"], job, corners, radius)}
    else:
        return None
    changed = {**document, "part": {**part, **shape}}
    try:
        return None if corners_in_the_way(job_from_data(changed)) else changed
    except JobFaults:
        return None


def _forms_rounded(forms: Sequence[Data], job: Job, corners: Sequence[Point], radius: float) -> list[Data]:
    """A fillet put in at each corner between two forms; the chain of the forms before it ends there."""
    unit, _ = job.measure
    out: list[Data] = []
    for i, form in enumerate(forms):
        out.append(form)
        try:
            end = chain_from_forms(forms[: i + 1], unit, job.part.surface).end
        except JobFaults:  # a form that works on the corner to the next one ends nowhere yet
            continue
        if end is not None and any(_near(end, corner) for corner in corners):
            out.append({"form": "fillet", "radius": radius})
    return out


def _points_rounded(points: Sequence[Data], job: Job, corners: Sequence[Point], radius: float) -> list[Data]:
    """Each corner replaced by the two ends of its arc; every other point stays as it is written."""
    out = list(points)
    for k, (before, after) in reversed(list(enumerate(pairwise(job.part.outline.segments), 1))):
        if any(_near(before.end, corner) for corner in corners) and (found := rounded(before, after, radius)):
            begin, end = outline_points(Outline((found[1],)), job.part.surface, job.units)
            out[k : k + 1] = [{**points[k], **begin}, end]
    return out


def _near(a: Point, b: Point) -> bool:
    return abs(a.x - b.x) < ONE_CORNER and abs(a.y - b.y) < ONE_CORNER
