"""The scripts of the pages: ES modules that can be read on a screen, what they export explained with its types."""

import re
from collections.abc import Iterator
from pathlib import Path

SCRIPTS = sorted((Path(__file__).parents[2] / "src" / "ovolo" / "app" / "static").rglob("*.js"))
WIDEST = 120
EXPORTED = re.compile(
    r"(?P<doc>/\*\*(?:(?!\*/).)*\*/\s*)?^export (?:async )?function (?P<name>\w+)\(", re.DOTALL | re.MULTILINE
)


def _lines() -> Iterator[tuple[str, str]]:
    for script in SCRIPTS:
        for n, line in enumerate(script.read_text(encoding="utf-8").splitlines(), 1):
            yield f"{script.name}:{n}", line


def test_there_are_scripts() -> None:
    assert {"common.js", "plan.js", "main.js"} <= {script.name for script in SCRIPTS}


def test_no_line_is_wider_than_a_screen() -> None:
    assert [place for place, line in _lines() if len(line) > WIDEST] == []


def test_they_are_modules_and_leave_nothing_global() -> None:
    assert [place for place, line in _lines() if re.match(r"\s*(var |window\.\w+ = |document\.write)", line)] == []


def _parameters(text: str) -> int:
    """How many parameters there are in the text that follows the opening bracket of a function."""
    depth, found = 0, [""]
    for letter in text:
        if letter == ")" and depth == 0:
            break
        depth += (letter in "([{") - (letter in ")]}")
        if letter == "," and depth == 0:
            found.append("")
        else:
            found[-1] += letter
    return sum(1 for each in found if each.strip())


def test_what_is_exported_says_what_it_does_and_what_it_takes() -> None:
    silent = []
    for script in SCRIPTS:
        text = script.read_text(encoding="utf-8")
        for found in EXPORTED.finditer(text):
            told = len(re.findall(r"@param \{[^\n]+\} ", found["doc"] or ""))
            if not found["doc"] or told != _parameters(text[found.end() :]):
                silent.append(f"{script.name}: {found['name']}")
    assert silent == []


NAMED = re.compile(r'^  "?([\w.]+)"?: \["(\w+)", "([^"]+)"\],', re.MULTILINE)
IN_A_SLIDE = re.compile(r'(?:line|choice)\("([^"]+)", "slide\." ~ name ~ "\.(\w+)"')
TEMPLATES = SCRIPTS[0].parents[1] / "templates"


def test_a_field_is_called_the_same_beside_it_and_in_what_is_said_of_it() -> None:
    """names.js says what a fault's place is called; the templates have the labels."""
    names = next(script for script in SCRIPTS if script.name == "names.js").read_text(encoding="utf-8")
    labels = dict(
        re.findall(
            r'<label for="(?:f-)?[\w.-]+">([^<]+)</label><input id="[\w-]+" data-path="([\w.]+)"',
            (TEMPLATES / "part.html").read_text(encoding="utf-8"),
        )
    )
    found = {path: label for label, path in labels.items()}
    for page in ("part", "plan", "shop"):
        text = (TEMPLATES / f"{page}.html").read_text(encoding="utf-8")
        found |= {path: label for label, path in re.findall(r'(?:line|choice)\("([^"]+)", "([\w.]+)"', text)}
        for label, field in IN_A_SLIDE.findall(text):
            assert f'{field}: "{label}"' in names
    listed = {path: label for path, _, label in NAMED.findall(names)}
    assert len(listed) > 20
    whole = {"title", "part.curve", "finish.by"}
    for path, label in listed.items():
        assert path in whole or label.removeprefix("Bar, ").lower() == found[path].lower(), path
    assert {path for path in found if not path.startswith(("pace.", "slide."))} <= set(listed)
