"""From the pieces of a drawing to the outline of a part, saying at each step what was left out and why."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace

from ovolo.geometry.meet import turn_between
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files.axis import Axis, find_axis, sample, to_frame
from ovolo.part.files.drawing import INSIDE, MIRRORED, Asked, Drawing, Dropped, Found, Piece, Placement, refuse_file
from ovolo.part.files.sources import MOST_PIECES
from ovolo.part.files.tidy import split_at_axis, split_where_others_end, without_doubles
from ovolo.part.files.walk import Net, net_of, outer_walk
from ovolo.units import Unit

_NO_WAY = "its pieces don't make one line from one end of the part to the other: some cross or branch"
_ON_AXIS = 2e-3  # what lies this near to the axis lies on it, mm
_GAP = 1.0  # pieces this near to the outline are taken to belong to it, mm
_FARTHEST = 1e5  # a coordinate beyond this is no turned part on a manual lathe, mm


def understand(found: Found, asked: Asked, where: str) -> Drawing:
    """The drawing's outline. Raises JobFaults, named after the file or the option that would help."""
    pieces, dropped, notes = list(found.pieces), list(found.dropped), list(found.notes)
    _check_numbers(pieces, where)
    pieces, left_out = _chosen(pieces, asked, {d.layer.casefold() for d in dropped if d.layer})
    dropped += left_out
    centre = [p for p in pieces if p.centre_line]
    dropped += [Dropped(p.segment, "centre line") for p in centre]
    drawn, doubles = without_doubles(p.segment for p in pieces if not p.centre_line)
    if doubles:
        notes.append(f"{_count(doubles, 'piece')} lay on others and {'was' if doubles == 1 else 'were'} dropped")
    if not drawn:
        says = "there is no line or curve in it" + (" on the layers chosen" if left_out else "")
        refuse_file(where, None, says, "Export the outline as lines and arcs")
    axis = find_axis(drawn, centre, asked, found.scale, found.flipped)
    notes.append(f"the axis was taken {axis.how}")
    outline, kept, turned = _outline(drawn, axis, asked, dropped, notes, where)
    placement = _placement(axis, outline, turned)
    notes = [*_dropped_notes(dropped), *notes]
    moved = Outline(tuple(_shifted(s, -_front(outline)) for s in outline.segments))
    _check_outline(moved, where)
    unit: Unit = "in" if found.scale != 1.0 else "mm"
    back = [_from_frame(s, axis, turned) for s in kept]
    return Drawing(moved, asked.surface, tuple(notes), found.deviation, tuple(back), tuple(dropped), placement, unit)


def _check_numbers(pieces: Sequence[Piece], where: str) -> None:
    if len(pieces) > MOST_PIECES:
        says = "there is more in it than a turned part can have"
        refuse_file(where, len(pieces), says, "Export only the outline", f"at most {MOST_PIECES} pieces")
    for p in pieces:
        s = p.segment
        values = [*s.start, *s.end, *(s.centre if isinstance(s, Arc) else ())]
        if not all(math.isfinite(v) for v in values):
            refuse_file(where, None, "a coordinate in it is not a number", "Export the drawing again")
        # The centre of an arc of large radius may lie far out; its ends may not.
        if max(abs(v) for v in values[:4]) > _FARTHEST:
            says = f"a coordinate in it is {max(abs(v) for v in values[:4]):.0f} mm from the origin"
            refuse_file(where, None, says, "Draw the part near the origin, or check the units", "100 m")


def _chosen(pieces: list[Piece], asked: Asked, aside: set[str]) -> tuple[list[Piece], list[Dropped]]:
    """Pieces on the layers wanted. A centre line stays: it shows the axis. `aside`: layers already left out."""
    only, without = ({name.casefold() for name in names} for names in (asked.layers, asked.without))
    known = {p.layer.casefold() for p in pieces} | aside
    for option, names in (("layers", only), ("without", without)):
        missing = sorted(names - known)
        if missing:
            says = "there is no such layer in the file"
            refuse_file(
                option, ", ".join(missing), says, "Name a layer of the file", ", ".join(sorted(known)) or "none"
            )
    kept, left = [], []
    for p in pieces:
        name = p.layer.casefold()
        if name in without or (only and name not in only and not p.centre_line):
            left.append(Dropped(p.segment, f"layer {p.layer}", p.layer))
        else:
            kept.append(p)
    return kept, left


