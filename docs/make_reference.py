"""Write the parts of the documentation that repeat what the code says, so that they can't disagree with it.

    .venv/bin/python docs/make_reference.py

`cli.md` is made whole from `--help`. In `job.md` the tables of fields are made from the schema of the job, in
`tutorial.md` what is printed from the example; the words around them are written by hand. A test holds that all are up
to date.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import click

from ovolo.cli.commands import COMMANDS, commands
from ovolo.documents.reading import read_job
from ovolo.documents.schema import schema_of
from ovolo.plan.planner import make_plan
from ovolo.show.words.printout import printout

HERE = Path(__file__).parent
EXAMPLE = HERE.parent / "examples" / "bridge-pin.toml"

TABLES = {
    "job": "JobFile",
    "part": "PartTable",
    "point": "OutlinePoint",
    "stock": "StockTable",
    "tool": "ToolTable",
    "tool.outline": "ToolPoint",
    "finish": "FinishTable",
    "finish.by": "ByTable",
    "limits": "LimitsTable",
    "lathe": "LatheTable",
    "pace": "PaceTable",
    "errors": "ErrorsTable",
    "errors.setting": "BothSlides",
    "measure": "MeasureTable",
    "slide.cross": "CrossTable",
    "slide.saddle": "SaddleTable",
    "slide.top": "TopTable",
}
"""The marks in job.md and the tables of the schema that go there; a table that the schema doesn't have is left out."""

MARK = re.compile(r"<!-- fields: ([\w. ]+) -->\n.*?<!-- end -->", re.DOTALL)


def command_reference() -> str:
    """cli.md."""
    parts = [_HEAD, _block("ovolo", commands)]
    for name in COMMANDS:
        command = commands.get_command(click.Context(commands, info_name="ovolo"), name)
        assert command is not None
        parts.append(f"## ovolo {name}\n\n{_block(f'ovolo {name}', command)}")
    return "\n".join([*parts, _TAIL])


def _block(name: str, command: click.Command) -> str:
    context = click.Context(command, info_name=name, max_content_width=100, terminal_width=100)
    context.help_option_names = ["-h", "--help"]
    lines = [line.rstrip() for line in command.get_help(context).splitlines()]
    return "```text\n" + "\n".join(lines) + "\n```\n"


_HEAD = """# Commands

Made from `--help` by `docs/make_reference.py`.

Everywhere: exit 0 means done; exit 2 that something given is wrong, with every fault on standard error, each with the
value, the limit and what to do; exit 1 a mistake of the program itself, to be reported. No partial files are left.
"""

_TAIL = """## A plan, a drawing and a table

```sh
ovolo plan examples/bridge-pin.toml --svg pin.svg --csv pin.csv --json pin.json
ovolo plan examples/bridge-pin.toml --ridge "0.02 mm"
ovolo plan examples/bridge-pin.toml --settings 12
```

A length in an option is a number in the job's unit, or a text with its unit: `0.02`, `"0.001 in"`, `"1/64 in"`.
"""


def fields(mark: str) -> str:
    """The table of fields of one table of the job, in Markdown."""
    schema = schema_of("job")
    if mark in ("forms", "form fields"):
        return _forms(schema, by_field=mark == "form fields")
    table = _table(schema, mark)
    if table is None:
        return ""
    wanted = set(table.get("required", []))
    rows = ["| field | what | kind | if left out |", "|---|---|---|---|"]
    for name, field in table["properties"].items():
        default = "required" if name in wanted else _default(field)
        rows.append(f"| `{name}` | {_cell(_said(schema, field))} | {_cell(_kind(schema, field))} | {_cell(default)} |")
    return "\n".join(rows)


def _forms(schema: dict[str, Any], *, by_field: bool) -> str:
    """What each form of `[[part.form]]` is, or what each of their fields is and which forms have it."""
    forms = [table for name, table in schema["$defs"].items() if name.endswith("Form")]
    names = {form["properties"]["form"]["const"]: form for form in forms}
    if not by_field:
        rows = [f"| `{name}` | {_cell(form['description'].splitlines()[0])} |" for name, form in sorted(names.items())]
        return "\n".join(["| form | what it is |", "|---|---|", *rows])
    has: dict[str, list[str]] = {}
    for name, form in sorted(names.items()):
        for field in form["properties"]:
            if field != "form":
                required = " (required)" if field in form.get("required", []) else ""
                has.setdefault(field, []).append(f"{name}{required}")
    rows = [f"| `{field}` | {', '.join(forms)} |" for field, forms in sorted(has.items())]
    return "\n".join(["| field | forms that have it |", "|---|---|", *rows])


