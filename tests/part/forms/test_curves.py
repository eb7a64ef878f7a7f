"""Bead, cove, crown, ogee, handle."""

import math
from itertools import pairwise

import pytest

from ovolo.errors import JobFaults
from ovolo.geometry.meet import turn_between
from ovolo.geometry.segments import Arc
from ovolo.part.forms import Chain, bead, cove, crown, handle, ogee


@pytest.mark.parametrize(("form", "ccw", "level"), [(bead, True, 13), (cove, False, 7)])
def test_bead_and_cove_are_half_round_unless_told(form: object, ccw: bool, level: float) -> None:
    arc = form(Chain(), diameter=20, length=6).segments[0]  # type: ignore[operator]
    assert isinstance(arc, Arc)
    assert arc.ccw is ccw
    assert arc.point(arc.length / 2) == pytest.approx((-3, level))


def test_in_a_bore_convex_turns_the_other_way() -> None:
    arc = bead(Chain(surface="bore"), diameter=20, length=6, height=1).segments[0]
    assert isinstance(arc, Arc)
    assert arc.point(arc.length / 2) == pytest.approx((-3, 9))


@pytest.mark.parametrize("given", [{"rise": 1.0}, {"radius": 200.5}])
def test_a_crown_by_its_rise_or_its_radius(given: dict[str, float]) -> None:
    arc = crown(Chain(), diameter=80, length=40, **given).segments[0]
    assert isinstance(arc, Arc)
    assert arc.radius == pytest.approx(200.5)
    assert arc.point(arc.length / 2) == pytest.approx((-20, 41))


def test_swells_that_cannot_be_are_refused() -> None:
    with pytest.raises(JobFaults, match="spans 4 mm, and its ends are 6 mm apart"):
        bead(Chain(), diameter=20, length=6, radius=2)
    with pytest.raises(JobFaults, match="no more than half"):
        cove(Chain(), diameter=20, length=6, depth=4)
    with pytest.raises(JobFaults, match="the same thing twice"):
        cove(Chain(), diameter=20, length=6, depth=1, radius=9)
    with pytest.raises(JobFaults, match="past the axis"):
        cove(Chain(), diameter=4, length=20)
    with pytest.raises(JobFaults, match="its rise or from its radius"):
        crown(Chain(), diameter=20, length=6)


@pytest.mark.parametrize("ends", ["along", "across"])
@pytest.mark.parametrize("share", [0.3, 0.5, 0.8])
@pytest.mark.parametrize("to", [12.0, 30.0])
def test_an_ogee_is_two_tangent_arcs(ends: str, share: float, to: float) -> None:
    chain = ogee(Chain(), diameter=20, to_diameter=to, length=15, ends=ends, share=share)  # type: ignore[arg-type]
    one, two = chain.segments
    assert isinstance(one, Arc)
    assert isinstance(two, Arc)
    assert one.ccw != two.ccw
    assert abs(turn_between(one, two)) < 1e-9
    straight = (-1, 0) if ends == "along" else (0, math.copysign(1, to - 20))
    assert one.tangent(0) == pytest.approx(straight)
    assert two.tangent(two.length) == pytest.approx(straight, abs=1e-9)
    assert one.radius / (one.radius + two.radius) == pytest.approx(share)


def test_an_ogee_needs_two_diameters_and_a_share() -> None:
    with pytest.raises(JobFaults, match="same diameter"):
        ogee(Chain(), diameter=20, to_diameter=20, length=15)
    with pytest.raises(JobFaults, match="need a share"):
        ogee(Chain(), diameter=20, to_diameter=30, length=15, share=1)


GRIP = [[0, 12], [20, 18], [60, 14], [80, 20]]


@pytest.mark.parametrize("tolerance", [0.01, 0.001])
def test_a_handle_meets_its_diameters_and_has_no_corners(tolerance: float) -> None:
    chain = handle(Chain(), through=GRIP, tolerance=tolerance)
    assert chain.deviation <= tolerance
    assert max(abs(turn_between(a, b)) for a, b in pairwise(chain.segments)) < 1e-9
    nodes = chain.outline().nodes
    for along, d in GRIP:
        assert min(math.dist(p, (-along, d / 2)) for p in nodes) < 1e-9


@pytest.mark.parametrize(
    ("through", "where"),
    [
        ([[0, 12]], "through"),
        ([[5, 12], [20, 18]], "through[0]"),
        ([[0, 12], [20, 18], [20, 9]], "through[2]"),
        ([[0, 12], [20, math.nan]], "through[1]"),
        ([[0, 12], [20, -3]], "through[1]"),
        ([[0, 60], [20, 1], [40, 1], [60, 60]], "through"),
    ],
)
def test_a_handle_that_cannot_be_is_refused_at_its_row(through: list[list[float]], where: str) -> None:
    with pytest.raises(JobFaults) as refused:
        handle(Chain(), through=through)
    assert refused.value.faults[0].where == where
