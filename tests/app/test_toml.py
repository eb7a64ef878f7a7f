"""Documents as text and back."""

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.app.toml import document_as_toml, document_from_toml
from ovolo.errors import JobFaults

KEYS = st.text("abcdefgh_", min_size=1, max_size=6)
VALUES = (
    st.booleans()
    | st.integers(-(2**53), 2**53)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=12)
)


@given(
    document=st.dictionaries(
        KEYS,
        VALUES
        | st.dictionaries(KEYS, VALUES, max_size=4)
        | st.lists(VALUES, max_size=4)
        | st.lists(st.dictionaries(KEYS, VALUES, max_size=3), min_size=1, max_size=3),
        max_size=5,
    )
)
def test_what_is_written_reads_back(document: dict[str, Any]) -> None:
    assert tomllib.loads(document_as_toml(document)) == document
    assert document_from_toml(document_as_toml(document)) == document


def test_an_example_reads_back(pin: dict[str, Any]) -> None:
    text = document_as_toml(pin)
    assert tomllib.loads(text) == pin
    assert "[[tool]]" in text


@pytest.mark.parametrize("text", ["a =", "a = inf", "a = 12:00:00", "a = " + "[" * 5000, "\x00"])
def test_what_no_job_holds_is_refused(text: str) -> None:
    with pytest.raises(JobFaults):
        document_from_toml(text)


def test_nothing_is_left_out() -> None:
    assert tomllib.loads(document_as_toml({"a": None, "b": {"c": None, "d": 1}})) == {"b": {"d": 1}}
