"""Round figures along an axis."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.show.paper.ticks import tick_text, ticks


@given(st.floats(-1e4, 1e4), st.floats(1e-4, 1e4), st.integers(2, 12))
def test_figures_lie_within_and_evenly(low: float, span: float, most: int) -> None:
    marks = ticks(low, low + span, most)
    assert len(marks) <= most + 2
    assert all(low - 1e-6 * span <= mark <= low + span * (1 + 1e-6) for mark in marks)
    steps = [b - a for a, b in pairwise(marks)]
    assert all(step == pytest.approx(steps[0], rel=1e-4) for step in steps)


def test_all_have_the_decimals_that_one_needs() -> None:
    marks = ticks(0, 0.05, 4)
    assert [tick_text(mark, marks) for mark in marks] == ["0.00", "0.02", "0.04"]
    assert ticks(3, 3) == [3]
