"""Volumes of revolution: Machinery's Handbook, 31st ed., pp. 91-93, worked examples (seen), by Pappus on polygons.

The curves are cut into 4000 chords, whose volume is short by less than 1e-6 of the whole.
"""

import math
from collections.abc import Callable

import pytest

from ovolo.cutting.filing import revolved_volume, ring_volume


def _under(radius: Callable[[float], float], start: float, end: float) -> float:
    """Volume under a curve r(z) turned about the axis."""
    places = [start + (end - start) * k / 4000 for k in range(4001)]
    return revolved_volume([(start, 0.0), *((z, radius(z)) for z in places), (end, 0.0)])


def test_sphere() -> None:
    assert _under(lambda z: math.sqrt(max(3.25**2 - z * z, 0)), -3.25, 3.25) == pytest.approx(143.79, abs=0.01)


def test_torus() -> None:
    assert ring_volume(math.pi * 1.5**2 / 4, 2.5) == pytest.approx(27.76, abs=0.005)


def test_spherical_segment() -> None:
    big = (125**2 + 4 * 50**2) / (8 * 50)
    volume = _under(lambda z: math.sqrt(big**2 - z * z), big - 50, big)
    assert volume == pytest.approx(372_247, abs=2)  # the book's pi is 3.1416


def test_paraboloid_and_its_frustum() -> None:
    assert _under(lambda z: 62.5 * math.sqrt(z / 300), 0, 300) == pytest.approx(1_840_781, abs=5)
    # D 5, d 3, h 6: r^2 grows evenly with height.
    assert _under(lambda z: math.sqrt(1.5**2 + (2.5**2 - 1.5**2) * z / 6), 0, 6) == pytest.approx(80.11, abs=0.002)


def test_cone_paraboloid_sphere_cylinder() -> None:
    """As 1/3 : 1/2 : 2/3 : 1, all of height 2 and radius 1."""
    cylinder = revolved_volume([(0, 0), (0, 1), (2, 1), (2, 0)])
    assert revolved_volume([(0, 0), (2, 1), (2, 0)]) / cylinder == pytest.approx(1 / 3)
    assert _under(lambda z: math.sqrt(z / 2), 0, 2) / cylinder == pytest.approx(1 / 2, rel=1e-5)
    assert _under(lambda z: math.sqrt(max(1 - (z - 1) ** 2, 0)), 0, 2) / cylinder == pytest.approx(2 / 3, rel=1e-5)
