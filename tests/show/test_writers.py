"""Each writer gives a file of the kind that its name says, and the same one twice."""

import pytest
from tests.show.plans import planned

from ovolo.show.formats import FORMATS, How, write

BEGINS: dict[str, str | bytes] = {
    "svg": "<", "png": b"\x89PNG", "gif": b"GIF89a", "html": "<!doctype html>", "pdf": b"%PDF-", "json": "{",
    "csv": "", "txt": "", "toml": "", "dxf": "  0",
}  # fmt: skip
SLOW = {"cut.gif"}
"""Written by the tests of the command."""


@pytest.mark.parametrize("name", [name for name in FORMATS if name not in SLOW])
def test_a_format_is_what_it_says(name: str) -> None:
    made, begins = write(name, planned("pivot")), BEGINS[name.partition(".")[2]]
    assert made
    if isinstance(made, bytes):
        assert isinstance(begins, bytes)
        assert made.startswith(begins)
    else:
        assert isinstance(begins, str)
        assert made.lstrip().startswith(begins.lstrip())


def test_how_is_heeded() -> None:
    assert "#15212c" in str(write("drawing.svg", planned("pivot"), How(look="dark")))
    assert write("move.svg", planned("pivot"), How(move=1)) != write("move.svg", planned("pivot"), How(move=2))
