"""What stands ahead of a move: by hand, on the bridge pin."""

from dataclasses import replace

import pytest
from tests.documents.plans import plan
from tests.show.plans import planned

from ovolo.geometry.segments import Point
from ovolo.setup.surfaces import standing


def test_before_the_first_move_it_is_the_bar() -> None:
    stands = standing(plan(), 1)
    assert (stands.front, stands.faced, stands.shoulders) == (0.5, None, ())
    (bar,) = stands.cylinders
    assert (bar.near, bar.far, bar.radius) == pytest.approx((0.5, -24, 10))
    assert bar.move is None


def test_a_pass_leaves_a_cylinder_as_far_as_the_nose_went() -> None:
    """The lowest line of the nose goes from 4.5 to -21.6 at r 9.2; behind that the nose's arc rises."""
    (cut,) = standing(plan(), 4).cylinders
    assert (cut.near, cut.far, cut.radius) == pytest.approx((0.5, -21.6, 9.2))
    assert cut.move is not None
    assert cut.move.n == 2


def test_what_a_later_move_cuts_away_is_not_told() -> None:
    """A second pass, deeper, over the front half: the first one's cylinder is what is left behind it."""
    made = plan()
    deeper = (
        replace(made.moves[1], n=4, start=Point(4.5, 11.4), end=Point(-10, 11.4), figure=-13),
        replace(made.moves[2], n=5, start=Point(-10, 11.4), end=Point(4.5, 11.4)),
    )
    front, behind = standing(replace(made, moves=(*made.moves[:3], *deeper)), 6).cylinders
    assert (front.radius, behind.radius) == pytest.approx((8.4, 9.2))
    assert (front.far, behind.far) == pytest.approx((-10, -21.6))
    assert (front.move and front.move.n, behind.move and behind.move.n) == (4, 2)


def test_a_face_and_a_shoulder_are_told_with_their_cut() -> None:
    """A blade of 3 mm goes in at the finished end, and once more 5 mm behind it: two faces by its left corner."""
    blade = {"tool.0": {"name": "blade", "kind": "grooving", "nose_radius": 0.2, "width": 3}}
    made = plan(blade)
    faced = (
        replace(made.moves[0], n=1, start=Point(0.2, 12), end=Point(0.2, -0.2), area=5.0, cuts=True),
        replace(made.moves[0], n=2, start=Point(-7.8, 12), end=Point(-7.8, 9.5), area=5.0, cuts=True),
    )
    stands = standing(replace(made, moves=faced), 3)
    assert stands.front == pytest.approx(0)
    assert stands.faced is not None
    assert stands.faced.n == 1
    walls = {round(s.z, 6): s.move and s.move.n for s in stands.shoulders}
    assert walls == {-8.0: 2, -5.0: None}
    shoulder = stands.shoulder("blade")
    assert shoulder is not None
    assert shoulder.z == pytest.approx(-8)


def test_in_a_hole_the_smallest_cylinder_is_met_first() -> None:
    stands = standing(planned("bush"), 1)
    (hole,) = stands.cylinders
    assert hole.radius == pytest.approx(planned("bush").job.shop.stock.hole / 2)
    assert stands.nearest(bore=True) == hole
