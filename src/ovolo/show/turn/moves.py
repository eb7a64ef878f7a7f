"""What the page says of each move: the slide, the way, the figure, what the other slide must read meanwhile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ovolo.cutting.pace import times
from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan
from ovolo.predict.forecast.outlook import work_counts_by_move
from ovolo.predict.loads.load import loads
from ovolo.shop.slides import Slide, SlideName
from ovolo.shop.tools import Tool
from ovolo.show.paper.cuts import tool_of
from ovolo.show.words.figures import dialled, slide_name, slide_of, travel_text, unit_of_slide
from ovolo.show.words.table import Row, moves_table

__all__ = ["SlideView", "Standing", "TurnMove", "slides_of", "standing_before", "turn_moves"]

LIGHT = 0.5
"""A cut of less than this share of the bite is called light (our choice)."""


@dataclass(frozen=True)
class SlideView:
    """A slide as the page needs it to write a figure: its convention, and its dial where it is read on one.

    `step` is the travel of one count, `per_mm` what the figure changes by for a mm of travel outward or away from the
    chuck, in its own unit; `count` the finest figure, in that unit.
    """

    name: str
    diameter: bool
    decimals: int
    count: float
    per_mm: float
    unit: str
    dial: bool
    per_turn: float | None
    divisions: int | None
    lock: bool


@dataclass(frozen=True)
class Standing:
    """Where both slides are: the figure of each by the slide's name."""

    figures: dict[str, float]
    first: str


@dataclass(frozen=True)
class TurnMove:
    """One move as it is shown; `figure` in the slide's own unit, `other` what the other slide reads meanwhile."""

    n: int
    stage: str
    setting: int | None
    tool: int
    slide: SlideName
    toward: str
    handwheel: str
    figure: float
    shown: str
    begins: float
    other: str
    other_figure: float
    travel: str
    cut: str
    lock: str
    within: str
    past: bool
    feed: str
    withdraw: bool
    seconds: float


def slides_of(plan: Plan) -> dict[str, SlideView]:
    """The slides that the plan winds, and both main ones in any case, by name."""
    shop = plan.job.shop
    found: dict[str, Slide] = {"cross": shop.cross, "saddle": shop.saddle}
    found |= {move.slide: slide_of(plan.job, move) for move in plan.moves}
    return {name: _slide(slide) for name, slide in found.items()}


def _slide(slide: Slide) -> SlideView:
    return SlideView(
        name=slide_name(slide.name),
        diameter=slide.name == "cross" and slide.reads == "diameter",
        decimals=slide.decimals,
        count=slide.count / slide.unit,
        per_mm=slide.factor / slide.unit,
        unit=unit_of_slide(slide),
        dial=dialled(slide),
        per_turn=slide.per_turn,
        divisions=slide.divisions,
        lock=slide.lock,
    )


def turn_moves(plan: Plan) -> list[TurnMove]:
    """Every move, in order."""
    rows = {row.n: row for section in moves_table(plan).sections for row in section.rows}
    seconds = [times(work_counts, plan.job.shop.pace).total for work_counts in work_counts_by_move(plan, loads(plan))]
    names = [tool.name for tool in plan.tools]
    return [
        _move(plan, rows[move.n], move, names, stands, took)
        for (move, stands), took in zip(_standing(plan), seconds, strict=True)
    ]


def _standing(plan: Plan) -> Iterator[tuple[Move, dict[str, float]]]:
    """Each move with what every slide reads before it."""
    stands: dict[str, float] = {}
    tool = ""
    for move in plan.moves:
        if move.tool != tool:
            stands, tool = standing_before(plan, move).figures, move.tool
        yield move, dict(stands)
        stands[move.slide] = move.figure


def standing_before(plan: Plan, move: Move) -> Standing:
    """What both slides read where a move begins, and which is brought there first, coming from well outside."""
    shop, bore = plan.job.shop, plan.job.part.surface == "bore"
    along = shop.coarse if move.stage == "rough" else shop.fine
    z, r = _reference(tool_of(plan, move), move.start, bore=bore)
    figures: dict[str, float] = {"cross": shop.cross.figure(r), along.name: along.figure(z)}
    figures[move.slide] = figures.get(move.slide, 0.0)  # a top slide set over begins at its 0
    beyond = not bore and move.start.y - tool_of(plan, move).nose_radius > shop.stock.widest
    return Standing(figures, along.name if beyond else "cross")


def _reference(tool: Tool, nose: Point, *, bore: bool) -> tuple[float, float]:
    dz, dr = tool.reference
    return nose.x + dz, nose.y + (-dr if bore else dr)


def _move(plan: Plan, row: Row, move: Move, names: list[str], stands: dict[str, float], seconds: float) -> TurnMove:
    other = _other(move, stands)
    slide = slide_of(plan.job, move)
    return TurnMove(
        n=move.n,
        stage=move.stage,
        setting=move.station,
        tool=names.index(move.tool),
        slide=move.slide,
        toward=move.toward,
        handwheel=row.handwheel,
        figure=move.figure,
        shown=move.shown,
        begins=stands.get(move.slide, _begins(slide, move)),
        other=other,
        other_figure=stands[other],
        travel=f"{travel_text(move.travel, slide)} {unit_of_slide(slide)}",
        cut=_cut(plan, move, heavy=row.heavy),
        lock=row.lock or "",
        within=row.within,
        past=row.past,
        feed=f"Power feed up to {row.feed_off}; the last {row.by_hand} by hand" if row.feed_off else "",
        withdraw=_withdraws(plan, move),
        seconds=round(seconds, 1),
    )


def _begins(slide: Slide, move: Move) -> float:
    """What a slide read before a move, where it has not moved before."""
    way = 1 if move.toward in ("out", "away from the chuck") else -1
    return slide.figure(slide.place(move.figure) - way * move.travel)


def _other(move: Move, stands: dict[str, float]) -> str:
    """The slide that stays where it is while a move is made."""
    if move.slide != "cross":
        return "cross"
    return next(name for name in reversed(stands) if name != "cross")


def _cut(plan: Plan, move: Move, *, heavy: bool) -> str:
    if not move.cuts:
        return ""
    if heavy:
        return "heavy cut"
    return "light cut" if move.bite < LIGHT * plan.job.shop.bite or move.stage == "finish" else "medium cut"


def _withdraws(plan: Plan, move: Move) -> bool:
    """Whether the tool leaves a finished surface by this move."""
    before = plan.moves[move.n - 2] if move.n > 1 else None
    return not move.cuts and before is not None and before.cuts and before.stage == "finish" == move.stage
