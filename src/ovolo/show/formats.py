"""Every format that a plan is written in, in one table: the commands and the pages both write from it.

A format is known by its file's name. What writes it is the function of the same name in `ovolo.show.writers`, which is
loaded when something is written: whoever only lists the formats waits for no library.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Literal, NamedTuple

if TYPE_CHECKING:
    from ovolo.plan.model import Plan
    from ovolo.show.paper.style import Mode
    from ovolo.show.sheet.sheet import Paper

__all__ = ["FORMATS", "MEDIA", "Format", "Group", "How", "Written", "endings_of", "write"]

Group = Literal["On paper", "Drawings", "Data"]
Written = str | bytes


class Format(NamedTuple):
    """A file that can be written of a plan: its name (what it shows, and its ending), its group, what it is."""

    name: str
    group: Group
    says: str


_OFFERED: dict[Group, dict[str, str]] = {
    "On paper": {
        "sheet.pdf": "Sheet to take to the lathe",
        "gauge.pdf": "Gauge at true size",
    },
    "Drawings": {
        "drawing.svg": "Drawing",
        "drawing.png": "Drawing, image",
        "move.svg": "One move from near",
        "move.png": "One move from near, image",
        "left.svg": "Left along the curve",
        "left.png": "Left along the curve, image",
        "settings.svg": "Ridge against settings",
        "settings.png": "Ridge against settings, image",
        "explained.svg": "How the stepping works",
        "explained.png": "How the stepping works, image",
        "methods.svg": "Ways to turn the curve",
        "methods.png": "Ways to turn the curve, image",
        "cut.html": "The cut, to play",
        "cut.gif": "The cut, moving image",
        "gauge.svg": "Gauge",
    },
    "Data": {
        "plan.json": "Plan",
        "moves.csv": "Moves, for a spreadsheet",
        "resolved.toml": "Job with every default",
        "tradeoff.txt": "Settings and minutes",
        "tradeoff.csv": "Settings and minutes, for a spreadsheet",
        "tradeoff.json": "Settings and minutes, data",
        "methods.json": "Ways to turn it, data",
        "outline.svg": "Outline",
        "outline.dxf": "Outline, DXF",
        "outline.csv": "Outline, points",
        "gauge.dxf": "Gauge, to be cut",
    },
}

FORMATS = {name: Format(name, group, says) for group, offered in _OFFERED.items() for name, says in offered.items()}
"""The formats by name, in the order in which they are offered."""

MEDIA = {
    "svg": "image/svg+xml",
    "png": "image/png",
    "gif": "image/gif",
    "html": "text/html",
    "pdf": "application/pdf",
    "json": "application/json",
    "csv": "text/csv",
    "txt": "text/plain",
    "toml": "application/toml",
    "dxf": "image/vnd.dxf",
}
"""The media type of each ending."""


@dataclass(frozen=True)
class How:
    """What can be chosen of how a format is written; each format heeds what concerns it.

    move: the one that a drawing shows; revision: printed on each page of the sheet; tell: is told how many images of
    how many are done.
    """

    look: Mode = "paper"
    move: int | None = None
    paper: Paper = "a4"
    revision: str = "1"
    tell: Callable[[int, int], None] = lambda done, of: None


def endings_of(what: str) -> list[str]:
    """The endings that something is written with.

    >>> endings_of("cut"), endings_of("tradeoff")
    (['html', 'gif'], ['txt', 'csv', 'json'])
    """
    return [name.partition(".")[2] for name in FORMATS if name.partition(".")[0] == what]


def write(name: str, plan: Plan, how: How | None = None) -> Written:
    """The file of a plan; KeyError for a name that no format has. Raises JobFaults where `how` fits no such plan."""
    FORMATS[name]
    made: Written = getattr(import_module("ovolo.show.writers"), name.replace(".", "_"))(plan, how or How())
    return made
