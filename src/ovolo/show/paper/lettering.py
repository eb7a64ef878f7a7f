"""Lettering: how wide a line of text is, so that words on a drawing keep clear of one another.

Widths are those of Source Sans, whose figures are all equally wide; `SPARE` leaves room for another face of the same
kind, where it is not there.
"""

import re
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

_WIDTHS = {
    200: " \N{NO-BREAK SPACE}",
    252: "!'.,:;ijlI·",
    310: "()[]-|{}°",
    340: "frt/\\",
    420: '"*szc?',
    500: "aegkvxy0123456789#$+<=>^_~JLFYX×−–",
    555: "bdhnopquµTAPSZVC",
    590: "BEKRDN&",
    650: "GHOQUØ",
    730: "mwMW",
    820: "%@½¼¾",
}
_WIDTH = {letter: width / 1000 for width, letters in _WIDTHS.items() for letter in letters}
_UNKNOWN = 0.62


def breadth(text: str, size: float, *, strong: bool = False) -> float:
    """How wide a line of text is at a size of type, both in mm; `strong` for the heavier cut.

    >>> round(breadth("18", 3.5), 2)
    3.85
    """
    plain = sum(_WIDTH.get(letter, _UNKNOWN) for letter in text)
    return plain * size * SPARE * (1.06 if strong else 1.0)


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
