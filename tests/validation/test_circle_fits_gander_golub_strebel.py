"""Circles through published points.

Gander, Golub and Strebel, BIT 34 (1994), 558-578, in the figures that public copies of N. Chernov's test program quote;
the two sets of the SciPy Cookbook, "Least squares circle", the second a short arc. Where a copy quotes a wrong figure
(its algebraic "correct" answer comes from halving a coefficient too early) nothing is held against it here.
"""

import pytest

from ovolo.geometry.circle_fit import fit_circle
from ovolo.geometry.segments import Point


@pytest.mark.parametrize(
    ("xs", "ys", "centre", "radius"),
    [
        ((1, 2, 5, 7, 9, 3), (7, 6, 8, 7, 5, 7), (4.739782, 2.983533), 4.714226),
        ((9, 35, -13, 10, 23, 0), (34, 10, 6, -14, 27, -10), (10.50009, 9.65995), 23.33353),
        ((36, 36, 19, 18, 33, 26), (14, 10, 28, 31, 18, 26), (9.88757, 3.68750), 27.35044),
    ],
)
def test_the_geometric_fit(
    xs: tuple[float, ...], ys: tuple[float, ...], centre: tuple[float, float], radius: float
) -> None:
    circle = fit_circle([Point(x, y) for x, y in zip(xs, ys, strict=True)])
    assert tuple(circle.centre) == pytest.approx(centre, abs=6e-6)
    assert circle.radius == pytest.approx(radius, abs=6e-6)


def test_the_trap_of_a_short_arc() -> None:
    """The algebraic fit gives 20.83 there: 24 % small."""
    points = [Point(x, y) for x, y in zip((36, 36, 19, 18, 33, 26), (14, 10, 28, 31, 18, 26), strict=True)]
    assert fit_circle(points).radius > 1.3 * 20.82995


def test_what_is_left_of_the_published_fit() -> None:
    points = [Point(1, 7), Point(2, 6), Point(5, 8), Point(7, 7), Point(9, 5), Point(3, 7)]
    assert fit_circle(points).left == pytest.approx(0.4523271, abs=1e-6)  # sqrt(S/6)
