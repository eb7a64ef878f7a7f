import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.errors import FaultsFound
from ovolo.predict import pace
from ovolo.predict.pace import Doings, Pace

DOINGS = Doings(turns=120, settings=40, locks=20, tool_changes=1, measurings=2, feed_seconds=200, filed=15)


def test_each_doing_takes_its_own_time() -> None:
    found = pace.times(DOINGS, Pace(turn=1, setting=2, lock=3, tool_change=4, measuring=5, filing=30))
    assert list(found) == [120, 80, 60, 4, 10, 200, 30]
    assert found.minutes == pytest.approx(504 / 60)


@given(seconds=st.floats(201, 20_000))
def test_the_calibrated_pace_takes_just_the_recorded_time(seconds: float) -> None:
    found = pace.times(DOINGS, pace.calibrated(Pace(), DOINGS, seconds))
    assert found.total == pytest.approx(seconds)
    assert found.feeding == 200


def test_half_the_speed_takes_twice_as_long() -> None:
    assert pace.feed_seconds(30, 0.1, 300) == 2 * pace.feed_seconds(30, 0.1, 600)


@pytest.mark.parametrize(
    ("call", "where"),
    [
        (lambda: Pace(turn=-1), "turn"),
        (lambda: Pace(filing=0), "filing"),
        (lambda: pace.times(Doings(turns=math.nan), Pace()), "turns"),
        (lambda: pace.calibrated(Pace(), DOINGS, 100), "seconds"),
        (lambda: pace.calibrated(Pace(), Doings(feed_seconds=10), 100), "work by hand"),
        (lambda: pace.feed_seconds(1, 0, 600), "feed"),
    ],
)
def test_what_does_not_make_sense_is_refused(call: object, where: str) -> None:
    with pytest.raises(FaultsFound, match=where):
        call()  # type: ignore[operator]
