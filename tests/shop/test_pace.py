"""The user's own pace."""

import math

import pytest

from ovolo.errors import FaultsFound
from ovolo.shop.pace import Pace


def test_a_time_may_be_nothing_but_a_rate_may_not() -> None:
    assert Pace(turn=0, lock=0).turn == 0
    with pytest.raises(FaultsFound, match="filing"):
        Pace(filing=0)


def test_all_that_is_wrong_is_told_at_once() -> None:
    with pytest.raises(FaultsFound) as found:
        Pace(turn=-1, setting=math.inf, measuring=math.nan)
    assert [fault.where for fault in found.value.faults] == ["turn", "setting", "measuring"]
