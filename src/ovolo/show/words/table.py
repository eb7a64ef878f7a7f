"""The moves as a table that a person follows, and what will be left; a view model each, as text and as CSV.

One slide, one figure, one line; the figure to stop at comes first. On screen a station is called a setting.
"""

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from ovolo.documents.plan.words import notes_of
from ovolo.plan.model import Job, Move, Plan
from ovolo.plan.steps import UNKNOWN_BACKLASH
from ovolo.predict.forecast.equal_steps import steps_leave
from ovolo.predict.loads.power_feed import FeedOff, feed_offs
from ovolo.setup.measuring import ahead_of
from ovolo.show.words.figures import (
    clockwise_text,
    dialled,
    ridge_text,
    slide_name,
    slide_of,
    travel_text,
    within_text,
)
from ovolo.show.words.power_feed import hand_text, how_many
from ovolo.tolerances import SAME_PLACE
from ovolo.units import Unit, format_figure, format_length, from_mm

__all__ = [
    "Left",
    "MovesTable",
    "Row",
    "Section",
    "left",
    "left_sentences",
    "moves_as_csv",
    "moves_table",
]

HEAVY = 0.9
"""A cut this near to the widest allowed is called heavy: be ready for it."""

_STAGES = {"rough": "Rough", "finish": "Finish"}


@dataclass(frozen=True)
class Row:
    """One move: the figure to stop at, which slide, which way and how far, and what to know about it.

    `travel` is in the job's unit without naming it; `before` is what has to happen first. `handwheel` says which way
    it is turned, where the job tells; `past`, that it is wound past its place on purpose and brought back by the next
    move, against the lost motion of the screw. `feed_off` is the figure at which power feed is knocked off, where it
    may run, and `by_hand` what is left from there.
    """

    n: int
    figure: str
    slide: str
    direction: str
    travel: str
    cuts: bool
    width: str
    heavy: bool
    lock: str | None
    setting: int | None
    within: str
    before: tuple[str, ...] = ()
    handwheel: str = ""
    past: bool = False
    feed_off: str = ""
    by_hand: str = ""


@dataclass(frozen=True)
class Section:
    """Moves of one stage with one tool."""

    heading: str
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class MovesTable:
    """All moves, in order, in sections; `unit` is that of every length in it, `legend` says what its columns mean.

    `power` says how many of its cuts can run under power feed; it is empty where the lathe has none.
    """

    unit: Unit
    sections: tuple[Section, ...]
    legend: tuple[tuple[str, str], ...] = ()
    power: str = ""


@dataclass(frozen=True)
class Left:
    """What will be left, in plain sentences, the most important first; `compared`: what equal steps would leave."""

    sentences: tuple[str, ...]
    compared: str | None = None


def moves_table(plan: Plan) -> MovesTable:
    """The plan's moves, grouped by stage and tool."""
    heavy, past, offs = _heavy(plan), _past(plan), feed_offs(plan)
    said: dict[int, list[str]] = {}
    for before in ahead_of(plan):
        said.setdefault(before.move, []).append(before.text)
    sections = []
    for (stage, tool), group in groupby(plan.moves, key=lambda move: (move.stage, move.tool)):
        moves = tuple(group)
        if stage == "rough" and (plan.job.shop.cross.lock or plan.job.shop.saddle.lock):
            said.setdefault(moves[0].n, []).append(_LOCK_IN_ROUGHING)
        rows = tuple(_row(plan.job, m, m.n in heavy, m.n in past, said.get(m.n, ()), offs.get(m.n)) for m in moves)
        sections.append(Section(f"{_STAGES[stage]} with {tool}", rows))
    return MovesTable(plan.job.units, tuple(sections), tuple(_legend(plan.job, sections)), how_many(plan))


_LOCK_IN_ROUGHING = "Roughing: lock the idle slide only if a cut pushes it along"


