"""Power feed in words."""

from dataclasses import replace

from tests.documents.plans import plan
from tests.show.plans import planned

from ovolo.plan.model import Plan
from ovolo.show.words.power_feed import how_many, power_feed


def without(made: Plan) -> Plan:
    """The same plan on a lathe that feeds nothing."""
    shop = made.job.shop
    return replace(made, job=replace(made.job, shop=replace(shop, lathe=replace(shop.lathe, power_feed=()))))


def test_it_is_said_how_many_cuts_can_run_under_power_feed() -> None:
    assert how_many(plan()) == "1 of the 2 cuts can run under power feed: where to knock it off is given at each."
    assert how_many(without(plan())) == ""
    short = replace(plan(), moves=tuple(move for move in plan().moves if move.n != 2))
    assert how_many(short) == "No cut is long enough for power feed."


def test_it_is_tried_in_the_air_and_the_manual_comes_first() -> None:
    said = " ".join(power_feed(plan()))
    assert "clear of the work" in said
    assert "manual" in said
    assert power_feed(without(plan())) == ()


def test_what_the_margin_was_reckoned_with_is_named_in_the_unit_of_the_job() -> None:
    assert "0.1 mm a turn and 300 rev/min" in power_feed(plan())[1]  # no material: no speed is told
    assert "0.1 mm a turn and the spindle speed given here" in power_feed(planned("bridge-pin"))[1]
    assert power_feed(planned("winch-pin-inch"))[1].startswith("0.04 in or more is left for the hand")
