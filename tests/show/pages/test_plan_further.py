"""What comes a little later: time, speeds, and the usual way beside it."""

from dataclasses import replace

from tests.show.pages.examples import plan

from ovolo.plan.view.frame import Frame
from ovolo.predict.forecast.equal_steps import steps_leave
from ovolo.show.pages.plan_further import plan_further, sharp_sentence


def test_the_usual_way_leaves_more() -> None:
    made = plan()
    left = steps_leave(Frame(made.job), made.stations)
    assert left is not None
    assert f"{left:.2f}" in sharp_sentence(made)


def test_nothing_is_said_where_the_usual_way_is_no_worse() -> None:
    made = plan()
    worse = replace(made, prediction=replace(made.prediction, ridge_max=99.0))
    assert sharp_sentence(worse) == ""


def test_minutes_and_what_to_expect_are_there() -> None:
    found = plan_further(plan())
    assert 5 < int(found["minutes"]) < 60
    assert "rev/min" in found["expected"]["few"][0]
    assert [group["title"] for group in found["expected"]["groups"]]
