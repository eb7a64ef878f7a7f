"""The page Part: the outline as it stands, every dimension with the place of the field that it comes from, and every
point that can be dragged. What is at fault comes along as faults; what can be drawn is drawn all the same."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from typing import Any

import shapely

from ovolo.documents.reading import job_from_data
from ovolo.documents.resolved import job_as_data, unit_of
from ovolo.errors import Fault, FaultsFound, JobFaults
from ovolo.plan.model import Job
from ovolo.show.pages.part_dimensions import dimensions, handles
from ovolo.show.pages.paths import (
    at,
    below_the_axis,
    blank_path,
    face_paths,
    outline_path,
    points_path,
    region_path,
    rims_path,
    side_paths,
)

__all__ = ["part_page"]

_TOOL = {"name": "any", "nose_radius": 0.01, "kind": "pointed"}


def part_page(document: Mapping[str, Any]) -> dict[str, Any]:
    """All that the page shows, ready for JSON. Never raises for what a person may have typed."""
    faults: list[Fault] = []
    try:
        job: Job | None = job_from_data(document)
    except FaultsFound as wrong:
        faults, job = list(wrong.faults), _part_alone(document)
    shown = {"faults": [fault.as_dict() for fault in faults], "whole": not faults}
    return shown if job is None else {**shown, **_drawn(job, document, whole=not faults)}


def _part_alone(document: Mapping[str, Any]) -> Job | None:
    """The part, where it can be drawn although something else is wrong."""
    part = document.get("part")
    alone = {"title": "part", "units": document.get("units", "mm"), "part": part, "tool": [_TOOL]}
    if not isinstance(part, Mapping):
        return None
    alone["part"] = {key: value for key, value in part.items() if key not in ("curve", "material")}
    for stock in (document.get("stock"), {"diameter": "9000 mm"}):
        try:
            return job_from_data({**alone, "stock": stock})
        except JobFaults:
            continue
    return None


def _drawn(job: Job, document: Mapping[str, Any], *, whole: bool) -> dict[str, Any]:
    box = _box(job, stock=whole)
    return {
        "unit": unit_of(job),
        "box": box,
        "scene": _scene(job, box, stock=whole),
        "dimensions": [d._asdict() for d in dimensions(job, document)],
        "handles": [h._asdict() for h in handles(job, document)],
        "points": job_as_data(job, unit_of(job))["part"]["outline"],
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
    outline, shop = job.part.outline, job.shop
    left, top, width, height = box
    bore = job.part.surface == "bore"
    x0, base = outline.end.x, (shop.stock.radius if stock else outline.bounds()[3] * 1.4) if bore else 0.0
    points = outline.flattened(1e-3)
    ring = [(outline.start.x, base), *points, (x0, base)]
    body = shapely.make_valid(shapely.Polygon(ring))
    start, end = outline.start, outline.end
    (seen, hidden), rims = side_paths(outline, bore=bore), rims_path(outline, bore=bore)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="scene" role="img" '
        f'viewBox="{at(left)} {at(top)} {at(width)} {at(height)}">',
        f"<title>{escape(job.title)}</title>",
        '<defs><pattern id="metal" width="1" height="1" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        '<line class="hatch" x1="0.5" y1="0" x2="0.5" y2="1"/></pattern></defs>',
        f'<path class="metal" d="{region_path(body)}"/>',
        f'<path class="metal" d="{region_path(below_the_axis(body))}"/>' if bore else "",  # cut open in both halves
        f'<path class="axis" d="{points_path([(left - 300, 0), (left + width + 300, 0)])}"/>',
        f'<path class="stock" d="{blank_path(shop.stock, x0, bore=bore)}"/>' if stock else "",
        f'<path class="thin" d="{points_path([(start.x, -start.y), start])}{points_path([(end.x, -end.y), end])}"/>',
        f'<path class="edge" d="{outline_path(outline)}"/>',
        f'<path class="edge" d="{seen}"/>',
        f'<path class="edge" d="{face_paths(start, base)}"/>' if bore else "",
        f'<path class="unseen" d="{hidden}"/>' if hidden else "",
        f'<path class="thin" d="{rims}"/>' if rims else "",
        "</svg>",
    ]
    return "\n".join(part for part in parts if part)
