"""What is asked of a file, and how a refusal is made."""

import pytest

from ovolo.errors import JobFaults
from ovolo.part.files.drawing import Asked, refusal, refuse_file


def test_told_units_count_before_stated_ones_and_one_is_needed() -> None:
    assert Asked(unit="in").scale("mm", "units") == 25.4
    assert Asked().scale("in", "units") == 25.4
    assert Asked().scale("mm", "units") == 1.0
    with pytest.raises(JobFaults, match="mm or inches"):
        Asked().scale(None, "units")


def test_a_refusal_carries_one_fault() -> None:
    (fault,) = refusal("pin.dxf", 3, "it is wrong", "Draw it again", "2").faults
    assert (fault.where, fault.value, fault.limit) == ("pin.dxf", 3, "2")
    with pytest.raises(JobFaults):
        refuse_file("pin.dxf", 3, "it is wrong", "Draw it again")
