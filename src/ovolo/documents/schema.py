"""The JSON Schema of the documents, made from the code that reads and writes them."""

import json
from typing import Any, Literal

from pydantic import BaseModel

from ovolo.documents.check.model import CheckFile
from ovolo.documents.job_model import JobFile
from ovolo.documents.plan.model import PlanFile

__all__ = ["DOCUMENTS", "schema_as_json", "schema_of"]

Document = Literal["job", "plan", "check"]

DOCUMENTS: dict[Document, type[BaseModel]] = {"job": JobFile, "plan": PlanFile, "check": CheckFile}

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_of(document: Document) -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a job, a plan or a check.

    >>> schema_of("job")["additionalProperties"]
    False
    """
    return {"$schema": _DIALECT, **DOCUMENTS[document].model_json_schema(by_alias=True)}


def schema_as_json(document: Document) -> str:
    """The same as text."""
    return json.dumps(schema_of(document), indent=2, ensure_ascii=False) + "\n"
