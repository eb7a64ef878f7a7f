"""From what validation finds to faults that a person can act on."""

import difflib
import json
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, cast, get_args

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from ovolo.documents.job_model import kind_of
from ovolo.errors import Fault

Loc = tuple[str | int, ...]

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]{1,40}")

_WANTED = {
    "string_type": "text",
    "int_type": "a whole number",
    "bool_type": "true or false",
    "list_type": "a list",
    "dict_type": "a table",
    "model_type": "a table",
    "model_attributes_type": "a table",
}


def place(loc: Sequence[str | int]) -> str:
    """A path into a document as it is read aloud.

    >>> place(("part", "outline", 1, "convex"))
    'part.outline[1].convex'
    """
    text = ""
    for step in loc:
        if isinstance(step, int):
            text += f"[{step}]"
        else:
            key = step if _BARE_KEY.fullmatch(step) else json.dumps(step[:40])
            text += f".{key}" if text else key
    return text


def value_at(data: object, loc: Sequence[str | int]) -> object | None:
    """What a document holds at a path; None where there is nothing.

    >>> value_at({"tool": [{"name": "knife"}]}, ("tool", 0, "name"))
    'knife'
    """
    for step in loc:
        data = _inside(data, step)
    return data


def _inside(data: object, step: str | int) -> object | None:
    if isinstance(data, Mapping):
        return cast("Mapping[object, object]", data).get(step)
    if isinstance(data, list) and isinstance(step, int) and step < len(data):
        return cast("list[object]", data)[step]
    return None


def fault_at(data: object, loc: Loc, says: str, remedy: str, limit: str = "") -> Fault:
    """A fault at a path, with the value as it is written there; tables and lists are not recited."""
    value = value_at(data, loc)
    return Fault(place(loc), None if isinstance(value, dict | list) else value, limit, says, remedy)


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name that is spelt most like this one, None where none is close.

    >>> nearest("nose_raduis", ["name", "nose_radius"]), nearest("colour", ["name"])
    ('nose_radius', None)
    """
    found = difflib.get_close_matches(name.lower(), list(known), 1, 0.6)
    return found[0] if found else None


def faults_of(error: ValidationError, model: type[BaseModel]) -> list[Fault]:
    """Every fault that validation against `model` has found, in its order, in our words."""
    return [_fault(details, model) for details in error.errors(include_url=False)]


def _fault(details: ErrorDetails, model: type[BaseModel]) -> Fault:
    kind, loc, value = details["type"], details["loc"], details["input"]
    context: dict[str, Any] = details.get("ctx", {})
    if kind == "fault":
        return Fault(place(loc), value, context["limit"], context["says"], context["remedy"])
    if kind == "missing":
        return _missing(loc, model)
    if kind == "extra_forbidden":
        return _unknown(loc, model, value)
    if kind == "literal_error":
        return _no_choice(loc, value, context["expected"])
    if kind in _WANTED:
        return _wrong_kind(loc, value, _WANTED[kind])
    if kind in ("too_short", "too_long"):
        return _wrong_number(loc, context)
    return Fault(place(loc), value, "", _lowered(details["msg"]), "Correct the figure")


def _missing(loc: Loc, model: type[BaseModel]) -> Fault:
    field = _fields(model, loc[:-1]).get(str(loc[-1]))
    name = str(loc[-1])
    if field is not None and field.examples:
        example = f"{name} = {json.dumps(field.examples[0])}"
    else:
        example = f"[{name}]" if field is not None and _model_in(field.annotation) else name
    meaning = f" ({field.description})" if field is not None and field.description else ""
    return Fault(place(loc), None, "", "it is missing", f"Add {example}{meaning}")


def _unknown(loc: Loc, model: type[BaseModel], value: object) -> Fault:
    known = list(_fields(model, loc[:-1]))
    if str(loc[-1]).lower() in ("radius", "r") and "convex" in known:
        return _radius(loc, value)
    near = nearest(str(loc[-1]), known)
    remedy = f"Did you mean {near}?" if near else "Leave it out"
    return Fault(place(loc), None, ", ".join(known), "there is no such field", remedy)


def _radius(loc: Loc, value: object) -> Fault:
    """An arc needs its side as well: left out, the piece would be straight."""
    figure = json.dumps(value) if isinstance(value, int | float | str) else "its radius"
    says = "a radius does not say to which side the arc bulges"
    remedy = f"Write convex = {figure} where it bulges out of the metal, concave = {figure} where it is hollow"
    return Fault(place(loc), value, "convex, concave or through", says, remedy)


def _no_choice(loc: Loc, value: object, expected: str) -> Fault:
    choices = expected.replace("'", '"')
    near = nearest(value, re.findall(r'"([^"]+)"', choices)) if isinstance(value, str) else None
    remedy = f'Write "{near}"' if near else "Write one of those allowed"
    return Fault(place(loc), value, choices, "it is not one of the choices", remedy)


def _wrong_kind(loc: Loc, value: object, wanted: str) -> Fault:
    name = str(loc[-1]) if loc else "the job"
    remedy = {
        "text": "Put it in quotes",
        "a list": f"Write [[{name}]], with two brackets" if isinstance(value, dict) else "Write it between [ and ]",
        "a table": f"Write it as a table, [{place(loc)}]",
    }.get(wanted, f"Write {wanted}, without quotes")
    shown = None if isinstance(value, dict) else value
    return Fault(place(loc), shown, wanted, f"{kind_of(value)} stands where {wanted} is wanted", remedy)


def _wrong_number(loc: Loc, context: Mapping[str, Any]) -> Fault:
    low, high = context.get("min_length"), context.get("max_length")
    limit = f"at least {low}" if low is not None else f"at most {high}"
    given = context.get("actual_length")
    remedy = "Add what is missing" if low is not None else "Leave out what is too many"
    return Fault(place(loc), None, limit, f"it has {'more' if given is None else given} entries", remedy)


def _fields(model: type[BaseModel], loc: Loc) -> dict[str, FieldInfo]:
    """The known fields of the table at a path."""
    for step in loc:
        if isinstance(step, str):
            field = model.model_fields.get(step)
            inner = _model_in(field.annotation) if field is not None else None
            if inner is None:
                return {}
            model = inner
    return dict(model.model_fields)


def _model_in(annotation: object) -> type[BaseModel] | None:
    """The table that a field holds, be it in a list or optional."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((model for part in get_args(annotation) if (model := _model_in(part))), None)


def _lowered(text: str) -> str:
    return text[:1].lower() + text[1:].rstrip(".")
