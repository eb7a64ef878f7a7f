"""Dome, elliptical end, ball, bell mouth."""

import math

import pytest

from ovolo.errors import JobFaults
from ovolo.geometry.segments import Arc
from ovolo.part.forms import Chain, ball, bell_mouth, cylinder, dome, ellipse


def _arc(chain: Chain) -> Arc:
    (arc,) = chain.segments
    assert isinstance(arc, Arc)
    return arc


@pytest.mark.parametrize(
    ("given", "radius", "height", "diameter"),
    [
        ({"diameter": 18.0}, 9, 9, 18),
        ({"radius": 9.0}, 9, 9, 18),
        ({"diameter": 16.0, "radius": 10.0}, 10, 4, 16),
        ({"diameter": 16.0, "height": 4.0}, 10, 4, 16),
        ({"radius": 10.0, "height": 4.0}, 10, 4, 16),
        # Machinery's Handbook 31st ed. p. 79: a chord of 16 and a height of 6 lie on a radius of 8 1/3.
        ({"diameter": 16.0, "height": 6.0}, 25 / 3, 6, 16),
    ],
)
def test_a_dome_by_any_two_of_its_sizes(given: dict[str, float], radius: float, height: float, diameter: float) -> None:
    arc = _arc(dome(Chain(), **given))
    assert arc.ccw
    assert arc.radius == pytest.approx(radius)
    assert arc.end == pytest.approx((-height, diameter / 2))
    assert arc.tangent(0) == pytest.approx((0, 1))


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({}, "size of the dome"),
        ({"diameter": 18.0, "radius": 8.0}, "spans no more than"),
        ({"diameter": 18.0, "height": 10.0}, "no higher than half"),
        ({"radius": 9.0, "height": 10.0}, "no higher than its radius"),
        ({"diameter": 18.0, "radius": 12.0, "height": 3.0}, "too much"),
        ({"diameter": -18.0}, "not a length"),
    ],
)
def test_a_dome_that_cannot_be_is_refused(given: dict[str, float], says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        dome(Chain(), **given)


def test_a_dome_starts_on_the_axis() -> None:
    with pytest.raises(JobFaults, match="starts on the axis"):
        dome(cylinder(Chain(), diameter=9, length=3), diameter=18)


def test_an_ellipse_keeps_to_its_equation() -> None:
    chain = ellipse(Chain(), length=12, to_diameter=18)
    points = [p for s in chain.segments for p in s.flattened(1e-4)]
    off = [abs(math.hypot((p.x + 12) / 12, p.y / 9) - 1) * 9 for p in points]
    assert max(off) < 2e-3
    assert chain.end == pytest.approx((-12, 9))
    assert 0 < chain.deviation <= 1e-3


def test_a_ball_between_two_necks() -> None:
    chain = ball(cylinder(Chain(), diameter=12, length=5), diameter=20, neck=12)
    assert chain.end == pytest.approx((-5 - 16, 6))


@pytest.mark.parametrize(("neck", "start", "says"), [(20.0, None, "thinner"), (8.0, 22.0, "no ball of 20 mm starts")])
def test_a_ball_that_cannot_be_is_refused(neck: float, start: float | None, says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        ball(Chain(), diameter=20, neck=neck, start=start)


def test_a_bell_mouth_is_round_or_elliptical() -> None:
    round_ = _arc(bell_mouth(Chain(surface="bore"), diameter=20, radius=4))
    assert round_.tangent(round_.length) == pytest.approx((-1, 0))
    oval = bell_mouth(Chain(surface="bore"), diameter=20, length=6, mouth=30)
    assert oval.outline().start == pytest.approx((0, 15))
    assert oval.end == pytest.approx((-6, 10))
    alike = bell_mouth(Chain(surface="bore"), diameter=20, length=4, mouth=28)
    assert alike.segments == (round_,)


@pytest.mark.parametrize(
    ("given", "says"), [({}, "round, by its radius"), ({"length": 4.0, "mouth": 20.0}, "no wider than")]
)
def test_a_bell_mouth_that_cannot_be_is_refused(given: dict[str, float], says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        bell_mouth(Chain(surface="bore"), diameter=20, **given)
