"""The schema of check.json."""

import pytest
from pydantic import ValidationError

from ovolo.documents.check.model import CheckFile
from ovolo.documents.schema import schema_of


def test_the_schema_names_every_part_of_the_document() -> None:
    schema = schema_of("check")
    assert {"verdict", "limits", "readings", "causes", "undecided", "remaining", "correction"} <= set(
        schema["required"]
    )
    assert schema["additionalProperties"] is False


def test_what_is_no_check_is_refused() -> None:
    with pytest.raises(ValidationError):
        CheckFile.model_validate({"format": "ovolo-plan"})
