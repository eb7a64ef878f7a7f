"""Lettering: how wide a line of text is, so that words on a drawing keep clear of one another.

Widths are those in the file of Source Sans, whose figures are all equally wide; `SPARE` leaves room for another face of
the same kind, where it is not there.
"""

import re
from functools import cache
from importlib.resources import files
from textwrap import wrap

__all__ = ["CAP_HEIGHT", "FAMILY", "MIDDLE", "breadth", "wrapped"]

FAMILY = "'Source Sans 3', 'Source Sans Pro', 'Helvetica Neue', Arial, 'Liberation Sans', sans-serif"
"""The face that every drawing names, with what may stand in for it."""

CAP_HEIGHT = 0.66
"""Height of a capital or a figure, as a share of the size of the type."""

MIDDLE = CAP_HEIGHT / 2
"""From the base line up to the middle of a figure, as a share of the size of the type."""

_TIED = re.compile(r"(?<=[ØR]) (?=[-0-9])|(?<=[0-9]) (?=mm\b|in\b)")
"""A figure stays on one line with its sign and its unit."""

SPARE = 1.1

_UNKNOWN = 0.62
"""The width of what the face has no letter for, as a share of the size of the type."""


@cache
def _widths(cut: str) -> dict[str, float]:
    """The width of each letter of a cut of the face, as a share of the size of the type, from the font's own tables."""
    from fontTools.ttLib import TTFont

    with TTFont(str(files("font_source_sans_pro") / "files" / f"SourceSansPro-{cut}.ttf"), lazy=True) as font:
        size, advances = font["head"].unitsPerEm, font["hmtx"]
        return {chr(code): advances[glyph][0] / size for code, glyph in font.getBestCmap().items()}


def breadth(text: str, size: float, *, strong: bool = False) -> float:
    """How wide a line of text is at a size of type, both in mm; `strong` for the heavier cut.

    >>> round(breadth("18", 3.5), 2)
    3.83
    """
    widths = _widths("Semibold" if strong else "Regular")
    return sum(widths.get(letter, _UNKNOWN) for letter in text) * size * SPARE


def wrapped(text: str, size: float, width: float) -> list[str]:
    """The text in lines that fit into `width` mm.

    >>> wrapped("Sixteen settings leave at most", 3.5, 30)
    ['Sixteen settings', 'leave at most']
    """
    words = _TIED.sub("\N{NO-BREAK SPACE}", text)
    letters = max(8, int(width / (0.49 * size)))
    while letters > 8:
        lines = wrap(words, letters, break_on_hyphens=False)
        if all(breadth(line, size) <= width for line in lines):
            return lines
        letters -= 1
    return wrap(words, letters, break_on_hyphens=False)