def _legend(job: Job, sections: Sequence[Section]) -> Iterator[tuple[str, str]]:
    """A column and what it means, of those that are there."""
    rows = [row for section in sections for row in section.rows]
    if any(dialled(slide) for slide in (job.shop.cross, job.shop.saddle, job.shop.fine)):
        yield "stop at", "on a dial: the figure, how many times the dial's 0 goes by, the division to stop at"
    yield "cut", "depth of cut, square to the feed; heavy: nearly as much as allowed"
    if any(row.past for row in rows):
        yield "past", "wound past on purpose; the next move brings it back, against the screw's lost motion"
    if any(row.feed_off for row in rows):
        yield "feed off", "power feed may run up to this figure: knock it off there, and wind the rest by hand"
    if any(row.lock for row in rows):
        yield "lock", "lock this slide before the cut, and read it again"
    yield "within", "how far off the slide may stop; at a setting only on the side away from the part"
    yield "setting", "number of the place where the nose is on the outline"


def _heavy(plan: Plan) -> set[int]:
    """The moves whose cut is about as wide as allowed; where it was roughed, wide finishing cuts are thin."""
    roughs = any(move.stage == "rough" and move.cuts for move in plan.moves)
    limit = HEAVY * plan.job.shop.bite
    return {move.n for move in plan.moves if move.cuts and move.bite >= limit and (move.stage == "rough" or not roughs)}


def _past(plan: Plan) -> set[int]:
    """The moves that go past a place, to come back to it by the next one: on a dial, within what its backlash asks."""
    past = set()
    for move, back in pairwise(plan.moves):
        slide = slide_of(plan.job, move)
        backlash = UNKNOWN_BACKLASH if slide.backlash is None else slide.backlash
        turns_back = (move.slide, move.tool) == (back.slide, back.tool) and move.toward != back.toward
        if slide.on_dial and turns_back and not move.cuts and back.travel <= 1.5 * backlash + 0.05 + slide.step + 1e-6:
            past.add(move.n)
    return past


def _row(job: Job, move: Move, heavy: bool, past: bool, said: Sequence[str], off: FeedOff | None) -> Row:
    slide = slide_of(job, move)
    return Row(
        n=move.n,
        figure=move.shown,
        slide=slide_name(move.slide),
        direction=move.toward,
        travel=travel_text(move.travel, slide),
        cuts=move.cuts,
        width=format_figure(move.bite, job.units, 2 if job.units == "mm" else 3) if move.cuts else "",
        heavy=heavy,
        lock=_locked(job, move),
        setting=move.station,
        within=within_text(move.within, slide),
        before=tuple(said),
        handwheel=clockwise_text(slide, move.toward),
        past=past,
        feed_off="" if off is None else off.shown,
        by_hand="" if off is None else hand_text(off.by_hand, job.units),
    )


def _locked(job: Job, move: Move) -> str | None:
    """What has to be locked while a finishing move cuts: the slide that stands, under a slide at an angle both."""
    if not move.cuts or move.stage != "finish":
        return None
    idle = job.shop.cross if move.slide != "cross" else job.shop.fine
    if move.slide == "top" and job.shop.set_over is not None and job.shop.saddle.lock and idle.lock:
        return "saddle, cross slide"
    return slide_name(idle.name) if idle.lock else None


_COLUMNS = (
    "move", "stage", "setting", "tool", "slide", "set", "shown", "direction", "travel", "within",
    "cuts", "width", "removes_mm2", "heavy", "lock", "handwheel", "past",
    "feed_off", "feed_off_shown", "by_hand",
)  # fmt: skip


def moves_as_csv(plan: Plan) -> str:
    """The moves for a spreadsheet: `set`, `travel`, `within` and `width` in the job's unit, areas in mm².

    `feed_off` and `by_hand` are in the job's unit too, and empty where power feed may not run.
    """
    unit = plan.job.units
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(_COLUMNS)
    rows, offs = {row.n: row for section in moves_table(plan).sections for row in section.rows}, feed_offs(plan)
    writer.writerows([*_csv_row(move, rows[move.n], unit), *_csv_off(offs.get(move.n), unit)] for move in plan.moves)
    return text.getvalue()


