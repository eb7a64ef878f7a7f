"""Readings."""

from ovolo.check.measured import Circumstances, Measured, Reading


def test_a_reading_is_written_as_its_column_holds_it() -> None:
    assert Reading(-3, 6.76, 0.01, 0.1).written == 13.52
    assert Reading(-3, 6.76, 0.01, 0.1, column="r").written == 6.76


def test_a_part_is_taken_to_be_as_it_was_turned() -> None:
    measured = Measured(())
    assert measured.state == "turned"
    assert measured.circumstances == Circumstances(in_chuck=True, tool_untouched=True, cool=True)
