"""The description of the interface for scripts, in OpenAPI 3.1: made from its table and from the models that read the
documents."""

from __future__ import annotations

import re
from typing import Any

import ovolo
from ovolo.app.interface import AT_THE_LATHE, CODES, ON_THE_NETWORK, TASKS, TO_KEEP, Data, Entry, ref
from ovolo.documents.schema import schema_of

__all__ = ["description"]

_FAULT: Data = {
    "type": "object",
    "required": ["where", "value", "limit", "says", "remedy"],
    "properties": {
        "where": {"type": "string", "description": "the place, such as part.outline[1].convex"},
        "value": {"description": "what was found there"},
        "limit": {"type": "string", "description": "what would be allowed"},
        "says": {"type": "string", "description": "what is wrong"},
        "remedy": {"type": "string", "description": "what to do"},
    },
}
_KEPT: Data = {
    "type": "object",
    "properties": {
        "id": {"type": "string"},
        "kind": {"enum": ["job", "shop"]},
        "title": {"type": "string"},
        "revision": {
            "type": "integer",
            "description": "grows with every change; a change names the one it was made to",
        },
        "version": {"type": "integer"},
        "can_undo": {"type": "boolean"},
        "can_redo": {"type": "boolean"},
        "deleted": {"type": ["string", "null"], "format": "date-time"},
        "document": {"type": "object", "description": "in the shape of job.toml, as it was typed, faults and all"},
    },
}


def _content(schema: Data, kind: str = "application/json") -> Data:
    return {"content": {kind: {"schema": schema}}}


def _operation(entry: Entry) -> Data:
    answers: Data = {str(entry.status): {"description": "done", **_content(entry.gives)}}
    for code in ("422", *entry.more):
        answers[code] = {"description": CODES[code], **_content(ref("Faults"))}
    body: Data = {}
    if entry.takes is not None:
        kind = "multipart/form-data" if entry.does == "drawing" else "application/json"
        body = {"requestBody": {"required": True, **_content(entry.takes, kind)}}
    return {"summary": entry.says, **body, "responses": answers}


def _paths() -> Data:
    """Each address with its operations; what is kept is a job or a shop."""
    paths: Data = {}
    for entry in (*TASKS, *TO_KEEP, *AT_THE_LATHE, *ON_THE_NETWORK):
        for kind in ("jobs", "shops") if "{kind:" in entry.address else ("",):
            address = re.sub(r"\{(\w+):\w+\}", r"{\1}", entry.address.replace("{kind:kept}", kind))
            item = paths.setdefault(address, {})
            named = re.findall(r"\{(\w+)\}", address)
            if named:
                item["parameters"] = [
                    {"name": n, "in": "path", "required": True, "schema": {"type": "string"}} for n in named
                ]
            item[entry.method.lower()] = _operation(entry)
    return paths


def description() -> Data:
    """The whole description."""
    schemas = {
        "Job": _schema("job"),
        "Plan": _schema("plan"),
        "Kept": _KEPT,
        "Fault": _FAULT,
        "Faults": {"type": "object", "properties": {"faults": {"type": "array", "items": ref("Fault")}}},
    }
    info = {"title": "Ovolo", "version": "1", "description": (ovolo.__doc__ or "").split("\n")[0]}
    return {"openapi": "3.1.0", "info": info, "paths": _paths(), "components": {"schemas": schemas}}


def _schema(document: Any) -> Data:
    """A document's schema, its own definitions found from where it stands here."""
    schema, name = schema_of(document), str(document).capitalize()
    moved: Data = _moved({key: value for key, value in schema.items() if key != "$schema"}, name)
    return moved


def _moved(value: Any, name: str) -> Any:
    if isinstance(value, dict):
        return {key: _moved(item, name) for key, item in value.items()}
    if isinstance(value, list):
        return [_moved(item, name) for item in value]
    if isinstance(value, str) and value.startswith("#/$defs/"):
        return value.replace("#/$defs/", f"#/components/schemas/{name}/$defs/")
    return value
