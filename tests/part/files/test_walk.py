"""One chain out of loose pieces: joined within the gap, keeping to the outside."""

import itertools
import random

import pytest

from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files.walk import Net, net_of, outer_walk


def _joint(net: Net, x: float, y: float) -> int:
    return min(range(len(net.joints)), key=lambda k: abs(net.joints[k].x - x) + abs(net.joints[k].y - y))


def _walk(segments: list[Segment], to: tuple[float, float], gap: float = 0.01) -> list[Segment] | None:
    net = net_of(segments, gap)
    return outer_walk(net, net.groups()[0], _joint(net, 0, 0), _joint(net, *to))


DOME = Arc(Point(0, 0), Point(-9, 9), Point(-9, 0), True)
SHANK = Line(Point(-9, 9), Point(-24, 9))


def test_pieces_in_any_order_and_direction() -> None:
    pieces: list[Segment] = [DOME, SHANK, Line(Point(-24, 9), Point(-24, 12)), Line(Point(-24, 12), Point(-40, 12))]
    chance = random.Random(2)
    for _ in range(20):
        loose = [s.reversed() if chance.random() < 0.5 else s for s in chance.sample(pieces, len(pieces))]
        assert _walk(loose, (-40, 12)) == pieces


@pytest.mark.parametrize("off", [1e-9, 1e-4, 9e-3])
def test_ends_within_the_gap_are_brought_together(off: float) -> None:
    chain = _walk([DOME, Line(Point(-9 - off, 9), Point(-24, 9)), Line(Point(-24, 9 + off), Point(-24, 12))], (-24, 12))
    assert chain is not None
    for a, b in itertools.pairwise(chain):
        assert a.end == b.start
    assert isinstance(chain[0], Arc)
    assert chain[0].radius == pytest.approx(9, abs=1e-6)


def test_what_is_farther_apart_stays_apart() -> None:
    net = net_of([DOME, Line(Point(-9.02, 9), Point(-24, 9))], 0.01)
    assert len(net.groups()) == 2


def test_the_outer_way_is_taken_and_dead_ends_are_left() -> None:
    inside: list[Segment] = [Line(Point(0, 0), Point(-24, 4)), Line(Point(-24, 4), Point(-24, 9))]
    stub: list[Segment] = [Line(Point(-9, 9), Point(-9, 20))]
    assert _walk([*inside, *stub, DOME, SHANK], (-24, 9)) == [DOME, SHANK]


def test_no_way_through_is_none() -> None:
    net = net_of([DOME, SHANK], 0.01)
    assert outer_walk(net, [0], _joint(net, 0, 0), _joint(net, -24, 9)) is None
