"""What stands on a piece, read off its border: by hand, a bar with a shoulder."""

from tests.documents.plans import plan

from ovolo.geometry.segments import Point
from ovolo.plan.report.surfaces import Cylinder, Shoulder, Standing, standing_on


def test_cylinders_and_shoulders_of_a_border() -> None:
    made = plan()
    line = [Point(0, 0), Point(0, 7), Point(-8, 7), Point(-8, 10), Point(-24, 10)]
    stands = standing_on(made.frame, {t.name: t for t in made.tools}, (), 1, line)
    assert stands.front == 0
    assert [(c.near, c.far, c.radius) for c in stands.cylinders] == [(0, -8, 7), (-8, -24, 10)]
    assert [s.z for s in stands.shoulders] == [-8]


def test_the_one_to_touch_is_the_largest_outside_and_the_smallest_in_a_bore() -> None:
    small, large = Cylinder(0, -8, 7, None), Cylinder(-8, -24, 10, None)
    stands = Standing(0, None, (small, large), (Shoulder(-8, None),))
    assert stands.nearest(bore=False) == large
    assert stands.nearest(bore=True) == small
    assert stands.longest("knife") is None
    assert stands.shoulder("knife") is None
