"""The description of the interface for scripts, in OpenAPI 3.1: made from the same models that read the documents."""

from __future__ import annotations

from typing import Any

import ovolo
from ovolo.documents.schema import schema_of

__all__ = ["description"]

Data = dict[str, Any]

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
_REVISION: Data = {"type": "object", "required": ["revision"], "properties": {"revision": {"type": "integer"}}}


def _ref(name: str) -> Data:
    return {"$ref": f"#/components/schemas/{name}"}


def _json(schema: Data) -> Data:
    return {"content": {"application/json": {"schema": schema}}}


def _operation(
    summary: str, given: Data | None, answer: Data, *, status: str = "200", more: tuple[str, ...] = ()
) -> Data:
    answers: Data = {status: {"description": "done", **_json(answer)}}
    for code in ("422", *more):
        answers[code] = {"description": _CODES[code], **_json(_ref("Faults"))}
    body: Data = {} if given is None else {"requestBody": {"required": True, **_json(given)}}
    return {"summary": summary, **body, "responses": answers}


_CODES = {
    "404": "nothing is kept there",
    "409": "it was changed elsewhere; `current` is how it stands",
    "422": "what is wrong, all of it, field by field",
}
_ANY: Data = {"type": "object"}
_OUT_OF_REACH = "What no tool reaches, as a drawing of so many mm; no picture where that is not what is in the way"
_ON_PAPER: Data = {
    "type": "object",
    "required": ["job", "width", "height"],
    "properties": {"job": _ref("Job"), "width": {"type": "number"}, "height": {"type": "number"}},
}
_ID: Data = {"name": "id", "in": "path", "required": True, "schema": {"type": "string"}}


def _kept_paths(name: str) -> Data:
    one, named = f"/api/{name}/{{id}}", {"parameters": [_ID]}
    saved = {
        "type": "object",
        "required": ["revision", "document"],
        "properties": {"revision": {"type": "integer"}, "document": _ANY, "said": {"type": "string"}},
    }
    back = {**_REVISION, "required": ["revision", "version"]}
    kept, lost = _ref("Kept"), ("404", "409")
    return {
        f"/api/{name}": {
            "get": _operation(f"The {name} kept, the one last changed first", None, _ANY),
            "post": _operation(
                "Keep a new one (JSON, or text of a job.toml as application/toml)", _ANY, kept, status="201"
            ),
        },
        one: {
            **named,
            "get": _operation("One as it stands", None, kept, more=("404",)),
            "put": _operation("Save a new version", saved, kept, more=lost),
            "delete": _operation("Take it off the list; it can be brought back", None, kept, more=("404",)),
        },
        f"{one}/undo": {**named, "post": _operation("Show the version before", _REVISION, kept, more=lost)},
        f"{one}/redo": {**named, "post": _operation("Show the version after", _REVISION, kept, more=lost)},
        f"{one}/restore": {**named, "post": _operation("Show an older version again", back, kept, more=lost)},
        f"{one}/bring-back": {**named, "post": _operation("Put it back on the list", None, kept, more=("404",))},
        f"{one}/copy": {**named, "post": _operation("Keep a copy", None, kept, status="201", more=("404",))},
        f"{one}/history": {**named, "get": _operation("Every version, the newest first", None, _ANY, more=("404",))},
    }


def description() -> Data:
    """The whole description."""
    job, asked = _ref("Job"), {"ridge": {"type": "number"}, "stations": {"type": "integer"}}
    named: Data = {"name": "name", "in": "path", "required": True, "schema": {"type": "string"}}
    drawing: Data = {
        "content": {
            "multipart/form-data": {
                "schema": {
                    "type": "object",
                    "required": ["file"],
                    "properties": {"file": {"type": "string", "format": "binary"}, "unit": {"enum": ["mm", "in"]}},
                }
            }
        }
    }
    paths: Data = {
        "/api/plan": {"post": _operation("Plan a job; nothing is kept", job, _ref("Plan"))},
        "/api/plan/view": {"post": _operation("The same as the page Plan shows it", job, _ANY)},
        "/api/plan/further": {
            "post": _operation("What else can be told of it: the usual way, time, speeds", job, _ANY)
        },
        "/api/plan/worth": {"post": _operation("How many settings are worth it, tool by tool", job, _ANY)},
        "/api/plan/methods": {"post": _operation("The ways to turn the curve, side by side", job, _ANY)},
        "/api/plan/unreached": {"post": _operation(_OUT_OF_REACH, _ON_PAPER, _ANY)},
        "/api/preview": {
            "post": _operation(
                "Settings only, for another ridge or number",
                {"type": "object", "required": ["job"], "properties": {"job": job, **asked}},
                _ANY,
            )
        },
        "/api/trade": {"post": _operation("What each number of settings leaves", job, _ANY)},
        "/api/part": {"post": _operation("The part as it can be drawn, with its faults", job, _ANY)},
        "/api/shop": {"post": _operation("The tools as they can be drawn, with their faults", job, _ANY)},
        "/api/convention": {"post": _operation("How a slide reads, from what happened when it was wound", _ANY, _ANY)},
        "/api/drawing": {"post": {**_operation("The outline in a drawing file", None, _ANY), "requestBody": drawing}},
        **_kept_paths("jobs"),
        **_kept_paths("shops"),
        "/api/jobs/{id}/plan": {
            "parameters": [_ID],
            "get": _operation("Its plan, as shown", None, _ANY, more=("404",)),
        },
        "/api/jobs/{id}/files/{name}": {
            "parameters": [_ID, named],
            "get": _operation("A file made from it", None, _ANY, more=("404",)),
        },
        "/api/openapi.json": {"get": _operation("This description", None, _ANY)},
    }
    schemas = {
        "Job": _schema("job"),
        "Plan": _schema("plan"),
        "Kept": _KEPT,
        "Fault": _FAULT,
        "Faults": {"type": "object", "properties": {"faults": {"type": "array", "items": _ref("Fault")}}},
    }
    info = {"title": "Ovolo", "version": "1", "description": (ovolo.__doc__ or "").split("\n")[0]}
    return {"openapi": "3.1.0", "info": info, "paths": paths, "components": {"schemas": schemas}}


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
