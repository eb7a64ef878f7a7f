"""Slips of the pen in a job file: what a line that is not TOML was most likely meant to be."""

import re

from ovolo.errors import Fault

__all__ = ["toml_fault", "toml_slip"]

_PLACE_IN_FILE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")

_COMMA = re.compile(r"(?<![\w.])([+-]?[0-9]+),([0-9]+)(?![\w.])")
_BARE = re.compile(r"(?P<key>[\w.-]+)\s*=\s*(?P<text>[A-Za-z][^\"'#\[\]{}=]*?)\s*(?:#.*)?$")
_UNIT = re.compile(r"(?P<key>[\w.-]+)\s*=\s*(?P<text>[0-9][0-9 ./]*\s*(?:mm|cm|in|thou|°|deg|\"|''))\s*(?:#.*)?$")
_COLON = re.compile(r"(?P<key>[\w-]+)\s*:\s*(?P<text>\S.*)$")
_NO_EQUALS = re.compile(r"(?P<key>[A-Za-z_]\w*)\s+(?P<text>[0-9.\"].*)$")
_OPEN_QUOTE = re.compile(r"(?P<key>[\w.-]+)\s*=\s*\"(?P<text>[^\"]*)$")


def toml_fault(where: str, text: str, message: str) -> Fault:
    """The fault for a text that is not TOML: `message` is what the reader said, `where` the file."""
    found = _PLACE_IN_FILE.search(message)
    lines = text.splitlines()
    number = int(found[1]) if found and found[1] else len(lines)
    says = message[: found.start()] if found else message
    line = lines[number - 1].strip() if 0 < number <= len(lines) else None
    known = toml_slip(line or "", says)
    if known is None:
        known = f"this line cannot be read ({says[:1].lower()}{says[1:]})", "Correct that line, or the one before it"
    return Fault(f"{where}, line {number}", line, "", *known)


def toml_slip(line: str, says: str) -> tuple[str, str] | None:
    """What is wrong with a line and what to type instead; None where it is none of the usual slips.

    `says` is what the reader of TOML found.

    >>> toml_slip("diameter = 16,5", "")
    ('decimals are marked with a point', 'Write diameter = 16.5')
    >>> toml_slip("material = mild steel", "")
    ('text needs quotes', 'Write material = "mild steel"')
    """
    twice = _twice(line, says)
    if twice:
        return twice
    bare = line.strip()
    if _COMMA.search(bare) and not re.search(r"[\[{]", bare):
        return "decimals are marked with a point", "Write " + _COMMA.sub(r"\1.\2", bare)
    if found := _OPEN_QUOTE.match(bare):
        return "the quote at the end is missing", f'Write {found["key"]} = "{found["text"].strip()}"'
    if found := _BARE.match(bare) or _UNIT.match(bare):
        text = found["text"].strip().replace('"', " in")
        return "text needs quotes", f'Write {found["key"]} = "{text}"'
    if found := _COLON.match(bare):
        return "a field and its value are joined by =", f"Write {found['key']} = {found['text']}"
    if found := _NO_EQUALS.match(bare):
        return "the = is missing", f"Write {found['key']} = {found['text']}"
    if re.match(r"\[+[\w.-]+$", bare):
        return "the bracket at the end is missing", f"Write {bare}{']' * (len(bare) - len(bare.lstrip('[')))}"
    return None


def _twice(line: str, says: str) -> tuple[str, str] | None:
    """A field or a table that stands in the file a second time."""
    if "overwrite" not in says and "twice" not in says and "Duplicate" not in says:
        return None
    if line.startswith("["):
        return "this table is there already", "Put both together; several tools are [[tool]], with two brackets"
    name = line.split("=")[0].strip()
    return f"{name} is there already, further up in the same table", "Leave one of the two out"