def _table(schema: dict[str, Any], mark: str) -> dict[str, Any] | None:
    if mark == "job":
        return schema
    found: dict[str, Any] | None = schema["$defs"].get(TABLES[mark])
    return found


def _said(schema: dict[str, Any], field: dict[str, Any]) -> str:
    if "description" in field:
        return str(field["description"])
    name = next((_name(part) for part in _parts(field) if "$ref" in part), None)
    return str(schema["$defs"][name].get("description", "")).splitlines()[0] if name else ""


def _name(part: dict[str, Any]) -> str:
    return str(part["$ref"]).rsplit("/", 1)[1]


def _parts(field: dict[str, Any]) -> list[dict[str, Any]]:
    return [part for part in field.get("anyOf", [field]) if part.get("type") != "null"]


def _kind(schema: dict[str, Any], field: dict[str, Any]) -> str:
    return " or ".join(dict.fromkeys(_one_kind(schema, part) for part in _parts(field)))


def _one_kind(schema: dict[str, Any], part: dict[str, Any]) -> str:
    if "anyOf" in part:
        return _kind(schema, part)
    if "$ref" in part or "oneOf" in part:
        return "table"
    if "enum" in part:
        return ", ".join(f"`{value}`" for value in part["enum"])
    if "const" in part:
        return f"`{part['const']}`"
    if part.get("type") == "array":
        return f"list of {_kind(schema, part['items'])}" if "items" in part else "list"
    names = {"string": "text", "integer": "whole number", "boolean": "true or false", "object": "table"}
    return _bounded(names.get(str(part.get("type")), str(part.get("type"))), part)


def _bounded(kind: str, part: dict[str, Any]) -> str:
    limits = [
        f"{words} {part[key]:g}"
        for key, words in (("exclusiveMinimum", "over"), ("minimum", "from"), ("exclusiveMaximum", "under"))
        if isinstance(part.get(key), int | float)
    ]
    return f"{kind} {', '.join(limits)}" if limits else kind


def _default(field: dict[str, Any]) -> str:
    value = field.get("default")
    return "" if value is None or value == [] else f"`{json.dumps(value)}`"


def _cell(words: str) -> str:
    return words.replace("|", "\\|")


def job_reference(text: str) -> str:
    """job.md with its tables of fields made anew."""
    return MARK.sub(lambda found: f"<!-- fields: {found[1]} -->\n{fields(found[1])}\n<!-- end -->", text)


PRINTED = re.compile(r"<!-- printed: (\w+) -->\n.*?<!-- end -->", re.DOTALL)


def printed(which: str) -> str:
    """A piece of what `ovolo plan` prints of the bridge pin: its first lines, or the first rows that cut in earnest."""
    lines = printout(make_plan(read_job(EXAMPLE))).splitlines()
    if which == "head":
        return "\n".join(lines[: lines.index("", 2)])
    heading = next(i for i, line in enumerate(lines) if line.startswith("no  "))
    first = next(i for i, line in enumerate(lines) if "saddle to chuck" in line and "  -  " not in line)
    return "\n".join([lines[heading], *lines[first : first + 2]])


def tutorial(text: str) -> str:
    """tutorial.md with what is printed made anew."""
    block = "<!-- printed: {0} -->\n```text\n{1}\n```\n<!-- end -->"
    return PRINTED.sub(lambda found: block.format(found[1], printed(found[1])), text)


def main() -> None:
    page = HERE / "tutorial.md"
    page.write_text(tutorial(page.read_text(encoding="utf-8")), encoding="utf-8")
    (HERE / "cli.md").write_text(command_reference(), encoding="utf-8")
    job = HERE / "job.md"
    job.write_text(job_reference(job.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main()
