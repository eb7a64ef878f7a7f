"""The tree of errors, and a fault's two faces: a sentence and a JSON object."""

import json
import pickle
from pathlib import Path

import pytest

from ovolo.errors import CannotPlan, Fault, FaultsFound, JobFaults, OutputError, OvoloError

RADIUS = Fault("part.outline[1].convex", -3, "more than 0", "the radius is negative", "Write 3")
UNITS = Fault("units", "furlong", "mm or in", "the unit is not known", "Write mm or in")


def test_json_shape_is_the_pinned_one() -> None:
    assert RADIUS.as_dict() == {
        "where": "part.outline[1].convex",
        "value": -3,
        "limit": "more than 0",
        "says": "the radius is negative",
        "remedy": "Write 3",
    }


@pytest.mark.parametrize(
    ("value", "kept"),
    [
        (None, None),
        (True, True),
        (2.5, 2.5),
        ("x", "x"),
        (float("nan"), "nan"),
        (float("-inf"), "-inf"),
        (Path("a/b.toml"), "a/b.toml"),
        ((1, float("inf")), [1, "inf"]),
        ({1: (2,)}, {"1": [2]}),
    ],
)
def test_every_value_can_be_written_as_strict_json(value: object, kept: object) -> None:
    written = json.dumps(Fault("w", value, "", "s", "r").as_dict(), allow_nan=False)
    assert json.loads(written)["value"] == kept


def test_text_leaves_out_what_is_not_there() -> None:
    assert str(Fault("job.toml", None, "", "the file does not exist", "Check the name")) == (
        "job.toml: the file does not exist. Check the name."
    )
    assert str(Fault("", "x", "", "not TOML", "")) == "not TOML (given: 'x')."


def test_text_ends_each_sentence_once() -> None:
    assert str(Fault("a", None, "", "It is wrong.", "Is it meant?")) == "a: It is wrong. Is it meant?"


def test_text_quotes_a_long_value_in_part() -> None:
    text = str(Fault("part.outline", list(range(1000)), "", "too long", "Shorten it"))
    assert "[0, 1, 2" in text
    assert "…" in text
    assert len(text) < 120


@pytest.mark.parametrize("kind", [FaultsFound, JobFaults, CannotPlan])
def test_all_faults_are_told_at_once_and_in_order(kind: type[FaultsFound]) -> None:
    error = kind(fault for fault in (RADIUS, UNITS))
    assert error.faults == (RADIUS, UNITS)
    assert str(error) == f"{RADIUS}\n{UNITS}"
    assert pickle.loads(pickle.dumps(error)).faults == error.faults


def test_an_error_without_a_fault_is_our_mistake() -> None:
    with pytest.raises(ValueError, match="JobFaults needs at least one fault, got none"):
        JobFaults([])


def test_tree() -> None:
    assert issubclass(JobFaults, FaultsFound)
    assert issubclass(CannotPlan, FaultsFound)
    assert not issubclass(CannotPlan, JobFaults)
    assert issubclass(FaultsFound, OvoloError)
    assert issubclass(OutputError, OvoloError)
    assert not issubclass(OutputError, FaultsFound)
    assert issubclass(JobFaults, ValueError), "validation at the edges collects ValueErrors"


def test_output_error_carries_its_fault() -> None:
    fault = Fault("out/a.svg", None, "", "the disk is full", "Make room")
    assert OutputError(fault).faults == (fault,)
    assert str(OutputError(fault)) == str(fault)
    assert OvoloError("anything").faults == ()