def _outline(
    drawn: list[Segment], axis: Axis, asked: Asked, dropped: list[Dropped], notes: list[str], where: str
) -> tuple[Outline, list[Segment], bool]:
    """The outline in the frame of the axis, the pieces that make it, and whether the drawing was turned end for end."""
    half = _half([to_frame(s, axis) for s in drawn], axis, dropped, notes, where)
    half = split_where_others_end(half, asked.gap)
    net = net_of(half, asked.gap)
    if not net.segments:
        refuse_file(where, None, "all of it lies on the axis", 'Give another axis, such as "y=0"')
    groups = net.groups()
    group = groups[0]
    _check_gaps(net, group, groups[1:], asked)
    for other in groups[1:]:
        dropped.extend(Dropped(_from_frame(net.segments[i], axis, False), "not joined to the outline") for i in other)
    if net.widest > 1e-6:
        notes.append(f"ends up to {net.widest:.4f} mm apart were joined")
    ends = _ends(net, group, asked)
    turned = _is_turned(net, ends, axis, asked, notes)
    free, chuck = (ends[1], ends[0]) if turned else ends
    chain = _walked(net, group, free, chuck, turned, asked.surface)
    if chain is None:
        refuse_file(where, None, _NO_WAY, "Leave out what does not belong to it")
    if len(chain) < len(group):
        used = {frozenset(_key(p) for p in (s.start, s.end, s.point(s.length / 2))) for s in chain}
        for i in group:
            s = net.segments[i]
            s = _flipped(s) if turned else s
            if frozenset(_key(p) for p in (s.start, s.end, s.point(s.length / 2))) not in used:
                dropped.append(Dropped(_from_frame(s, axis, turned), INSIDE))
    trimmed = _without_back(_merged(chain), asked, notes)
    return Outline(tuple(trimmed)), trimmed, turned


def _key(p: Point) -> tuple[int, int]:
    return round(p.x / 0.02), round(p.y / 0.02)


def _half(framed: list[Segment], axis: Axis, dropped: list[Dropped], notes: list[str], where: str) -> list[Segment]:
    """The half of a section above its axis; below it only where nothing lies above."""
    pieces = [part for s in framed for part in split_at_axis(s)]
    on_axis = [s for s in pieces if isinstance(s, Line) and max(abs(s.start.y), abs(s.end.y)) <= _ON_AXIS]
    dropped.extend(Dropped(_from_frame(s, axis, False), "on the axis") for s in on_axis)
    off = [s for s in pieces if s not in on_axis]
    above = [s for s in off if s.point(s.length / 2).y > 0]
    below = [s.mirrored() for s in off if s.point(s.length / 2).y <= 0]
    if above and below:
        _check_mirror(above, below, where)
        dropped.extend(Dropped(_from_frame(s.mirrored(), axis, False), MIRRORED) for s in below)
        notes.append("the drawing is a whole section; one half was taken")
    return [_onto_axis(s) for s in (above or below)]


def _onto_axis(s: Segment) -> Segment:
    """Ends a hair off the axis brought onto it."""
    start = Point(s.start.x, 0.0) if 0 < abs(s.start.y) <= 1e-6 else s.start
    end = Point(s.end.x, 0.0) if 0 < abs(s.end.y) <= 1e-6 else s.end
    return s if (start, end) == (s.start, s.end) else replace(s, start=start, end=end)


def _check_mirror(above: list[Segment], below: list[Segment], where: str) -> None:
    """Both halves of a whole section have to be images of each other."""
    import numpy as np
    import shapely

    def ink(segments: list[Segment]) -> shapely.MultiLineString:
        return shapely.MultiLineString([[tuple(p) for p in s.flattened(5e-4)] for s in segments])

    worst, at = 0.0, Point(0.0, 0.0)
    for one, other in ((above, below), (below, above)):
        points = sample(one)
        distances = shapely.distance(shapely.points(np.array([tuple(p) for p in points])), ink(other))
        k = int(np.argmax(distances))
        if float(np.max(distances)) > worst:
            worst, at = float(np.max(distances)), points[k]
    if worst > 0.02:
        says = f"the two halves of the section differ by {worst:.3f} mm, {at.y:.3f} mm off the axis"
        refuse_file(where, None, says, "Draw one half only, or give the axis", "at most 0.02 mm")


