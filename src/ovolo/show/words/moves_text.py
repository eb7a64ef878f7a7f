"""The moves as text for a terminal: in columns, or two lines a move where the terminal is narrow."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from textwrap import wrap

from ovolo.show.words.figures import in_units
from ovolo.show.words.table import MovesTable, Row, Section

__all__ = ["NARROW", "WIDTH", "moves_as_text", "paragraph"]

WIDTH = 80
"""Columns of a terminal where nothing else is known."""

NARROW = 72
"""A terminal of fewer columns gets two lines a move."""

_HEADINGS = ("no", "stop at", "wind the", "by", "cut", "lock", "within", "setting")
_TO_THE_RIGHT = (0, 1, 3, 6)
_GAPS = ("", "  ", "  ", "  ", "  ", " ", " ", "  ")
_WAYS = {"toward the chuck": "to chuck", "away from the chuck": "away"}
_MARK = "  > "


def moves_as_text(table: MovesTable, width: int = WIDTH, *, legend: bool = True) -> str:
    """The moves, one after the other; what has to happen first on lines of its own above its move.

    `width` is that of the terminal, in characters; `legend` says what each column means.
    """
    lines = paragraph(f"Moves, in {in_units(table.unit)}: one slide is wound at a time", width, "", "")
    for column, says in table.legend if legend else ():
        lines += paragraph(f"{column + ':':<9} {says}", width, "  ", " " * 12)
    for section in table.sections:
        lines += ["", section.heading, *_rows(section, table, width)]
    return "\n".join([*lines, ""])


def paragraph(text: str, width: int, first: str = "  ", later: str = "  ") -> list[str]:
    """A text broken into lines of fewer characters than `width`; a figure stays with its sign and its unit."""
    tied = _TIED.sub("\N{NO-BREAK SPACE}", text)
    lines = wrap(tied, width - 1, initial_indent=first, subsequent_indent=later, break_on_hyphens=False)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


_TIED = re.compile(r"(?<=[ØR]) (?=[-0-9])|(?<=[0-9]) (?=(?:mm|in|min|rev|N|W|m)\b)")


def _rows(section: Section, table: MovesTable, width: int) -> Iterator[str]:
    lines = [pair for each in table.sections for pair in with_returns(each.rows)]
    cells = {row.n: _cells(row, back) for row, back in lines}
    widths = [max(len(cell) for cell in column) for column in zip(_HEADINGS, *cells.values(), strict=True)]
    narrow = width < NARROW or len(_line(["x" * w for w in widths], widths)) >= width
    if not narrow:
        yield _line(_HEADINGS, widths)
    for row, _ in with_returns(section.rows):
        for text in row.before:
            yield from paragraph(text, width, _MARK, "    ")
        if row.feed_off:
            says = f"Power feed to {row.feed_off}: knock it off there, wind the last {row.by_hand} by hand"
            yield from paragraph(says, width, _MARK, "    ")
        yield from _two_lines(row, cells[row.n], width) if narrow else [_line(cells[row.n], widths)]


def with_returns(rows: Sequence[Row]) -> Iterator[tuple[Row, Row | None]]:
    """Each move with the return that follows it: the same slide back by the same amount, with nothing ahead of it."""
    left = list(rows)
    while left:
        row = left.pop(0)
        back = left[0] if left and _is_return(row, left[0]) else None
        if back is not None:
            left.pop(0)
        yield row, back


def _is_return(row: Row, after: Row) -> bool:
    same = (row.slide, row.travel) == (after.slide, after.travel) and row.direction != after.direction
    return same and row.cuts and not (after.cuts or after.before or after.past)


def _cells(row: Row, back: Row | None) -> tuple[str, ...]:
    nothing = "past" if row.past else "-"
    cut = row.width + (" heavy" if row.heavy else "") if row.cuts else nothing
    setting = [] if row.setting is None else [str(row.setting)]
    way = f"{row.slide} {_WAYS.get(row.direction, row.direction)}" + (f", {row.handwheel}" if row.handwheel else "")
    setting += [] if back is None else [f"back {back.figure}"]
    return str(row.n), row.figure, way, row.travel, cut, _short(row.lock), row.within, ", ".join(setting)


def _short(lock: str | None) -> str:
    """The slide to lock, in a word."""
    return (lock or "").replace("cross slide", "cross")


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    """Numbers to the right, words to the left."""
    placed = [
        cell.rjust(width) if i in _TO_THE_RIGHT else cell.ljust(width)
        for i, (cell, width) in enumerate(zip(cells, widths, strict=True))
    ]
    return "".join(gap + cell for gap, cell in zip(_GAPS, placed, strict=True)).rstrip()


def _two_lines(row: Row, cells: Sequence[str], width: int) -> Iterator[str]:
    """The figure and its slide first; what to know about the move below."""
    number, figure, way, travel, cut, lock, within, setting = cells
    yield from paragraph(f"{number:>3}  {figure}  {way}", width, "", "     ")
    known = [f"by {travel}", f"cut {cut}" if row.cuts else "", f"lock {lock}" if lock else "", f"within {within}"]
    known += [f"setting {setting}" if row.setting is not None else f"then {setting}"] if setting else []
    yield from paragraph(", ".join(word for word in known if word), width, "     ", "     ")
