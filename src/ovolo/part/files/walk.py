"""From loose segments to one chain: ends joined within a gap, the outer side followed at every joint."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ovolo.geometry.fit import arc_leaving
from ovolo.geometry.meet import foot, meetings
from ovolo.geometry.segments import Arc, Line, Point, Segment

#: Toward the chuck: at its first joint the walk comes in along the axis.
_INWARD = Point(-1.0, 0.0)


@dataclass
class Net:
    """Segments and the joints between them. `ends[i]` are the joints at the start and the end of segment i."""

    segments: list[Segment]
    joints: list[Point]
    ends: list[tuple[int, int]]
    widest: float

    def at(self, joint: int) -> list[int]:
        """The segments that end at a joint."""
        return self._by_joint.get(joint, [])

    def __post_init__(self) -> None:
        self._by_joint: dict[int, list[int]] = defaultdict(list)
        for i, (a, b) in enumerate(self.ends):
            self._by_joint[a].append(i)
            if b != a:
                self._by_joint[b].append(i)

    def groups(self) -> list[list[int]]:
        """Segments that hang together, group by group, the longest first."""
        seen: set[int] = set()
        out: list[list[int]] = []
        for first in range(len(self.segments)):
            if first in seen:
                continue
            group, todo = [], [first]
            seen.add(first)
            while todo:
                i = todo.pop()
                group.append(i)
                for joint in self.ends[i]:
                    fresh = [j for j in self.at(joint) if j not in seen]
                    seen.update(fresh)
                    todo.extend(fresh)
            out.append(group)
        return sorted(out, key=lambda g: -sum(self.segments[i].length for i in g))

    def loose(self, group: Sequence[int]) -> list[int]:
        """The joints of a group at which only one segment ends."""
        count: dict[int, int] = defaultdict(int)
        for i in group:
            for joint in self.ends[i]:
                count[joint] += 1
        return [joint for joint, n in count.items() if n == 1]


def net_of(segments: Sequence[Segment], gap: float) -> Net:
    """Segments with their ends joined where they are no farther apart than `gap` mm."""
    joints: list[Point] = []
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    widest = 0.0

    def joint_at(p: Point) -> int:
        nonlocal widest
        cx, cy = math.floor(p.x / gap), math.floor(p.y / gap)
        near = [k for dx in (-1, 0, 1) for dy in (-1, 0, 1) for k in cells.get((cx + dx, cy + dy), ())]
        best = min(near, key=lambda k: math.dist(joints[k], p), default=None)
        if best is not None and math.dist(joints[best], p) <= gap:
            widest = max(widest, math.dist(joints[best], p))
            return best
        joints.append(p)
        cells[(cx, cy)].append(len(joints) - 1)
        return len(joints) - 1

    kept = [s for s in segments if s.length > gap or math.dist(s.start, s.end) > gap]
    ends = [(joint_at(s.start), joint_at(s.end)) for s in kept]
    return Net(list(kept), joints, ends, widest)


def outer_walk(net: Net, group: Sequence[int], start: int, stop: int, first: int | None = None) -> list[Segment] | None:
    """The chain from one joint to another that keeps to the right at every joint, walking dead ends back out.

    `first`: the segment to leave by. None where there is no way through.
    """
    inside = set(group)
    chain: list[tuple[int, Segment]] = []
    joint, heading = start, _INWARD
    for _ in range(4 * len(group) + 4):
        if joint == stop and chain:
            return _closed_up([s for _, s in chain])
        ways = [_leaving(net, i, joint) for i in net.at(joint) if i in inside]
        ways = [(i, s) for i, s in ways if not chain or i != chain[-1][0]]
        if first is not None and not chain:
            ways = [(i, s) for i, s in ways if i == first]
        if not ways:
            if not chain:
                return None
            dead, s = chain.pop()
            inside.discard(dead)
            joint = net.ends[dead][0] if net.ends[dead][1] == joint else net.ends[dead][1]
            heading = _arriving(chain[-1][1]) if chain else _INWARD
            continue
        i, s = min(ways, key=lambda way: _turn(heading, way[1]))
        chain.append((i, s))
        joint = net.ends[i][1] if net.ends[i][0] == joint else net.ends[i][0]
        heading = _arriving(s)
    return None


def _leaving(net: Net, i: int, joint: int) -> tuple[int, Segment]:
    s = net.segments[i]
    return i, s if net.ends[i][0] == joint else s.reversed()


def _arriving(s: Segment) -> Point:
    return s.tangent(s.length)


def _turn(heading: Point, way: Segment) -> tuple[float, float]:
    """How far to the left a way turns off, and how it bends after that: the least is the outermost."""
    t = way.tangent(0)
    bend = 0.0 if isinstance(way, Line) else (1 if way.ccw else -1) / way.radius
    turn = math.atan2(heading.x * t.y - heading.y * t.x, heading.x * t.x + heading.y * t.y)
    return (round(turn, 6), bend)


def _closed_up(chain: list[Segment]) -> list[Segment]:
    """The chain with each pair of neighbours brought to the very same point."""
    out = [chain[0]]
    for s in chain[1:]:
        before = out[-1]
        at = _meeting_place(before, s)
        out[-1] = _moved_end(before, at)
        out.append(_moved_end(s.reversed(), at).reversed())
    return out


def _meeting_place(before: Segment, after: Segment) -> Point:
    a, b = before.end, after.start
    apart, middle = math.dist(a, b), Point((a.x + b.x) / 2, (a.y + b.y) / 2)
    crossing = min(meetings(before, after), key=lambda p: math.dist(p, middle), default=middle)
    if math.dist(crossing, middle) <= 2 * apart and crossing != middle:
        return crossing
    if isinstance(before, Arc) and isinstance(after, Line):
        return a
    if isinstance(after, Arc) and isinstance(before, Line):
        return b
    return middle


def _moved_end(s: Segment, end: Point) -> Segment:
    if s.end == end:
        return s
    if isinstance(s, Line):
        return Line(s.start, end)
    if math.dist(s.end, end) < 1e-9 or abs(math.dist(s.centre, end) - s.radius) < 1e-9:
        return replace(s, end=end)
    if math.dist(s.start, end) < 1e-6:
        return replace(s, end=foot(s, end))
    try:
        return Arc.through(s.start, s.point(s.length / 2), end)
    except ValueError:
        return arc_leaving(s.start, s.tangent(0), end)
