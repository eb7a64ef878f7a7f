"""Winding a slide says how it reads; answers that fit nothing are refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.errors import JobFaults
from ovolo.shop.slides import Grows, Reads, Slide, SlideName
from ovolo.show.pages.convention import Wound, work_out


@given(
    reads=st.sampled_from(["diameter", "radius"]),
    grows=st.sampled_from(["out", "in"]),
    wound=st.sampled_from(["away", "nearer"]),
    travel=st.floats(0.5, 50),
    start=st.floats(-100, 100),
    slack=st.floats(-0.04, 0.04),
)
def test_any_cross_slide_is_found_out(
    reads: Reads, grows: Grows, wound: Wound, travel: float, start: float, slack: float
) -> None:
    slide = Slide("cross", reads, grows, 0.01)
    after = start + slide.factor * travel * (1 if wound == "away" else -1)
    found = work_out("cross", wound, travel * (1 + slack), start, after)
    assert (found.reads, found.grows) == (reads, grows)


@given(grows=st.sampled_from(["away", "toward"]), travel=st.floats(0.5, 50), start=st.floats(-100, 100))
def test_any_slide_along_the_axis_is_found_out(grows: Grows, travel: float, start: float) -> None:
    both: tuple[tuple[SlideName, str], ...] = (("saddle", "the saddle goes"), ("top", "the top slide goes"))
    for name, called in both:
        slide = Slide(name, "radius", grows, 0.01)
        found = work_out(name, "away", travel, start, start + slide.factor * travel)
        assert (found.reads, found.grows) == (None, grows)
        assert called in found.says


@pytest.mark.parametrize(
    ("travel", "before", "after"),
    [
        (1, 0, 1.5),
        (1, 0, 4),
        (1, 0, 0),
        (0, 0, 1),
        (-1, 0, 1),
        (math.nan, 0, 1),
        (1, math.inf, 1),
        (True, 0, 2),
        ("1", 0, 2),
        (1, 0, 10**400),
    ],
)
def test_what_fits_nothing_is_refused(travel: object, before: float, after: float) -> None:
    with pytest.raises(JobFaults) as refused:
        work_out("cross", "away", travel, before, after)
    assert all(fault.says and fault.remedy for fault in refused.value.faults)


def test_a_saddle_never_counts_double() -> None:
    with pytest.raises(JobFaults, match=r"2\.00 times the travel"):
        work_out("saddle", "away", 1.0, 0.0, 2.0)
