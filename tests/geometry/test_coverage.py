"""What a setting covers, against places along the parallel tried one by one."""

import math

import numpy as np
import pytest

from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.contact import contact_height
from ovolo.geometry.coverage import Settings, _leaves, _next, _previous, spans
from ovolo.geometry.segments import Arc, Line, Point, Segment

UPRIGHT = (math.pi / 2, math.pi / 2)
STEP = 1e-3

DOME = (Arc.from_radius(Point(0, 0), Point(-9, 9), 9, ccw=True), Line(Point(-9, 9), Point(-20, 9)))
FACE = (Line(Point(0, 0), Point(0, 6)), Line(Point(0, 6), Point(-12, 6)))
CHAMFERED = (Line(Point(0, 2), Point(-3, 5)), Line(Point(-3, 5), Point(-10, 5)))
OGEE = (
    Line(Point(0, 4), Point(-3, 4)),
    Arc.from_radius(Point(-3, 4), Point(-6, 7), 3, ccw=False),
    Arc.from_radius(Point(-6, 7), Point(-8, 9), 2, ccw=True),
    Line(Point(-8, 9), Point(-14, 9)),
)
SHAPES: dict[str, tuple[Segment, ...]] = {"dome": DOME, "face": FACE, "chamfer": CHAMFERED, "ogee": OGEE}


class _Free:
    """A tool that can go level as far as it is asked to."""

    apart = 0.0

    def limits(self, x: Floats, y: Floats, target: Floats, *, ahead: bool) -> Floats:
        return target


FREE = _Free()


def _settings(chain: Chain, radius: float, above: float, count: int = 41) -> Settings:
    """Settings on the contact line, some of them lifted off it."""
    first, last = (float(chain.points(np.array([u]))[0][0]) for u in (0.0, chain.length))
    fine = np.linspace(last + radius, first + 0.95 * radius, 4001)
    height = contact_height(chain, fine, radius, UPRIGHT)
    pick = np.linspace(0, len(fine) - 1, count).astype(int)
    x, y = fine[pick], height[pick] + above
    keep = np.isfinite(y)
    x, y = x[keep], y[keep]
    u, away = chain.project(x, y, 3 * radius)
    return Settings(x, y, u, away - radius, np.zeros_like(x))


def _walked(chain: Chain, s: Settings, i: int, radius: float, ridge: float, way: int) -> float:
    """From the foot along the parallel, a micrometre at a time, while it stays inside the nose."""
    end = chain.length if way > 0 else 0.0
    u = np.arange(s.u[i], end, way * STEP)
    x, y = chain.points(u, ridge)
    outside = np.flatnonzero(np.hypot(x - s.x[i], y - s.y[i]) > radius + 1e-7)
    return float(u[max(outside[0] - 1, 0)]) if len(outside) else end


@pytest.mark.parametrize("above", [0.0, 0.01])
@pytest.mark.parametrize("radius", [0.4, 1.5])
@pytest.mark.parametrize("shape", SHAPES)
def test_where_the_parallel_leaves_the_nose(shape: str, radius: float, above: float) -> None:
    chain, ridge = Chain(SHAPES[shape]), 0.03
    s = _settings(chain, radius, above)
    k, t = chain.locate(s.u)
    ahead = _leaves(chain, s, k, t, radius, ridge, ahead=True)
    back = _leaves(chain, s, k, t, radius, ridge, ahead=False)
    for i in map(int, np.flatnonzero(s.gap < ridge)):
        assert ahead[i] == pytest.approx(_walked(chain, s, i, radius, ridge, 1), abs=2.5 * STEP)
        assert back[i] == pytest.approx(_walked(chain, s, i, radius, ridge, -1), abs=2.5 * STEP)


def test_what_stands_off_by_more_than_the_ridge_covers_nothing() -> None:
    chain = Chain(DOME)
    s = _settings(chain, 1.0, 0.05)
    found, off = spans(chain, s, 1.0, 0.03, FREE), s.gap > 0.03
    assert 0 < off.sum() < len(off)
    assert (found.begin[off] == np.inf).all()
    assert (found.end[off] == -np.inf).all()
    assert np.isfinite(found.begin[~off]).all()


