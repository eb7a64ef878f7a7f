"""The sheet: a plan on paper, to be followed at the lathe with a pencil.

Everything on it is text ready to be set; the template only places it. The same plan gives the same bytes.
"""

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Literal

from ovolo.plan.model import Plan
from ovolo.predict.forecast.outlook import forecast
from ovolo.show.drawing.half_section import Area, draw, drawing_view
from ovolo.show.gauge.measuring import MeasuringTable, measuring_table
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.shapes import scale_text
from ovolo.show.paper.style import style
from ovolo.show.paper.svg import document
from ovolo.show.paper.title_block import TitleBlock, shortened, title_block
from ovolo.show.paper.typeset import template, typeset
from ovolo.show.words.figures import in_units
from ovolo.show.words.outlook import outlook_view
from ovolo.show.words.setting_up import Item, setting_up
from ovolo.show.words.speeds import speeds
from ovolo.show.words.table import Row, left, moves_table

__all__ = ["PAPERS", "Group", "Paper", "SheetView", "Stage", "sheet_as_pdf", "sheet_view"]

Paper = Literal["a4", "letter"]

PAPERS: dict[Paper, tuple[str, float]] = {"a4": ("a4", 180.0), "letter": ("us-letter", 186.0)}
"""Each paper: typst's name for it, and the width between its margins, mm."""

GROUP = 5
"""Moves in a group; a few left over join the group before."""

FEWEST = 3
DRAWING_HEIGHT = 106.0
"""As low as its key still has room; tools and speeds fit on the first page below it, mm."""

_HEADS = {"stop at": "until it reads", "lock the": "lock"}
"""Columns that have another name on the sheet than in the table."""

_POINT = 25.4 / 72
"""A typographic point, mm."""


@dataclass(frozen=True)
class Group:
    """Moves that stay together on a page."""

    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Stage:
    """Moves of one stage with one tool, in groups."""

    heading: str
    groups: tuple[Group, ...]


@dataclass(frozen=True)
class SheetView:
    """All that stands on a sheet but the drawing."""

    block: TitleBlock
    revision: str
    scale: str
    unit: str
    left: tuple[str, ...]
    setting_up: tuple[Item, ...]
    cautions: Item
    expected: tuple[str, ...]
    mind: tuple[str, ...]
    legend: tuple[tuple[str, str], ...]
    stages: tuple[Stage, ...]
    measuring: MeasuringTable


def sheet_view(plan: Plan, scale: str, revision: str) -> SheetView:
    """The view of a plan's sheet."""
    *items, cautions = setting_up(plan).items
    moves, expected = moves_table(plan), outlook_view(plan, forecast(plan), spindle=not speeds(plan))
    return SheetView(
        block=title_block(plan),
        revision=revision,
        scale=scale,
        unit=in_units(moves.unit),
        left=left(plan).sentences,
        setting_up=tuple(items),
        cautions=cautions,
        expected=expected.few,
        mind=expected.cautions,
        legend=tuple((_HEADS.get(column, column), says) for column, says in moves.legend),
        stages=tuple(Stage(section.heading, tuple(grouped(section.rows))) for section in moves.sections),
        measuring=measuring_table(plan),
    )


def grouped(rows: tuple[Row, ...]) -> list[Group]:
    """Rows in fives; one or two left over at the end join the last five, so that none stands alone on a page.

    >>> from ovolo.show.words.table import Row
    >>> rows = tuple(Row(n, "", "", "", "", False, "", False, None, None, "") for n in range(12))
    >>> [len(group.rows) for group in grouped(rows)]
    [5, 7]
    """
    cuts = list(range(0, len(rows), GROUP)) or [0]
    if len(cuts) > 1 and len(rows) - cuts[-1] < FEWEST:
        cuts.pop()
    ends = [*cuts[1:], len(rows)]
    return [Group(rows[start:end]) for start, end in zip(cuts, ends, strict=True)]


def sheet_as_pdf(plan: Plan, *, paper: Paper = "a4", revision: str = "1") -> bytes:
    """The sheet as a PDF (PDF/UA-1), black on white."""
    name, width = PAPERS[paper]
    svg, scale, says = _drawing(plan, width)
    view = sheet_view(plan, scale, revision)
    data = {
        **asdict(view),
        "paper": name,
        "width": width,
        "drawing_says": says,
        "stacked": any(": " in move.shown for move in plan.moves) or any(row.handwheel for row in _rows(view)),
        "running_title": shortened(plan.job.title, 10 * _POINT, width - 75, strong=True),
    }
    parts = {
        "main.typ": template("sheet.typ"),
        "data.json": json.dumps(data, ensure_ascii=False, sort_keys=True),
        "drawing.svg": svg,
    }
    return typeset(parts, "pdf", accessible=True)


def _rows(view: SheetView) -> Iterator[Row]:
    return (row for stage in view.stages for group in stage.groups for row in group.rows)


def _drawing(plan: Plan, width: float) -> tuple[str, str, str]:
    """The drawing for the first page, its scale, and what it shows in words."""
    view = drawing_view(plan, cuts=Cuts(plan))
    pieces, scale = draw(view, Area(1, 1, width - 2, DRAWING_HEIGHT - 2), key="sheet")
    says = f"Half-section of {plan.job.title} with the tool after move {view.n}"
    return document(width, DRAWING_HEIGHT, plan.job.title, says, pieces, style("print")), scale_text(scale), says