def _check_gaps(net: Net, group: list[int], others: list[list[int]], asked: Asked) -> None:
    """Refuse a chain near which another one breaks off: that is a gap, not another figure."""
    import numpy as np
    import shapely

    ends = [net.joints[k] for other in others[:500] for k in net.loose(other)]
    if not ends:
        return
    ink = shapely.MultiLineString([[tuple(p) for p in net.segments[i].flattened(1e-3)] for i in group])
    gaps = shapely.distance(shapely.points(np.array([tuple(p) for p in ends])), ink)
    near, at = float(np.min(gaps)), ends[int(np.argmin(gaps))]
    if near < min(_GAP, 0.02 * ink.length):
        says = f"the outline is open by {near:.4f} mm, {abs(at.y):.3f} mm off the axis"
        remedy = f"Close it, join ends up to {near * 1.01:.3f} mm apart, or leave out what does not belong to it"
        refuse_file("gap", asked.gap, says, remedy)


def _ends(net: Net, group: list[int], asked: Asked) -> tuple[int, int]:
    """The joints at the +x end and at the -x end from which and to which the outline runs."""
    joints = {k for i in group for k in net.ends[i]}
    on_axis = {k for k in joints if abs(net.joints[k].y) <= _ON_AXIS}
    # Where the outline goes on past the axis, the loose end there is its end: that it touches is found later.
    ends = on_axis | set(net.loose(group))
    if len(ends) >= 2:
        return _outermost(net, ends)
    return _ends_of_ring(net, joints, asked)


def _outermost(net: Net, joints: set[int]) -> tuple[int, int]:
    """The joints farthest apart along the axis, +x first."""
    order = sorted(joints, key=lambda k: -net.joints[k].x)
    return order[0], order[-1]


def _ends_of_ring(net: Net, joints: set[int], asked: Asked) -> tuple[int, int]:
    """Where the wanted side of a closed section begins and ends: outermost at its ends, or for a bore innermost."""
    points = {k: net.joints[k] for k in joints}
    right, left = max(p.x for p in points.values()), min(p.x for p in points.values())
    side = max if asked.surface == "outside" else min

    def corner(level: float) -> int:
        return side((k for k, p in points.items() if abs(p.x - level) <= 1e-3), key=lambda k: points[k].y)

    return corner(right), corner(left)


def _is_turned(net: Net, ends: tuple[int, int], axis: Axis, asked: Asked, notes: list[str]) -> bool:
    """Whether the free end lies toward -x of the frame."""
    level = abs(axis.along.x) >= abs(axis.along.y)
    names = ("right", "left") if level else ("top", "bottom")
    if asked.free_end is not None:
        if asked.free_end not in names:
            says = f"the axis runs {'across' if level else 'up'} the drawing"
            refuse_file("free_end", asked.free_end, says, "Name one of its ends", " or ".join(names))
        return asked.free_end == names[1]
    right, left = (net.joints[k] for k in ends)
    touches = [abs(p.y) <= _ON_AXIS and not _is_face(net, k) for k, p in zip(ends, (right, left), strict=True)]
    turned = touches[1] and not touches[0]
    why = "where it closes toward the axis" if touches[0] != touches[1] else "by custom"
    notes.append(f"the free end was taken at the {names[1] if turned else names[0]}, {why}")
    return turned


def _is_face(net: Net, joint: int) -> bool:
    """Whether a straight line square to the axis ends at a joint."""
    lines = [net.segments[i] for i in net.at(joint)]
    return any(isinstance(s, Line) and abs(s.start.x - s.end.x) <= 1e-6 for s in lines)


def _walked(net: Net, group: list[int], free: int, chuck: int, turned: bool, surface: str) -> list[Segment] | None:
    """The chain from the free end to the chuck, walking toward -x."""
    view = net
    if turned:
        view = Net([_flipped(s) for s in net.segments], [_flip(p) for p in net.joints], net.ends, net.widest)
    if surface == "outside":
        return outer_walk(view, group, free, chuck)
    # A bore keeps to the left: walk its mirror image, in which left is right.
    mirror = Net([s.mirrored() for s in view.segments], [Point(p.x, -p.y) for p in view.joints], view.ends, view.widest)
    chain = outer_walk(mirror, group, free, chuck)
    return None if chain is None else [s.mirrored() for s in chain]


