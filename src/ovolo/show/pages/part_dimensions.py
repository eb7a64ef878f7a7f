"""Which dimensions stand on the drawing of a part, where, and which field each comes from; which points can be dragged.

Places are (z, r) in mm. A field is named by its path into the document, so that whoever types a figure on the drawing
changes that very field.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any, Literal, NamedTuple

from ovolo.errors import JobFaults
from ovolo.geometry.meet import turn_between
from ovolo.geometry.segments import Arc, Point, Segment
from ovolo.part.forms import Chain, chain_from_forms
from ovolo.plan.model import Job

__all__ = ["Dimension", "Handle", "Pull", "dimensions", "handles", "tangent_joints"]

Path = tuple[str | int, ...]
TANGENT = 1e-3
"""Joints that turn by less than this, 0.06°, are seen and felt as tangent, rad (our judgement)."""

MOST = 40
"""More dimensions than this make no drawing; the table beside it has the rest."""


class Dimension(NamedTuple):
    """One dimension: a diameter or a note at a place, or a length from `a` to `b` along the axis.

    `sign` is -1 where the field counts z, which falls toward the chuck, and the drawing a length.
    """

    kind: Literal["diameter", "radius", "length", "note"]
    label: str
    path: Path
    value: float | int | str
    sign: int
    at: tuple[float, float]
    a: float = 0.0
    b: float = 0.0


class Pull(NamedTuple):
    """How dragging changes a field: value = base + factor · (what is dragged, mm); `factor` 2 for a diameter."""

    path: Path
    base: float
    factor: float


class Handle(NamedTuple):
    """A point that can be dragged along the axis, away from it, or both; or an arc, whose radius follows."""

    name: str
    at: tuple[float, float]
    z: Pull | None = None
    r: Pull | None = None
    arc: Path | None = None
    ends: tuple[tuple[float, float], tuple[float, float]] | None = None


def dimensions(job: Job, document: Mapping[str, Any]) -> list[Dimension]:
    """The dimensions of a part, from whichever of outline and forms it is drawn by."""
    part = document["part"]
    found = _of_forms(job, part["form"]) if "form" in part else _of_points(job, part.get("outline", ()))
    return list(found)[:MOST]


def _told(job: Job, points: Sequence[Mapping[str, Any]]) -> list[tuple[Point, Mapping[str, Any]]]:
    """Each node of the outline with the point that tells of it; none where they are not one for one."""
    nodes = job.part.outline.nodes
    return list(zip(nodes, points, strict=True)) if len(nodes) == len(points) else []


def _of_points(job: Job, points: Sequence[Mapping[str, Any]]) -> Iterator[Dimension]:
    seen: set[tuple[str, float]] = set()
    for i, (node, given) in enumerate(_told(job, points)):
        place = (node.x, node.y)
        key = ("d", round(node.y, 6))
        if node.y > 1e-9 and key not in seen:
            seen.add(key)
            yield Dimension("diameter", "Ø", ("part", "outline", i, "d"), given["d"], 1, place)
        length = ("z", round(node.x, 6))
        if abs(node.x) > 1e-9 and length not in seen:
            seen.add(length)
            yield Dimension("length", "", ("part", "outline", i, "z"), given["z"], -1, place, 0.0, node.x)
        for bend in ("convex", "concave"):
            if given.get(bend) is not None:
                middle = _middle(job.part.outline.segments[i - 1])
                yield Dimension("radius", "R", ("part", "outline", i, bend), given[bend], 1, middle)


def _middle(segment: Segment) -> tuple[float, float]:
    point = segment.point(segment.length / 2)
    return point.x, point.y


class _Placed(NamedTuple):
    """A form with where it starts and ends, and the segments that it has added."""

    start: Point
    end: Point
    segments: tuple[Segment, ...]


def _placed(job: Job, forms: Sequence[Mapping[str, Any]]) -> list[_Placed]:
    unit, surface = job.shop.unit, job.part.surface
    found: list[_Placed] = []
    here, many = job.part.outline.start, 0
    for i in range(len(forms)):
        chain = _chain(forms[: i + 1], unit, surface)
        if chain is None or chain.end is None:
            found.append(_Placed(here, here, ()))
            continue
        found.append(_Placed(here, chain.end, chain.segments[max(0, many - 1) if many else 0 :]))
        here, many = chain.end, len(chain.segments)
    return found


def _chain(forms: Sequence[Mapping[str, Any]], unit: float, surface: Any) -> Chain | None:
    try:
        return chain_from_forms(forms, unit, surface)
    except JobFaults:
        return None


BALLS = ("ball", "ball knob")

_AT_START = {"diameter": "Ø", "start": "Ø", "pilot": "Ø"}
_AT_END = {"to_diameter": "Ø", "neck": "Ø", "mouth": "Ø"}
_ALONG = ("length", "height", "width")
_ROUND = {"radius": "R", "rise": "rise ", "depth": "depth "}


def _of_forms(job: Job, forms: Sequence[Mapping[str, Any]]) -> Iterator[Dimension]:
    places = _placed(job, forms)
    for i, (form, place) in enumerate(zip(forms, places, strict=True)):
        for name, value in form.items():
            if name == "neck" and (at := _neck(place, forms[i + 1 :], places[i + 1 :])):
                yield Dimension("diameter", "Ø", ("part", "form", i, name), value, 1, at)
            elif isinstance(value, int | float | str) and name != "form":
                yield from _of_field(form, name, value, place, ("part", "form", i, name))


def _neck(ball: _Placed, forms: Sequence[Mapping[str, Any]], places: Sequence[_Placed]) -> tuple[float, float] | None:
    """The middle of the neck behind a ball, where one follows: its end is rounded by a fillet, as a rule."""
    for form, place in zip(forms[:2], places[:2], strict=True):
        if form["form"] == "cylinder" and abs(place.end.y - ball.end.y) < 1e-6:
            return (place.start.x + place.end.x) / 2, place.end.y
    return None


def _of_field(form: Mapping[str, Any], name: str, value: Any, place: _Placed, path: Path) -> Iterator[Dimension]:
    widest = _widest(place)
    if name in _AT_START:
        at = place.end if form["form"] in ("face", "dome") else widest if form["form"] in BALLS else place.start
        yield Dimension("diameter", "Ø", path, value, 1, (at.x, at.y))
    elif name in _AT_END:
        yield Dimension("diameter", "Ø", path, value, 1, (place.end.x, place.end.y))
    elif name in _ALONG and abs(place.end.x - place.start.x) > 1e-9:
        yield Dimension("length", "", path, value, 1, (place.end.x, place.end.y), place.start.x, place.end.x)
    elif name == "to":
        yield Dimension("length", "", path, value, -1, (place.end.x, place.end.y), 0.0, place.end.x)
    elif name in _ROUND:
        arcs = [s for s in place.segments if isinstance(s, Arc)]
        at_arc = _middle(arcs[-1]) if arcs else (place.end.x, place.end.y)
        yield Dimension("radius", _ROUND[name], path, value, 1, at_arc)
    elif name in ("width", "angle", "half_angle"):
        yield Dimension("note", f"{name.replace('_', ' ')} ", path, value, 1, (place.end.x, place.end.y))


def _widest(place: _Placed) -> Point:
    """The widest place of a form: on a ball the top of its arc, which is no end of a segment."""
    ends = [p for s in place.segments for p in (s.start, s.end)]
    arcs = [s for s in place.segments if isinstance(s, Arc)]
    tops = [Point(s.centre.x, s.centre.y + s.radius) for s in arcs if s.start.x > s.centre.x > s.end.x]
    return max([*ends, *tops], key=lambda p: p.y, default=place.start)


def tangent_joints(job: Job, document: Mapping[str, Any]) -> list[str]:
    """The joints of an arc with its neighbour that are tangent, by their names on the page."""
    segments, forms = job.part.outline.segments, "form" in document["part"]
    out = []
    for k, (before, after) in enumerate(pairwise(segments), 2):
        curved = isinstance(before, Arc) or isinstance(after, Arc)
        if curved and abs(turn_between(before, after)) < TANGENT:
            out.append(f"{k - 1}. joint" if forms else f"point {k}")
    return out


def handles(job: Job, document: Mapping[str, Any]) -> list[Handle]:
    """The points that can be dragged."""
    part = document["part"]
    found = _form_handles(job, part["form"]) if "form" in part else _point_handles(job, part.get("outline", ()))
    return list(found)[:MOST]


def _point_handles(job: Job, points: Sequence[Mapping[str, Any]]) -> Iterator[Handle]:
    for i, (node, given) in enumerate(_told(job, points)):
        path: Path = ("part", "outline", i)
        # The first point is where z = 0 lies, but in a dished end, whose rim stands in front of it.
        z = Pull((*path, "z"), 0.0, 1.0) if i or abs(node.x) > 1e-9 else None
        yield Handle(f"point {i + 1}", (node.x, node.y), z, Pull((*path, "d"), 0.0, 2.0))
        for bend in ("convex", "concave"):
            if given.get(bend) is not None:
                arc = job.part.outline.segments[i - 1]
                ends = (arc.start.x, arc.start.y), (arc.end.x, arc.end.y)
                yield Handle(f"arc to point {i + 1}", _middle(arc), arc=(*path, bend), ends=ends)


def _form_handles(job: Job, forms: Sequence[Mapping[str, Any]]) -> Iterator[Handle]:
    for i, (form, place) in enumerate(zip(forms, _placed(job, forms), strict=True)):
        path: Path = ("part", "form", i)
        z = None
        if _is_number(form.get("length")):
            z = Pull((*path, "length"), place.start.x, -1.0)
        elif _is_number(form.get("to")):
            z = Pull((*path, "to"), 0.0, 1.0)
        far = next((name for name in ("to_diameter", "diameter") if _is_number(form.get(name))), None)
        r = Pull((*path, far), 0.0, 2.0) if far and form["form"] not in ("ball", "ball knob", "bead", "cove") else None
        if form["form"] in BALLS and _is_number(form.get("diameter")) and place.segments:
            top = _widest(place)
            yield Handle(f"{form['form']}", (top.x, top.y), None, Pull((*path, "diameter"), 0.0, 2.0))
        if (z or r) and place.end != place.start:
            yield Handle(f"end of the {form['form']}", (place.end.x, place.end.y), z, r)


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
