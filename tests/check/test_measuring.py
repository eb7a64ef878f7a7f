"""What to measure."""

from dataclasses import replace

from tests.check.parts import shape

from ovolo.check.checking import limits_of
from ovolo.check.measuring import measuring_list
from ovolo.plan.model import Plan
from ovolo.shop.instruments import Instrument


def _with(plan: Plan, *owned: Instrument) -> Plan:
    return replace(plan, job=replace(plan.job, shop=replace(plan.job.shop, instruments=owned)))


def test_places_lie_where_jaws_reach_nothing_else() -> None:
    plan = shape("dome").plan
    advice = measuring_list(plan, limits_of(plan))
    assert 8 <= len(advice.places) <= 16
    assert all(place.z + 1.5 <= 0.0 for place in advice.places)
    assert [place.z for place in advice.places] == sorted((place.z for place in advice.places), reverse=True)


def test_points_on_the_steep_part_are_asked_for_by_readout() -> None:
    plan = _with(shape("dome").plan, Instrument.usual("caliper", "knife edges", over=0.0))
    advice = measuring_list(plan, limits_of(plan))
    steep = [place for place in advice.places if place.by_readout]
    assert steep
    assert all(place.z > -3 for place in steep)


def test_a_finer_instrument_decides_more() -> None:
    plan = shape("crown").plan
    limits = limits_of(plan)
    rough = measuring_list(_with(plan, Instrument.usual("caliper", "old", u=0.2)), limits)
    fine = measuring_list(_with(plan, Instrument.usual("micrometer", "0 to 50")), limits)
    assert fine.u < rough.u
    assert fine.can_prove


def test_an_indicator_that_the_slides_carry_sees_no_taper() -> None:
    plan = _with(shape("crown").plan, Instrument.usual("indicator", "ball"))
    advice = measuring_list(plan, limits_of(plan))
    assert ("cross_offset", "taper") in advice.causes
