"""Pieces put in order: empty ones, doubles and overlaps dropped, and split where another one ends on them."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from ovolo.geometry.fit import distance_to
from ovolo.geometry.meet import along, foot
from ovolo.geometry.segments import Arc, Line, Point, Segment

Span = tuple[float, float]
_FINE = 1e-4  # collinear, or concentric, to within this, mm


def without_doubles(segments: Iterable[Segment]) -> tuple[list[Segment], int]:
    """Segments of which none lies on another, and how many were dropped or merged on the way."""
    given = list(segments)
    lines = _by_carrier((s for s in given if isinstance(s, Line)), _line_key)
    arcs = _by_carrier((s for s in given if isinstance(s, Arc)), _arc_key)
    kept: list[Segment] = []
    for group in lines:
        kept.extend(_merged_lines([s for s in group if isinstance(s, Line)]))
    for group in arcs:
        kept.extend(_merged_arcs([s for s in group if isinstance(s, Arc)]))
    return kept, len(given) - len(kept)


def _line_key(s: Segment) -> tuple[float, ...]:
    t = s.tangent(0)
    if t.x < -1e-9 or (abs(t.x) <= 1e-9 and t.y < 0):
        t = Point(-t.x, -t.y)
    near = t.x * s.start.y - t.y * s.start.x
    return (math.atan2(t.y, t.x) / 1e-5, near / _FINE)


def _arc_key(s: Segment) -> tuple[float, ...]:
    assert isinstance(s, Arc)
    return (s.centre.x / _FINE, s.centre.y / _FINE, s.radius / _FINE)


def _by_carrier(segments: Iterable[Segment], key: Callable[[Segment], tuple[float, ...]]) -> list[list[Segment]]:
    """Segments grouped by the line or circle that carries them; a chain of near keys is one group."""
    rows = sorted(((key(s), i, s) for i, s in enumerate(segments)), key=lambda row: (row[0], row[1]))
    buckets: dict[tuple[int, ...], list[int]] = defaultdict(list)
    groups: list[list[Segment]] = []
    heads: list[tuple[float, ...]] = []
    for values, _, s in rows:
        cell = tuple(round(v / 2) for v in values)
        found = next((g for g in _near_groups(buckets, cell) if _close(heads[g], values)), None)
        if found is None:
            found = len(groups)
            groups.append([])
            heads.append(values)
            buckets[cell].append(found)
        groups[found].append(s)
    return groups


def _near_groups(buckets: dict[tuple[int, ...], list[int]], cell: tuple[int, ...]) -> Iterator[int]:
    offsets: list[tuple[int, ...]] = [()]
    for _ in cell:
        offsets = [(*o, d) for o in offsets for d in (-1, 0, 1)]
    for o in offsets:
        yield from buckets.get(tuple(c + d for c, d in zip(cell, o, strict=True)), ())


def _close(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return all(abs(x - y) <= 1.0 for x, y in zip(a, b, strict=True))


def _merged_lines(group: list[Line]) -> list[Line]:
    if len(group) == 1:
        return group
    base = group[0]
    spans = [(min(a, b), max(a, b), s) for s in group for a, b in [(along(base, s.start), along(base, s.end))]]
    kept: list[Line] = []
    for low, high, members in _unions([(a, b, s) for a, b, s in spans]):
        whole = next((s for a, b, s in members if a <= low + 1e-9 and b >= high - 1e-9), None)
        kept.append(whole if isinstance(whole, Line) else Line(base.point(low), base.point(high)))
    return kept


def _merged_arcs(group: list[Arc]) -> list[Arc]:
    if len(group) == 1:
        return group
    base = group[0]
    full = next((s for s in group if abs(s.sweep) > 2 * math.pi - 1e-9), None)
    if full is not None:
        return _circle(full)
    cut = _uncovered(group, base)
    if cut is None and abs(sum(abs(s.sweep) for s in group) - 2 * math.pi) < 1e-6:
        return group
    if cut is None:
        return _circle(base)
    spans = [(low, low + abs(s.sweep), s) for s in group for low in [(_low(s) - cut) % (2 * math.pi)]]
    kept: list[Arc] = []
    for low, high, members in _unions(spans, 1e-6 / base.radius):
        whole = next((s for a, b, s in members if a <= low + 1e-12 and b >= high - 1e-12), None)
        if isinstance(whole, Arc):
            kept.append(whole)
            continue
        c, r = base.centre, base.radius
        ends = [Point(c.x + r * math.cos(cut + a), c.y + r * math.sin(cut + a)) for a in (low, high)]
        kept.append(Arc(ends[0], ends[1], c, True))
    return kept


def _circle(s: Arc) -> list[Arc]:
    """The whole circle of an arc, as two halves that have ends to join."""
    c, r = s.centre, s.radius
    east, west = Point(c.x + r, c.y), Point(c.x - r, c.y)
    return [Arc(east, west, c, True), Arc(west, east, c, True)]


def _low(s: Arc) -> float:
    """The angle at which an arc begins, walked counter-clockwise."""
    return s.angle0 if s.ccw else s.angle0 + s.sweep


def _uncovered(group: list[Arc], base: Arc) -> float | None:
    """An angle at which no arc of the group lies, just before one begins; None where they close the circle."""
    for s in group:
        angle = _low(s) - 1e-6 / base.radius
        if all((angle - _low(o)) % (2 * math.pi) > abs(o.sweep) for o in group):
            return angle
    return None


def _unions(
    spans: Sequence[tuple[float, float, Segment]], slack: float = 1e-6
) -> list[tuple[float, float, list[tuple[float, float, Segment]]]]:
    """Spans that overlap by more than `slack`, together; those that only touch stay apart."""
    out: list[tuple[float, float, list[tuple[float, float, Segment]]]] = []
    for low, high, s in sorted(spans, key=lambda span: (span[0], -span[1])):
        if out and low < out[-1][1] - slack:
            a, b, members = out[-1]
            out[-1] = (a, max(b, high), [*members, (low, high, s)])
        else:
            out.append((low, high, [(low, high, s)]))
    return out


def split_where_others_end(segments: list[Segment], gap: float) -> list[Segment]:
    """Each segment cut where another one ends within `gap` [mm] of it, so that a tee becomes a joint."""
    import numpy as np
    import shapely

    ends = np.array([tuple(p) for s in segments for p in (s.start, s.end)])
    tree = shapely.STRtree([shapely.Point(p) for p in ends])
    boxes = [shapely.LineString([tuple(p) for p in s.flattened(max(gap, 1e-3))]).buffer(2 * gap) for s in segments]
    out: list[Segment] = []
    for s, near in zip(segments, boxes, strict=True):
        points = {Point(*map(float, ends[i])) for i in tree.query(near, predicate="intersects")}
        inner = [p for p in points if min(math.dist(p, s.start), math.dist(p, s.end)) > gap]
        cuts = sorted({round(along(s, foot(s, p)), 9) for p in inner if distance_to(s, p) <= gap})
        out.extend(_cut(s, cuts, gap))
    return out


def _cut(s: Segment, cuts: list[float], gap: float) -> Iterator[Segment]:
    rest: Segment = s
    done = 0.0
    whole = s.length
    closed = isinstance(s, Arc) and abs(s.sweep) > 2 * math.pi - 1e-9
    for place in cuts:
        if place - done <= gap or (whole - place <= gap and not closed):
            continue
        at = s.point(place)
        yield replace(rest, end=at)
        rest = replace(rest, start=at)
        done = place
    yield rest


def split_at_axis(s: Segment) -> list[Segment]:
    """A segment cut where it crosses y = 0."""
    crossings: list[float] = []
    if isinstance(s, Line):
        if s.start.y * s.end.y < 0:
            crossings = [s.length * s.start.y / (s.start.y - s.end.y)]
    elif abs(s.centre.y) < s.radius:
        half = math.sqrt(s.radius**2 - s.centre.y**2)
        places = [along(s, Point(s.centre.x + k * half, 0.0)) for k in (-1, 1)]
        crossings = sorted(p for p in places if 1e-6 < p < s.length - 1e-6)
    out: list[Segment] = []
    rest: Segment = s
    for place in crossings:
        at = Point(s.point(place).x, 0.0)
        out.append(replace(rest, end=at))
        rest = replace(rest, start=at)
    return [*out, rest]
