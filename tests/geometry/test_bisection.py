"""Bisection: both places are true, and as close as wanted."""

import math

import pytest

from ovolo.geometry.bisection import ALL, bisected


@pytest.mark.parametrize(("inside", "outside"), [(0.0, 3.0), (3.0, 0.0)])
def test_what_holds_and_what_does_not_on_either_side_of_the_place(inside: float, outside: float) -> None:
    def holds(x: float) -> bool:
        return x <= 1.2345 if inside < outside else x >= 1.2345

    one, other = bisected(holds, inside, outside, close=1e-9)
    assert holds(one)
    assert not holds(other)
    assert abs(one - other) <= 1e-9


def test_it_ends_where_floats_do() -> None:
    tried: list[float] = []

    def holds(x: float) -> bool:
        tried.append(x)
        return x < math.pi

    one, other = bisected(holds, 3.0, 4.0)
    assert len(tried) <= ALL
    assert one == pytest.approx(other, abs=1e-15)


def test_no_more_steps_than_allowed() -> None:
    assert bisected(lambda x: x < 1, 0.0, 8.0, most=2) == (0.0, 2.0)
