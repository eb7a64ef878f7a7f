"""The page Part: the outline as it stands, every dimension with the place of the field that it comes from, and every
point that can be dragged. What is at fault comes along as faults; what can be drawn is drawn all the same."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_args

import shapely

from ovolo.documents.job_model import Sure
from ovolo.documents.reading import job_from_data
from ovolo.documents.resolved import job_as_data
from ovolo.errors import Fault, FaultsFound, JobFaults
from ovolo.part.part import Part
from ovolo.plan.model import Job
from ovolo.shop.shop import Stock
from ovolo.show.pages.part_dimensions import dimensions, handles, tangent_joints
from ovolo.show.pages.paths import FAR, HALVES, METAL, axis, fine, section_lines
from ovolo.show.paper import svg
from ovolo.show.paper.section import section_of
from ovolo.show.paper.svg import line, path

__all__ = ["part_alone", "part_page", "part_sketch"]

MOST_TRIED = 60
"""Of a longer outline that is broken no beginning is looked for: each try reads all of it."""

_TOOL = {"name": "any", "nose_radius": 0.01, "kind": "pointed"}


def part_page(document: Mapping[str, Any]) -> dict[str, Any]:
    """All that the page shows, ready for JSON. Never raises for what a person may have typed."""
    faults: list[Fault] = []
    try:
        job: Job | None = job_from_data(document)
    except FaultsFound as wrong:
        faults, job = list(wrong.faults), _job_alone(document)
    shown = {"faults": [fault.as_dict() for fault in faults], "whole": not faults}
    if job is None:
        job, many = _begun(document)
        shown["begun"] = many
    return shown if job is None else {**shown, **_drawn(job, document, whole=not faults)}


def _begun(document: Mapping[str, Any]) -> tuple[Job | None, int]:
    """The part as far as its first pieces can be drawn, and how many those are; pieces: forms, or points."""
    part = document.get("part")
    if not isinstance(part, Mapping):
        return None, 0
    for name in ("form", "outline"):
        pieces: list[Any] = part[name] if isinstance(part.get(name), list) else []
        for many in range(min(len(pieces), MOST_TRIED) - 1, 0, -1):
            job = _job_alone({**document, "part": {**part, name: pieces[:many]}})
            if job is not None:
                return job, many
    return None, 0


def _job_alone(document: Mapping[str, Any]) -> Job | None:
    """The part, where it can be drawn although something else is wrong."""
    part = document.get("part")
    sure = list(get_args(Sure))  # what may be a slip is asked about once, and drawn as it stands
    alone = {"title": "part", "units": document.get("units", "mm"), "part": part, "tool": [_TOOL], "sure": sure}
    if not isinstance(part, Mapping):
        return None
    alone["part"] = {key: value for key, value in part.items() if key not in ("curve", "material")}
    for stock in (document.get("stock"), {"diameter": "9000 mm"}):
        try:
            return job_from_data({**alone, "stock": stock})
        except JobFaults:
            continue
    return None


def part_alone(document: Mapping[str, Any]) -> Part | None:
    """The part of a job, whatever else is wrong with the job; None where there is none to draw."""
    job = _job_alone(document)
    return None if job is None else job.part


def part_sketch(document: Mapping[str, Any]) -> str:
    """The part as a small picture; empty where it can't be drawn. Never raises for what a person may have typed."""
    part = part_alone(document)
    if part is None:
        return ""
    outline, bore = part.outline, part.surface == "bore"
    x0, _, x1, y1 = outline.bounds()
    outer = 1.5 * y1 if bore else y1
    section = section_of(part, Stock(radius=outer if bore else outline.end.y, hole=2 * outline.end.y), x0)
    ring = [(outline.start.x, outer if bore else 0.0), *outline.flattened(1e-2), (x0, outer if bore else 0.0)]
    body, room = shapely.make_valid(shapely.Polygon(ring)), 0.04 * max(x1 - x0, 2 * outer)
    drawn = [
        *(path(fine(body, half, 1e-3), "metal") for half in (HALVES if bore else HALVES[:1])),
        *section_lines(section, blank=False),
        line((x0 - room, 0), (x1 + room, 0), "axis"),
    ]
    box = x0 - room, -(outer + room), x1 - x0 + 2 * room, 2 * (outer + room)
    return svg.scene(box, "scene sketch", "", drawn)  # its name is always said beside it


def _drawn(job: Job, document: Mapping[str, Any], *, whole: bool) -> dict[str, Any]:
    box = _box(job, stock=whole)
    return {
        "unit": job.units,
        "box": box,
        "lowest": max(job.part.outline.bounds()[3], job.shop.stock.widest) if whole else job.part.outline.bounds()[3],
        "scene": _scene(job, box, stock=whole),
        "dimensions": [d._asdict() for d in dimensions(job, document)],
        "handles": [h._asdict() for h in handles(job, document)],
        "tangent": tangent_joints(job, document),
        "points": job_as_data(job, job.units)["part"]["outline"],
        "curve": list(job.part.curve),
    }


def _box(job: Job, *, stock: bool) -> tuple[float, float, float, float]:
    x0, _, x1, y1 = job.part.outline.bounds()
    top = max(y1, job.shop.stock.widest) if stock else y1
    front = max(x1, job.shop.stock.front) if stock else x1
    margin = 0.06 * max(front - x0, top)
    behind = min(0.2 * (front - x0), 8.0) + margin
    return x0 - behind, -(top + margin), front - x0 + behind + 2 * margin, 2 * (top + margin)


def _scene(job: Job, box: tuple[float, float, float, float], *, stock: bool) -> str:
    outline, bore = job.part.outline, job.part.surface == "bore"
    left, _, width, _ = box
    base = (job.shop.stock.radius if stock else outline.bounds()[3] * 1.4) if bore else 0.0
    ring = [(outline.start.x, base), *outline.flattened(1e-3), (outline.end.x, base)]
    # Where the bar is not known there is none behind the part; a hole then has as much metal round it as is drawn.
    piece = job.shop.stock if stock else Stock(radius=base or outline.end.y, hole=2 * outline.end.y if bore else 0.0)
    section = section_of(job.part, piece, left - FAR if stock else outline.end.x)
    body = shapely.union(shapely.make_valid(shapely.Polygon(ring)), section.bar)
    drawn = [
        f"<defs>{METAL}</defs>",
        *(path(fine(body, half), "metal") for half in (HALVES if bore else HALVES[:1])),
        axis(left, width),
        *section_lines(section, blank=stock),
    ]
    return svg.scene(box, "scene", job.title, drawn)