def test_a_higher_ridge_covers_more() -> None:
    chain = Chain(OGEE)
    s = _settings(chain, 1.0, 0.0)
    low, high = (spans(chain, s, 1.0, ridge, FREE) for ridge in (0.02, 0.05))
    assert (high.begin <= low.begin + 1e-9).all()
    assert (high.end >= low.end - 1e-9).all()
    assert (high.end - high.begin > low.end - low.begin).any()


def _one(chain: Chain, x: float, y: float, radius: float) -> Settings:
    place = np.array([x]), np.array([y])
    u, away = chain.project(*place, 5 * radius)
    return Settings(*place, u, away - radius, np.zeros(1))


def test_on_its_way_in_the_nose_takes_a_face() -> None:
    """Set beside a square face at r = 2, the nose has come straight in along all of it."""
    chain = Chain(FACE)
    found = spans(chain, _one(chain, 1.5, 2.0, 1.5), 1.5, 0.03, FREE)
    assert found.begin[0] < 2
    assert found.end[0] >= 6


def test_a_cylinder_is_one_plain_pass() -> None:
    """On a cylinder the nose comes along from the free end: one setting, with how far it has to be taken."""
    chain = Chain(FACE)
    found = spans(chain, _one(chain, -10.0, 7.0, 1.0), 1.0, 0.03, FREE)
    assert found.end[0] == pytest.approx(chain.length, abs=0.8)
    corner = 6 + math.pi / 2
    assert found.begin[0] <= corner
    assert found.first[0] >= -0.05  # it has to begin at the free end's corner
    assert found.last[0] <= -10.0


def test_a_slope_is_not_taken_by_a_plain_pass() -> None:
    """On a cone that climbs toward the chuck a level pass covers what one setting does, but for the free side."""
    chain = Chain(CHAMFERED)
    at = math.sqrt(0.5)
    found = spans(chain, _one(chain, -1.5 + at, 3.5 + at, 1.0), 1.0, 0.03, FREE)
    half = math.sqrt(1 - 0.97**2)
    middle = math.hypot(1.5, 1.5)
    assert found.begin[0] == pytest.approx(middle - half, abs=0.02)
    assert found.end[0] == pytest.approx(middle + half, abs=0.02)


@pytest.mark.parametrize("flags", [[0, 0, 0], [1, 0, 0, 1, 0], [0, 1, 1, 0], [1], [0]])
def test_next_and_previous_flags(flags: list[int]) -> None:
    array = np.array(flags, dtype=bool)
    for i in range(len(flags)):
        ahead = [j for j in range(i, len(flags)) if flags[j]]
        behind = [j for j in range(i + 1) if flags[j]]
        assert _next(array)[i] == (ahead[0] if ahead else len(flags) - 1)
        assert _previous(array)[i] == (behind[-1] if behind else 0)


def test_a_ray_ends_where_it_ends_whichever_others_are_asked_with_it() -> None:
    """Each setting alone and all of them together, on an outline that rises and falls."""
    chain = Chain(DOME)
    s = _settings(chain, 1.0, 0.0)
    together = spans(chain, s, 1.0, 0.03, FREE)
    for i in range(0, len(s.x), 7):
        alone = spans(chain, s.take(np.array([i])), 1.0, 0.03, FREE)
        assert (alone.begin[0], alone.end[0]) == (together.begin[i], together.end[i])


def test_some_of_the_settings() -> None:
    s = _settings(Chain(DOME), 1.0, 0.0)
    some: Floats = s.take(np.array([2, 5])).x
    assert list(some) == [s.x[2], s.x[5]]


def test_a_level_pass_covers_no_more_than_the_tool_can_go() -> None:
    """Kept off by something beside it, the nose leaves the rest of the cylinder to others."""

    class Blocked(_Free):
        def limits(self, x: Floats, y: Floats, target: Floats, *, ahead: bool) -> Floats:
            return target if ahead else np.minimum(target, -6.0)

    chain = Chain(FACE)
    one = _one(chain, -10.0, 7.0, 1.0)
    free, blocked = (spans(chain, one, 1.0, 0.03, line) for line in (FREE, Blocked()))
    assert free.begin[0] < blocked.begin[0]
    assert blocked.first[0] <= -6.0
