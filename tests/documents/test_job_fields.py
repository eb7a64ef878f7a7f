"""The kinds of fields that documents are made of."""

import pytest
from pydantic import ValidationError

from ovolo.documents.job_fields import NotNegative, Positive, Table


class Sample(Table):
    """A table with two lengths."""

    wide: Positive
    deep: NotNegative = 0.0


def test_lengths_are_read_in_the_unit_of_the_document() -> None:
    assert Sample.model_validate({"wide": 1}, context={"unit": "in"}).wide == 25.4
    assert Sample.model_validate({"wide": "3/8 in"}).wide == pytest.approx(9.525)


@pytest.mark.parametrize("value", [0, -1, "7", True, float("nan"), None, 1e9])
def test_what_is_no_length_is_refused(value: object) -> None:
    with pytest.raises(ValidationError):
        Sample.model_validate({"wide": value})


def test_a_field_that_is_not_known_is_refused() -> None:
    with pytest.raises(ValidationError):
        Sample.model_validate({"wide": 1, "high": 2})
