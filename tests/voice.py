"""The text that people see, and the habits that it should not have: docs/voice.md says the voice, this looks for slips.

`python -m tests.voice` prints each slip with the words round it.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]

HABITS = {
    "told, tells": r"(?<!annot )\b(told|tells?|telling)\b(?! apart)",
    "whoever, nobody": r"\b(whoever|nobody|no one)\b",
    "beside": r"\bbeside\b",
    "so many, so far, as high as": r"\b(so many|so far as|so much as|as high as|as low as)\b",
    "turns a minute": r"\b(turns|revolutions) (a|per) minute\b",
    "stands out, stand off": r"\b(stands?|standing) (out|off|proud|over)\b",
    "asked for": r"\basked (for|of)\b",
    "is reckoned": r"\breckon(ed|s)?\b",
    "lets ... show": r"\blet the (cross slide|saddle|top slide|readout) show\b",
    "Mind": r"(^|[.:;] )Mind\b",
    "station": r"\bstations?\b",
    "setting up": r"\bsetting[- ]up\b",
    "proud": r"\bproud\b",
    "cone": r"\bcones?\b",
    "stretch": r"\bstretch(es)?\b",
    "gives way": r"\bgives? way\b",
    "shade": r"\ba shade\b",
    "bay, lip": r"\b(bays?|lips?)\b",
}
"""What is left out, as a regular expression of each habit."""

LONGEST = 25
"""Words of a sentence that is read at the lathe."""

AT_THE_LATHE = ("show/words", "setup", "plan/report", "show/turn", "app/static/turn")
"""Where sentences are read standing: the rest may take longer."""

Text = tuple[str, str]


def texts() -> Iterator[Text]:
    """(file, text) of what people read: string literals with words in them, help, templates, scripts, documents."""
    src = ROOT / "src" / "ovolo"
    for module in sorted(src.rglob("*.py")):
        for text in _literals(ast.parse(module.read_text(encoding="utf-8")), "/cli/" in str(module)):
            yield _name(module), text
    for page in sorted([*src.rglob("*.html"), *src.rglob("*.typ")]):
        yield _name(page), re.sub(r"\{[{%#].*?[}%#]\}|<[^>]*>", " ", page.read_text(encoding="utf-8"), flags=re.DOTALL)
    for script in sorted(src.rglob("*.js")):
        for text in re.findall(r'"([^"\n]*)"|`([^`]*)`', _code(script.read_text(encoding="utf-8"))):
            if _is_prose(found := re.sub(r"\$\{[^}]*\}", "0", "".join(text))):
                yield _name(script), found
    for page in sorted([ROOT / "README.md", *(ROOT / "docs").glob("*.md"), *(ROOT / "docs" / "how-to").glob("*.md")]):
        if page.name not in ("voice.md", "nomenclature.md", "sources.md"):
            yield _name(page), re.sub(r"```.*?```|`[^`]*`|\]\([^)]*\)", " ", page.read_text("utf-8"), flags=re.DOTALL)
    for job in sorted((ROOT / "examples").glob("*.toml")):
        yield _name(job), "\n".join(re.findall(r"#(.*)$", job.read_text(encoding="utf-8"), re.MULTILINE))


def _name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def _code(script: str) -> str:
    """A script without its comments."""
    return re.sub(r"/\*.*?\*/|(?m:^\s*//.*$)", "", script, flags=re.DOTALL)


def _literals(tree: ast.Module, commands: bool) -> Iterator[str]:
    """Text of a module that may reach people: no docstrings, but for those of commands, which are their help."""
    silent = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.FunctionDef)
            and commands
            and any("command" in ast.unparse(d) for d in node.decorator_list)
        ):
            yield ast.get_docstring(node) or ""
        if isinstance(node, ast.JoinedStr):
            silent |= {id(part) for part in node.values}
            text = "".join(str(part.value) if isinstance(part, ast.Constant) else "0" for part in node.values)
            if _is_prose(text):
                yield text
        elif isinstance(node, ast.Constant) and id(node) not in silent and _is_prose(str(node.value)):
            yield str(node.value)


def _is_prose(text: str) -> bool:
    """Two words at least: names, keys and drawing commands are no text."""
    return len(re.findall(r"[A-Za-z]{2,}", text)) >= 2 and " " in text.strip()


def slips_of(file: str, text: str) -> Iterator[str]:
    """Each habit that a text has, with the words round it."""
    for habit, pattern in HABITS.items():
        for found in re.finditer(pattern, text, re.IGNORECASE if habit != "Mind" else 0):
            yield f"{habit}: {text[max(0, found.start() - 40) : found.end() + 40]}"
    if any(f"/{room}/" in file for room in AT_THE_LATHE):
        for sentence in re.split(r"[.:;?!]\s", text):
            if len(sentence.split()) > LONGEST:
                yield f"long sentence: {sentence}"


def slips() -> list[str]:
    """Each habit that a text still has, after the file that has it."""
    return [f"{file}: {slip}" for file, text in texts() for slip in slips_of(file, text)]


if __name__ == "__main__":
    print("\n".join(slips()) or "no slips")
