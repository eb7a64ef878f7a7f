"""Face, cylinder, taper."""

import math

import pytest

from ovolo.errors import JobFaults
from ovolo.part.forms import Chain, cylinder, dome, face, taper


@pytest.mark.parametrize(
    ("given", "d", "z"),
    [
        ({"to_diameter": 24.0, "length": 40.0}, 24, -40),
        ({"to_diameter": 24.0, "to": -40.0}, 24, -40),
        ({"half_angle": math.radians(3), "length": 40.0}, 20 + 80 * math.tan(math.radians(3)), -40),
        ({"angle": math.radians(6), "length": 40.0}, 20 + 80 * math.tan(math.radians(3)), -40),
        ({"ratio": 10.0, "length": 40.0}, 24, -40),
        ({"ratio": 10.0, "length": 40.0, "way": "shrinking"}, 16, -40),
        ({"per_foot": 0.6, "to_diameter": 20 + 0.6 * 25.4}, 20 + 0.6 * 25.4, -12 * 25.4),
        ({"ratio": 10.0, "to_diameter": 16.0}, 16, -40),
    ],
)
def test_a_taper_follows_from_any_two(given: dict[str, object], d: float, z: float) -> None:
    end = taper(Chain(), diameter=20, **given).end  # type: ignore[arg-type]
    assert end is not None
    assert (2 * end.y, end.x) == pytest.approx((d, z))


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"to_diameter": 24.0}, "two of"),
        ({"to_diameter": 24.0, "length": 40.0, "ratio": 10.0}, "two of"),
        ({"ratio": 10.0, "angle": 0.1, "length": 4.0}, "the same thing twice"),
        ({"ratio": 0.0, "length": 4.0}, "not a length"),
        ({"half_angle": 1.6, "length": 4.0}, "less steep than a face"),
        ({"to_diameter": 20.0, "length": 4.0}, "both ends"),
        ({"ratio": 1.0, "length": 40.0, "way": "shrinking"}, "comes to a point after 20 mm"),
    ],
)
def test_a_taper_that_cannot_be_is_refused(given: dict[str, object], says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        taper(Chain(), diameter=20, **given)  # type: ignore[arg-type]


def test_a_face_goes_out_or_in() -> None:
    shoulder = face(cylinder(Chain(), diameter=18, length=9), diameter=30)
    neck = face(shoulder, diameter=12)
    assert shoulder.end == pytest.approx((-9, 15))
    assert neck.end == pytest.approx((-9, 6))


def test_a_face_that_goes_nowhere_is_refused() -> None:
    with pytest.raises(JobFaults, match="ends there already"):
        face(dome(Chain(), diameter=18), diameter=18)


def test_a_cylinder_on_the_axis_is_refused() -> None:
    with pytest.raises(JobFaults, match="ends on the axis"):
        cylinder(face(cylinder(Chain(), diameter=10, length=5), diameter=0), length=4)