def _flip(p: Point) -> Point:
    return Point(-p.x, p.y)


def _flipped(s: Segment) -> Segment:
    """The image in x = 0."""
    if isinstance(s, Line):
        return Line(_flip(s.start), _flip(s.end))
    return Arc(_flip(s.start), _flip(s.end), _flip(s.centre), not s.ccw)


def _merged(chain: list[Segment]) -> list[Segment]:
    """Neighbours that continue each other on one line or circle, made one."""
    out = chain[:1]
    for s in chain[1:]:
        last = out[-1]
        if isinstance(s, Line) and isinstance(last, Line) and abs(turn_between(last, s)) < 1e-9:
            out[-1] = Line(last.start, s.end)
        elif isinstance(s, Arc) and isinstance(last, Arc) and _same_circle(last, s):
            out[-1] = replace(last, end=s.end)
        else:
            out.append(s)
    return out


def _same_circle(a: Arc, b: Arc) -> bool:
    room = abs(a.sweep) + abs(b.sweep) < 1.9 * math.pi
    return room and a.ccw == b.ccw and math.dist(a.centre, b.centre) < 1e-7 and abs(a.radius - b.radius) < 1e-7


def _without_back(chain: list[Segment], asked: Asked, notes: list[str]) -> list[Segment]:
    """The chain without the face toward the chuck: the metal carries on there."""
    out = list(chain)
    while len(out) > 1 and isinstance(out[-1], Line) and abs(out[-1].start.x - out[-1].end.x) <= 1e-6:
        falls = out[-1].end.y < out[-1].start.y
        if falls != (asked.surface == "outside"):
            break
        out.pop()
        notes.append("the face toward the chuck was left out: the bar carries on there")
    return out


def _front(outline: Outline) -> float:
    return max(p.x for s in outline.segments for p in (s.start, s.end, *s.flattened(1e-5)))


def _shifted(s: Segment, by: float) -> Segment:
    def moved(p: Point) -> Point:
        return Point(p.x + by + 0.0, p.y + 0.0)  # + 0.0: no negative zero

    if isinstance(s, Line):
        return Line(moved(s.start), moved(s.end))
    return Arc(moved(s.start), moved(s.end), moved(s.centre), s.ccw)


def _from_frame(s: Segment, axis: Axis, turned: bool) -> Segment:
    """Back into the plane of the drawing."""
    s = _flipped(s) if turned else s

    def back(p: Point) -> Point:
        t, o = axis.along, axis.origin
        return Point(o.x + p.x * t.x - p.y * t.y, o.y + p.x * t.y + p.y * t.x)

    if isinstance(s, Line):
        return Line(back(s.start), back(s.end))
    return Arc(back(s.start), back(s.end), back(s.centre), s.ccw)


def _placement(axis: Axis, outline: Outline, turned: bool) -> Placement:
    sign = -1.0 if turned else 1.0
    t, front = axis.along, _front(outline) * sign
    origin = Point(axis.origin.x + front * t.x, axis.origin.y + front * t.y)
    return Placement(origin, Point(sign * t.x, sign * t.y), Point(-t.y, t.x))


def _check_outline(outline: Outline, where: str) -> None:
    """Refuse an outline that crosses itself, or touches the axis between its ends."""
    import shapely

    points = outline.flattened(1e-3)
    line = shapely.LineString([tuple(p) for p in points])
    if not line.is_simple:
        says = "the outline crosses itself"
        refuse_file(where, None, says, "Leave out what does not belong to it, by layers if you can")
    inner = [p for p in outline.nodes[1:-1] if p.y <= _ON_AXIS]
    if inner:
        says = f"the outline touches the axis at z = {inner[0].x:.3f} mm, between its ends"
        refuse_file(where, None, says, "A part cannot hang together by a point: check the axis")


def _count(n: int, noun: str) -> str:
    return f"{n} {noun}{'' if n == 1 else 's'}"


def _dropped_notes(dropped: Sequence[Dropped]) -> list[str]:
    tally = Counter(d.why for d in dropped)
    text: Callable[[str, int], str] = lambda why, n: f"left out: {_count(n, 'piece')} ({why})"  # noqa: E731
    return [text(why, n) for why, n in tally.items()]
