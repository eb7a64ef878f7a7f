"""Halving: both places are true, and as close as asked for."""

import math

import pytest

from ovolo.geometry.halving import ALL, halved


@pytest.mark.parametrize(("inside", "outside"), [(0.0, 3.0), (3.0, 0.0)])
def test_what_holds_and_what_does_not_on_either_side_of_the_place(inside: float, outside: float) -> None:
    def holds(x: float) -> bool:
        return x <= 1.2345 if inside < outside else x >= 1.2345

    one, other = halved(holds, inside, outside, close=1e-9)
    assert holds(one)
    assert not holds(other)
    assert abs(one - other) <= 1e-9


def test_it_ends_where_floats_do() -> None:
    tried: list[float] = []

    def holds(x: float) -> bool:
        tried.append(x)
        return x < math.pi

    one, other = halved(holds, 3.0, 4.0)
    assert len(tried) <= ALL
    assert one == pytest.approx(other, abs=1e-15)


def test_so_many_halvings_and_no_more() -> None:
    assert halved(lambda x: x < 1, 0.0, 8.0, most=2) == (0.0, 2.0)
