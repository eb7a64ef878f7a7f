"""The sheet: a plan on paper, to be followed at the lathe with a pencil.

Everything on it is text ready to be set; the template only places it. The same plan gives the same bytes.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
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
from ovolo.show.words.table import Row, Section, left, moves_table

__all__ = ["PAPERS", "Group", "Paper", "SheetView", "Stage", "sheet_as_pdf", "sheet_view"]

Paper = Literal["a4", "letter"]

PAPERS: dict[Paper, tuple[str, float]] = {"a4": ("a4", 180.0), "letter": ("us-letter", 186.0)}
"""Each paper: typst's name for it, and the width between its margins, mm."""

GROUP = 5
"""Lines in a group; a few left over join the group before."""

FEWEST = 3
TORN = 2.0
"""A cut and its return on two lines are as bad as so much of a line more."""

DRAWING_HEIGHT = 106.0
"""As low as its key still has room; tools and speeds fit on the first page below it, mm."""

_HEADS = {"stop at": "until it reads", "lock the": "lock", "setting": "s"}
"""Columns that have another name on the sheet than in the table."""

_POINT = 25.4 / 72
"""A typographic point, mm."""


@dataclass(frozen=True)
class Line:
    """One line of the sheet: a move, or two in order, each with a box to tick. What comes before it is the first
    one's."""

    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Group:
    """Lines that stay together on a page."""

    lines: tuple[Line, ...]

    @property
    def rows(self) -> tuple[Row, ...]:
        """Its moves in order."""
        return tuple(row for line in self.lines for row in line.rows)


@dataclass(frozen=True)
class Stage:
    """Moves of one stage with one tool, in groups; `usual` is what holds for each that does not say otherwise."""

    heading: str
    usual: str
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
        stages=tuple(_stage(section) for section in moves.sections),
        measuring=measuring_table(plan),
    )


def _stage(section: Section) -> Stage:
    """A section with what most of its moves have in common said once."""
    usual = _usual_within(section.rows)
    locks = any(row.lock == _IDLE.get(row.slide) for row in section.rows if row.cuts)
    rows = []
    for row in section.rows:
        within = "" if row.within == usual[row.slide, row.cuts] else row.within
        rows.append(replace(row, within=within, lock=None if locks and row.lock == _IDLE.get(row.slide) else row.lock))
    said = [*_within_said(usual), *(["in a cut lock the other slide"] if locks else [])]
    return Stage(section.heading, "; ".join(said), tuple(grouped(paired(rows))))


def _usual_within(rows: Sequence[Row]) -> dict[tuple[str, bool], str]:
    """How far off the moves of each slide may be, those that cut and those that don't: what holds for most of them."""
    found: dict[tuple[str, bool], list[str]] = {}
    for row in rows:
        found.setdefault((row.slide, row.cuts), []).append(row.within)
    return {kind: max(dict.fromkeys(texts), key=texts.count) for kind, texts in found.items()}


def _within_said(usual: Mapping[tuple[str, bool], str]) -> Iterator[str]:
    """The same in words, as few as will do."""
    if len(set(usual.values())) == 1:
        yield f"within {next(iter(usual.values()))}"
        return
    slides = sorted({slide for slide, _ in usual})
    for cuts, where in ((True, "in a cut"), (False, "elsewhere")):
        told = {slide: usual[slide, cuts] for slide in slides if (slide, cuts) in usual}
        if len(set(told.values())) == 1:
            yield f"within {next(iter(told.values()))} {where}"
        elif told:
            yield f"within {', '.join(f'{within} ({slide})' for slide, within in told.items())} {where}"


_IDLE = {"cross slide": "saddle", "saddle": "cross slide", "top slide": "cross slide"}
"""The slide that stays where it is while another moves."""


def paired(rows: Sequence[Row]) -> tuple[Line, ...]:
    """Moves two on a line: as few lines as may be, a cut and its return together; what comes before a move begins one.

    >>> from ovolo.show.words.table import Row
    >>> rows = [Row(n, "", "saddle", "", "", n == 2, "", False, None, None, "") for n in (1, 2, 3)]
    >>> [[row.n for row in line.rows] for line in paired(rows)]
    [[1], [2, 3]]
    """
    best: list[tuple[float, tuple[Line, ...]]] = [(0.0, ())]
    for k in range(1, len(rows) + 1):
        torn = TORN if k > 1 and _returns(rows[k - 2], rows[k - 1]) else 0.0
        alone = (best[k - 1][0] + 1 + torn, (*best[k - 1][1], Line((rows[k - 1],))))
        found = [alone]
        if k > 1 and not rows[k - 1].before:
            torn = TORN if k > 2 and _returns(rows[k - 3], rows[k - 2]) else 0.0
            found.append((best[k - 2][0] + 1 + torn, (*best[k - 2][1], Line((rows[k - 2], rows[k - 1])))))
        best.append(min(found, key=lambda choice: choice[0]))
    return best[-1][1]


def _returns(cut: Row, back: Row) -> bool:
    """Whether a move takes the tool back the way that a cut has gone."""
    return cut.cuts and not back.cuts and cut.slide == back.slide


def grouped(lines: Sequence[Line]) -> list[Group]:
    """Lines in fives; one or two left over at the end join the last five, so that none stands alone on a page.

    >>> [len(group.lines) for group in grouped([Line(())] * 12)]
    [5, 7]
    """
    cuts = list(range(0, len(lines), GROUP)) or [0]
    if len(cuts) > 1 and len(lines) - cuts[-1] < FEWEST:
        cuts.pop()
    ends = [*cuts[1:], len(lines)]
    return [Group(tuple(lines[start:end])) for start, end in zip(cuts, ends, strict=True)]


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
        "running_title": shortened(plan.job.title, 10 * _POINT, width - 75, strong=True),
    }
    parts = {
        "main.typ": template("sheet.typ"),
        "data.json": json.dumps(data, ensure_ascii=False, sort_keys=True),
        "drawing.svg": svg,
    }
    return typeset(parts, "pdf", accessible=True)


def _drawing(plan: Plan, width: float) -> tuple[str, str, str]:
    """The drawing for the first page, its scale, and what it shows in words."""
    view = drawing_view(plan, cuts=Cuts(plan))
    pieces, scale = draw(view, Area(1, 1, width - 2, DRAWING_HEIGHT - 2), key="sheet")
    says = f"Half-section of {plan.job.title} with the tool after move {view.n}"
    return document(width, DRAWING_HEIGHT, plan.job.title, says, pieces, style("print")), scale_text(scale), says
