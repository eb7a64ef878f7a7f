"""Documents as the text of a job.toml and back; what was typed is kept as it was typed."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from ovolo.documents.toml_slips import toml_fault
from ovolo.errors import Fault, JobFaults

_ROWS = ("outline", "form")
"""Lists that are written one row a line."""


def document_from_toml(text: str) -> dict[str, Any]:
    """The document in a text. Raises JobFaults where it is no TOML, or holds what no job has (dates, NaN)."""
    try:
        return {key: _plain(value, key) for key, value in tomllib.loads(text).items()}
    except tomllib.TOMLDecodeError as wrong:
        raise JobFaults([toml_fault("job.toml", text, str(wrong))]) from None
    except (RecursionError, ValueError):
        says = "it is nested too deeply, or holds a number that is none"
        raise JobFaults([Fault("job.toml", None, "", says, "Check what is in the file")]) from None


def _plain(value: Any, where: str) -> Any:
    if isinstance(value, dict):
        return {key: _plain(item, f"{where}.{key}") for key, item in value.items()}
    if isinstance(value, list):
        return [_plain(item, f"{where}[{i}]") for i, item in enumerate(value)]
    if isinstance(value, float) and value - value != 0:
        raise JobFaults([Fault(where, value, "a finite number", "it is not a finite number", "Write the figure meant")])
    if isinstance(value, str | bool | int | float):
        return value
    raise JobFaults([Fault(where, value, "", "a date or a time stands where a job has none", "Leave it out")])


def document_as_toml(document: Mapping[str, Any]) -> str:
    """The text of a job.toml that reads back to the same document.

    Raises JobFaults where the document holds what TOML cannot (nothing at all, in the middle of a list).
    """
    written = tomlkit.document()
    plain = {key: value for key, value in document.items() if not isinstance(value, dict | list)}
    rest = {key: value for key, value in document.items() if key not in plain}
    try:
        for key, value in (*plain.items(), *rest.items()):
            if value is not None:
                written.add(key, _item(value, key))
    except (TOMLKitError, ValueError, TypeError) as wrong:
        says = f"it cannot be written as TOML: {str(wrong)[:100]}"
        raise JobFaults([Fault("job", None, "", says, "Leave out what is empty")]) from None
    return tomlkit.dumps(written)


def _item(value: Any, key: str) -> Any:
    if isinstance(value, Mapping):
        table = tomlkit.table()
        for name, inner in value.items():
            if inner is not None:
                table.add(name, _item(inner, name))
        return table
    if isinstance(value, list) and value and all(isinstance(row, Mapping) for row in value):
        return _rows(value) if key in _ROWS else _tables(value)
    return tomlkit.item(value)


def _rows(rows: list[Mapping[str, Any]]) -> Any:
    array = tomlkit.array()
    for row in rows:
        inline = tomlkit.inline_table()
        inline.update({name: value for name, value in row.items() if value is not None})
        array.append(inline)
    return array.multiline(True)


def _tables(rows: list[Mapping[str, Any]]) -> Any:
    tables = tomlkit.aot()
    for row in rows:
        tables.append(_item(row, ""))
    return tables
