import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.cutting import pace
from ovolo.cutting.pace import Pace, WorkCounts
from ovolo.errors import FaultsFound

WORK_COUNTS = WorkCounts(turns=120, settings=40, locks=20, tool_changes=1, measurings=2, feed_seconds=200, filed=15)


def test_each_doing_takes_its_own_time() -> None:
    found = pace.times(WORK_COUNTS, Pace(turn=1, setting=2, lock=3, tool_change=4, measuring=5, filing=30))
    assert list(found) == [120, 80, 60, 4, 10, 200, 30]
    assert found.minutes == pytest.approx(504 / 60)


@given(seconds=st.floats(201, 20_000))
def test_the_calibrated_pace_takes_just_the_recorded_time(seconds: float) -> None:
    found = pace.times(WORK_COUNTS, pace.calibrated(Pace(), WORK_COUNTS, seconds))
    assert found.total == pytest.approx(seconds)
    assert found.feeding == 200


def test_half_the_speed_takes_twice_as_long() -> None:
    assert pace.feed_seconds(30, 0.1, 300) == 2 * pace.feed_seconds(30, 0.1, 600)


@pytest.mark.parametrize(
    ("call", "where"),
    [
        (lambda: Pace(turn=-1), "turn"),
        (lambda: Pace(filing=0), "filing"),
        (lambda: pace.times(WorkCounts(turns=math.nan), Pace()), "turns"),
        (lambda: pace.calibrated(Pace(), WORK_COUNTS, 100), "seconds"),
        (lambda: pace.calibrated(Pace(), WorkCounts(feed_seconds=10), 100), "work by hand"),
        (lambda: pace.feed_seconds(1, 0, 600), "feed"),
    ],
)
def test_what_does_not_make_sense_is_refused(call: object, where: str) -> None:
    with pytest.raises(FaultsFound, match=where):
        call()  # type: ignore[operator]


RUN = [WorkCounts(turns=k % 7, settings=1 + k % 2, locks=2 * (k % 3), feed_seconds=k % 5) for k in range(40)]
SLOW = Pace(turn=1.1, setting=12, lock=5)


def _seconds(truth: Pace, run: list[WorkCounts]) -> list[float]:
    return [pace.times(each, truth).total for each in run]


def test_the_pace_that_a_run_was_wound_at_is_found() -> None:
    found = pace.fitted(Pace(), RUN, _seconds(SLOW, RUN))
    assert (found.pace.turn, found.pace.setting, found.pace.lock) == pytest.approx((1.1, 12, 5), rel=0.05)
    assert found.told == ("turn", "setting", "lock")
    assert found.off < 0.2 < found.off_before
    assert (found.recorded, found.foreseen) == pytest.approx((sum(_seconds(SLOW, RUN)), sum(_seconds(Pace(), RUN))))


def test_what_no_move_has_stays_as_it_is() -> None:
    mine = Pace(tool_change=99, measuring=33, filing=7)
    found = pace.fitted(mine, RUN, _seconds(SLOW, RUN)).pace
    assert (found.tool_change, found.measuring, found.filing) == (99, 33, 7)


def test_what_moves_cannot_tell_apart_keeps_its_proportion() -> None:
    run = [WorkCounts(turns=2, settings=1)] * 5
    found = pace.fitted(Pace(turn=2, setting=4), run, [16.0] * 5).pace
    assert (found.turn, found.setting) == pytest.approx((4, 8))


@given(st.lists(st.floats(0.5, 500), min_size=40, max_size=40))
def test_it_never_fits_worse_than_one_factor_and_is_never_negative(seconds: list[float]) -> None:
    hurried = sum(seconds) <= sum(each.feed_seconds for each in RUN)
    if hurried:
        with pytest.raises(FaultsFound):
            pace.fitted(Pace(), RUN, seconds)
        return
    found = pace.fitted(Pace(), RUN, seconds)
    whole = WorkCounts(*(sum(values) for values in zip(*RUN, strict=True)))
    factor = pace.calibrated(Pace(), whole, sum(seconds))
    errors = [a - b for a, b in zip(_seconds(factor, RUN), seconds, strict=True)]
    assert found.off <= math.sqrt(sum(error**2 for error in errors) / len(errors)) + 1e-6
    assert min(vars(found.pace).values()) >= 0


def test_a_constant_of_0_can_be_found_again() -> None:
    found = pace.fitted(Pace(turn=0, setting=0, lock=0), RUN, _seconds(SLOW, RUN)).pace
    assert found.setting == pytest.approx(12, rel=0.05)
