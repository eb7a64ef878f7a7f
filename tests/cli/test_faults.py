"""Faults on the screen."""

from ovolo.cli.faults import blocks
from ovolo.errors import Fault, JobFaults, OvoloError


def test_a_fault_is_a_block_with_its_place_first() -> None:
    fault = Fault("tool[0].nose_radius", -3, "more than 0", "it is negative", "Write a figure above 0")
    assert blocks(JobFaults([fault])).splitlines() == [
        "tool 1: nose_radius: it is negative",
        "    given:   -3",
        "    allowed: more than 0",
        "    Write a figure above 0.",
    ]


def test_several_are_counted_and_set_apart() -> None:
    fault = Fault("", None, "", "the job is empty", "Did you mean another file?")
    assert blocks(JobFaults([fault, fault])) == (
        "2 things are wrong:\n\nthe job is empty\n    Did you mean another file?\n\n"
        "the job is empty\n    Did you mean another file?"
    )


def test_nothing_in_a_file_can_steer_the_terminal() -> None:
    text = blocks(JobFaults([Fault("a\x1b[2J", "b\x1b[2J\n" + "x" * 200, "", "it is\x07 wrong", "")]))
    assert "\x1b" not in text
    assert "\x07" not in text
    assert max(len(line) for line in text.splitlines()) < 100


def test_an_error_without_faults_says_its_text() -> None:
    assert blocks(OvoloError("the drawing is empty")) == "the drawing is empty"


def test_notes_stand_below_the_faults() -> None:
    error = JobFaults([Fault("", None, "", "the job is empty", "")])
    error.add_note("What is out of reach is drawn in a\x07.svg.")
    assert blocks(error) == "the job is empty\n\nWhat is out of reach is drawn in a?.svg."