def _csv_row(move: Move, row: Row, unit: Unit) -> list[str | int | float]:
    return [
        move.n,
        move.stage,
        "" if move.station is None else move.station,
        _inert(move.tool),
        move.slide,
        move.figure + 0.0,
        _inert(move.shown),
        move.toward,
        row.travel,
        row.within,
        "yes" if move.cuts else "no",
        round(from_mm(move.bite, unit), 4) + 0.0,
        round(move.area, 4) + 0.0,
        "yes" if row.heavy else "no",
        row.lock or "",
        row.handwheel,
        "yes" if row.past else "no",
    ]


def _csv_off(off: FeedOff | None, unit: Unit) -> list[str | int | float]:
    return ["", "", ""] if off is None else [off.figure, _inert(off.shown), round(from_mm(off.by_hand, unit), 4)]


def _inert(text: str) -> str:
    """Text that no spreadsheet takes for a formula; a bare negative figure may stay."""
    figure = text.removeprefix("-").replace(".", "", 1).isdigit()
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t") and not figure else text


def left(plan: Plan) -> Left:
    """What the swept plan leaves, in sentences."""
    return Left(left_sentences(plan), _equal_steps_sentence(plan, plan.job.units))


def left_sentences(plan: Plan) -> tuple[str, ...]:
    """The sentences alone, without what equal steps would leave, which takes a search."""
    unit = plan.job.units
    return (
        _ridge_sentence(plan, unit),
        _settings_sentence(plan, unit),
        _gouge_sentence(plan, unit),
        *notes_of(plan),
    )


def _ridge_sentence(plan: Plan, unit: Unit) -> str:
    highest, asked = ridge_text(plan.prediction.ridge_max, unit), ridge_text(plan.job.part.ridge, unit)
    place, digits = plan.prediction.ridge_at, 2 if unit == "mm" else 3
    where = f"z {format_figure(place.x, unit, digits)}, Ø {format_figure(2 * place.y, unit, digits)}"
    return f"Highest ridge: {highest} at {where} ({asked} specified)."


def _settings_sentence(plan: Plan, unit: Unit) -> str:
    many = "1 setting" if plan.stations == 1 else f"{plan.stations} settings"
    fewer, leaves = plan.proof.fewer, plan.proof.leaves
    if fewer < 1:
        return f"{many}."
    axis, such = (", one on the axis", " such") if _begins_on_the_axis(plan) else ("", "")
    if leaves is None:
        return f"{many}{axis}; with {fewer} there is no{such} plan."
    would = _told_apart(leaves, plan.job.part.ridge, unit)
    return f"{many}{axis}; the best{such} plan with {fewer} leaves {would}."


def _begins_on_the_axis(plan: Plan) -> bool:
    """Whether one of the settings has to bring the nose onto the axis, so that no pip is left in the middle."""
    part = plan.job.part
    start = part.outline.start
    return part.surface == "outside" and start.y < SAME_PLACE and max(part.curve) >= start.x - SAME_PLACE


def _equal_steps_sentence(plan: Plan, unit: Unit) -> str | None:
    """How it compares with equal steps, by a sharp point and by the plan's own nose; nothing where there is none."""
    sharp = steps_leave(plan.frame, plan.stations)
    if sharp is None:
        return None
    said = f"{plan.stations} equal steps along the curve, calculated for a sharp tool, leave {ridge_text(sharp, unit)}"
    noses = {tool.nose_radius for tool in plan.tools if tool.edge.noses}
    if len(noses) != 1:
        return f"{said}."
    fair = steps_leave(plan.frame, plan.stations, noses.pop())
    return said + (f"; with the nose allowed for, {ridge_text(fair, unit)}." if fair is not None else ".")


def _told_apart(height: float, other: float, unit: Unit) -> str:
    """A height to as many decimals as it takes to tell it from another."""
    first = 3 if unit == "mm" else 4
    texts = ((format_length(height, unit, n), format_length(other, unit, n)) for n in range(first, 7))
    return next((text for text, plain in texts if text != plain), format_length(height, unit, 7))


def _gouge_sentence(plan: Plan, unit: Unit) -> str:
    if plan.prediction.gouge_max < 5e-4:
        return "If every figure is set exactly, nothing is cut below the outline."
    return f"The deepest cut goes {ridge_text(plan.prediction.gouge_max, unit)} below the outline."
