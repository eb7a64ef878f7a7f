"""Counts that a dial can be stopped at, worked out by hand."""

import pytest
from tests.documents.jobs import Data, faults, pin

from ovolo.documents.dial_counts import can_be_stopped_at, division
from ovolo.shop.slides import Slide

DIAL: Data = {"reads": "radius", "per_turn": 2, "divisions": 40}
"""A division is 0.05."""


@pytest.mark.parametrize("count", [0.05, 0.1, 0.025, 0.0125, 0.01, 0.005])
def test_a_division_its_multiples_and_simple_parts(count: float) -> None:
    assert faults(pin({"slide.cross": {**DIAL, "count": count}, "finish.ridge": 0.3})) == []


def test_other_figures_are_refused_with_what_to_write() -> None:
    """0.03 is six tenths of a division; beside it lie a half, 0.025, and a whole one, 0.05."""
    (fault,) = faults(pin({"slide.cross": {**DIAL, "count": 0.03}}))
    assert (fault.where, fault.value) == ("slide.cross.count", 0.03)
    assert "one division is 0.05 mm" in fault.says
    assert fault.remedy == "Write count = 0.025 or 0.05"


@pytest.mark.parametrize(("count", "near"), [(0.07, "0.05 or 0.1"), (0.004, "0.005"), (0.011, "0.01 or 0.0125")])
def test_the_nearest_on_either_side_is_named(count: float, near: str) -> None:
    (fault,) = faults(pin({"slide.cross": {**DIAL, "count": count}, "finish.ridge": 0.3}))
    assert fault.remedy == f"Write count = {near}"
    for good in near.split(" or "):
        assert faults(pin({"slide.cross": {**DIAL, "count": float(good)}, "finish.ridge": 0.3})) == []


def test_a_slide_that_reads_diameters_counts_twice_the_travel() -> None:
    cross = Slide("cross", "diameter", "out", 0.02, per_turn=1.0, divisions=50)
    assert division(cross) == pytest.approx(0.04)
    assert faults(pin({"slide.cross": {"per_turn": 1, "divisions": 50, "count": 0.02}})) == []
    (fault,) = faults(pin({"slide.cross": {"per_turn": 1, "divisions": 50, "count": 0.03}}))
    assert "0.04 mm of what it reads" in fault.says


def test_inches_and_the_saddle() -> None:
    inch: Data = {"units": "in", "slide.saddle": {"per_turn": 0.1, "divisions": 100, "count": 0.0003}}
    found = [fault for fault in faults(pin(inch)) if fault.where == "slide.saddle.count"]
    assert [fault.remedy for fault in found] == ["Write count = 0.00025 or 0.0005"]


def test_a_readout_has_any_count() -> None:
    assert faults(pin({"slide.cross": {"reads": "radius", "per_turn": 2, "count": 0.03}})) == []
    assert not can_be_stopped_at(0.03, 0.05)
