"""The JSON Schemas: made from the code, closed, with the pinned fields and defaults."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from tests.documents.plans import plan

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.resolved import job_as_data
from ovolo.documents.schema import DOCUMENTS, Document, schema_as_json, schema_of
from ovolo.part.forms.document import FIELDS


def _objects(schema: dict[str, Any]) -> Iterator[dict[str, Any]]:
    return (table for table in (schema, *schema["$defs"].values()) if table.get("type") == "object")


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_table_is_closed_and_says_what_it_is(document: Document) -> None:
    tables = list(_objects(schema_of(document)))
    assert len(tables) > 4
    assert all(table["additionalProperties"] is False for table in tables)
    assert all(table["description"] for table in tables)


@pytest.mark.parametrize("document", DOCUMENTS)
def test_the_text_is_the_schema(document: Document) -> None:
    assert json.loads(schema_as_json(document)) == schema_of(document)
    assert schema_of(document)["$schema"].startswith("https://json-schema.org/")


def test_every_field_that_is_written_is_known() -> None:
    job, made = schema_of("job"), plan()
    tables = {"part": "PartTable", "stock": "StockTable", "finish": "FinishTable", "limits": "LimitsTable"}
    for name, table in tables.items():
        assert set(job_as_data(made.job)[name]) <= set(job["$defs"][table]["properties"])
    moves = schema_of("plan")["$defs"]["MoveTable"]
    written = plan_as_data(made)["moves"]
    assert all(set(move) <= set(moves["properties"]) for move in written)
    assert all(set(moves["required"]) <= set(move) for move in written)


def test_required_and_defaults_are_the_pinned_ones() -> None:
    job = schema_of("job")
    assert set(job["required"]) == {"title", "part", "stock", "tool"}
    tool = job["$defs"]["ToolTable"]
    assert set(tool["required"]) == {"name"}
    assert tool["anyOf"] == [{"required": ["nose_radius"]}, {"required": ["outline"]}]
    assert (tool["properties"]["edge_angle"]["default"], tool["properties"]["point_angle"]["default"]) == (93, 55)
    assert job["$defs"]["StockTable"]["anyOf"] == [{"required": ["diameter"]}, {"required": ["outline"]}]


def test_each_form_is_in_the_schema_with_its_fields() -> None:
    """As the forms themselves are read, so a form added there is in the schema too."""
    job = schema_of("job")
    (listed, _) = job["$defs"]["PartTable"]["properties"]["form"]["anyOf"]
    named = listed["items"]["discriminator"]["mapping"]
    assert set(named) == set(FIELDS)
    assert sorted(named.values()) == sorted(form["$ref"] for form in listed["items"]["oneOf"])
    for name, model in FIELDS.items():
        table = job["$defs"][named[name].rsplit("/", 1)[1]]
        assert set(table["properties"]) == set(model.model_fields)
        assert table["additionalProperties"] is False
