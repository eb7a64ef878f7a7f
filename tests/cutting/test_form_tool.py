import pytest

from ovolo.cutting.bending import Section, bar_bends
from ovolo.cutting.force import MOST_SLENDER, Chip, cutting_force, cutting_power, thrust
from ovolo.cutting.form_tool import Stands, widest_form_tool
from ovolo.cutting.materials import material
from ovolo.errors import FaultsFound

STEEL = material("mild steel").force


def test_a_weak_motor_sets_the_limit_and_is_used_up_by_it() -> None:
    tool = widest_form_tool(0.05, 15, STEEL, Stands(power=50, compliance=1e-6, bends=0.05))
    assert tool.limit == "power"
    assert cutting_power(cutting_force(Chip(tool.width, 0.05), STEEL.k11, STEEL.m), 15) == pytest.approx(50)


def test_a_slender_bar_sets_the_limit_and_bends_just_as_far_as_allowed() -> None:
    compliance = bar_bends(1, 50, [Section(50, 10, 10)], 200_000)
    tool = widest_form_tool(0.05, 15, STEEL, Stands(power=1000, compliance=compliance, bends=0.02))
    assert tool.limit == "bending"
    force = thrust(cutting_force(Chip(tool.width, 0.05), STEEL.k11, STEEL.m))
    assert bar_bends(force, 50, [Section(50, 10, 10)], 200_000) == pytest.approx(0.02)


def test_else_the_chip_gets_too_slender() -> None:
    tool = widest_form_tool(0.05, 15, STEEL, Stands(power=1e5, compliance=1e-9, bends=0.05))
    assert tool.limit == "chatter"
    assert tool.width == pytest.approx(MOST_SLENDER * 0.05)


def test_brass_lets_a_wider_tool_in_than_steel() -> None:
    stands = Stands(power=50, compliance=1e-6, bends=0.05)
    brass = widest_form_tool(0.05, 15, material("brass").force, stands)
    assert brass.width > 1.5 * widest_form_tool(0.05, 15, STEEL, stands).width


@pytest.mark.parametrize(
    ("feed", "stands", "where"),
    [(0, Stands(1, 1, 1), "feed"), (0.1, Stands(-1, 1, 1), "power"), (0.1, Stands(1, 0, 1), "compliance")],
)
def test_what_does_not_make_sense_is_refused(feed: float, stands: Stands, where: str) -> None:
    with pytest.raises(FaultsFound, match=where):
        widest_form_tool(feed, 15, STEEL, stands)
