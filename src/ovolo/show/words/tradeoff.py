"""How many settings are worth it, as a table and in words; one view model for command line, page and chart."""

import csv
import io
import json
from dataclasses import dataclass
from textwrap import wrap

from ovolo.plan.model import Plan
from ovolo.predict.forecast.tradeoff import FILED, Tradeoff, TradeoffPoint
from ovolo.show.words.figures import ridge_text
from ovolo.units import Unit, format_figure, from_mm

__all__ = [
    "TradeoffRow",
    "TradeoffView",
    "tradeoff_as_csv",
    "tradeoff_as_json",
    "tradeoff_as_text",
    "tradeoff_view",
]


@dataclass(frozen=True)
class TradeoffRow:
    """One number of settings with one tool. `ridge` in the job's unit, `minutes` in all, `filing` of that, as read;
    `at` the same as numbers: settings, ridge in the job's unit, minutes. `note` where the point stands out."""

    tool: str
    settings: int
    ridge: str
    minutes: str
    filing: str
    note: str
    at: tuple[int, float, float]


@dataclass(frozen=True)
class TradeoffView:
    """All points, tool by tool, the coarsest first, and what is made of them."""

    title: str
    unit: Unit
    rows: tuple[TradeoffRow, ...]
    sentences: tuple[str, ...]


def tradeoff_view(plan: Plan, traded: Tradeoff) -> TradeoffView:
    """The points of a trade-off with their notes, and the sentences that say which to take and why."""
    unit = plan.job.units
    rows = tuple(_row(point, traded, unit) for point in traded.points)
    return TradeoffView(plan.job.title, unit, rows, tuple(_sentences(plan, traded, unit)))


def _row(point: TradeoffPoint, traded: Tradeoff, unit: Unit) -> TradeoffRow:
    return TradeoffRow(
        point.tool,
        point.stations,
        format_figure(point.ridge, unit, _ridge_digits(unit)),
        f"{point.minutes:.0f}",
        f"{point.filing:.1f}",
        _note(point, traded),
        (point.stations, from_mm(point.ridge, unit), round(point.minutes, 2)),
    )


def _ridge_digits(unit: Unit) -> int:
    return 3 if unit == "mm" else 4


def _note(point: TradeoffPoint, traded: Tradeoff) -> str:
    notes = []
    if point == traded.recommended:
        notes.append("recommended")
    if point == traded.quickest and point != traded.recommended:
        notes.append("quickest that a file can finish")
    if point.ridge < traded.floor:
        notes.append("lost in the scatter of a setting")
    return "; ".join(notes)


def _sentences(plan: Plan, traded: Tradeoff, unit: Unit) -> list[str]:
    out = []
    asked = ridge_text(traded.asked, unit)
    best, quickest = traded.recommended, traded.quickest
    if best is None:
        out.append(f"No tool alone keeps the {asked} specified.")
    else:
        out.append(_recommended(best, traded, asked, unit))
    if quickest is not None and best is not None and quickest.minutes < best.minutes - 0.5:
        out.append(
            f"If {ridge_text(quickest.ridge, unit)} may stand for the file, {quickest.stations} settings with "
            f"{quickest.tool} save {_minutes(best.minutes - quickest.minutes)}, filing included."
        )
    out.append(
        f"One setting scatters by about {ridge_text(traded.floor, unit)} (standard uncertainty): ridges much lower "
        "than that are lost in it."
    )
    for tool in traded.unsuited:
        place = format_figure(tool.at.x, unit, 2 if unit == "mm" else 3)
        out.append(f"{tool.tool} does not reach all of the curve to that ridge: not at z {place}.")
    return out


def _recommended(best: TradeoffPoint, traded: Tradeoff, asked: str, unit: Unit) -> str:
    """Which point, and why not one finer or one coarser."""
    said = (
        f"Take {best.stations} settings with {best.tool}: the least time of all that keep the {asked} specified, "
        f"about {_minutes(best.minutes)}."
    )
    mine = [point for point in traded.points if point.tool == best.tool]
    finer = next((point for point in mine if point.stations > best.stations), None)
    if finer is not None:
        saved = best.filing - finer.filing
        more = f"{finer.stations} settings would leave {ridge_text(finer.ridge, unit)}"
        save = f", though they save {60 * saved:.0f} s of filing" if saved > 0.01 else ""
        said += f" {more} and take {_minutes(finer.minutes - best.minutes)} more{save}."
    others = [p for p in traded.points if p.tool != best.tool and p.ridge <= traded.asked + 1e-9]
    if others:
        other = min(others, key=lambda point: point.minutes)
        said += f" With {other.tool} it takes {other.stations} settings and about {_minutes(other.minutes)}."
    return said


def _minutes(value: float) -> str:
    """Minutes to what they deserve.

    >>> _minutes(0.42), _minutes(1.04), _minutes(15.3)
    ('25 s', '1 min', '15 min')
    """
    return f"{60 * value:.0f} s" if value < 0.95 else f"{value:.0f} min"


_HEADINGS = ("tool", "settings", "ridge", "minutes", "filing", "")


def tradeoff_as_text(view: TradeoffView) -> str:
    """The table for a terminal."""
    cells = [(row.tool, str(row.settings), row.ridge, row.minutes, row.filing, row.note) for row in view.rows]
    widths = [max(len(cell) for cell in column) for column in zip(_HEADINGS, *cells, strict=True)]
    lines = [f"{view.title}: how many settings are worth it", ""]
    for sentence in view.sentences:
        lines += wrap(sentence, 96, initial_indent="  ", subsequent_indent="    ")
    lines.append("")
    lines.append(f"Ridge in {view.unit}, square to the outline; minutes in all, and of filing: estimates")
    lines += [_line(row, widths) for row in (_HEADINGS, *cells)]
    return "\n".join([*lines, ""])


def _line(cells: tuple[str, ...], widths: list[int]) -> str:
    first, *numbers, note = (
        cell.ljust(width) if i in (0, len(widths) - 1) else cell.rjust(width)
        for i, (cell, width) in enumerate(zip(cells, widths, strict=True))
    )
    return "  ".join([first, *numbers, note]).rstrip()


def tradeoff_as_csv(view: TradeoffView) -> str:
    """The points as a table for a spreadsheet."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["tool", "settings", f"ridge_{view.unit}", "minutes", "filing_minutes", "note"])
    for row in view.rows:
        tool = f"'{row.tool}" if row.tool[:1] in "=+-@\t" else row.tool  # no spreadsheet takes it for a formula
        writer.writerow([tool, row.settings, row.ridge, row.minutes, row.filing, row.note])
    return out.getvalue()


def tradeoff_as_json(view: TradeoffView) -> str:
    """The points as JSON."""
    rows = [
        {
            "tool": row.tool,
            "settings": row.settings,
            "ridge": float(row.ridge),
            "minutes": row.at[2],
            "filing_minutes": float(row.filing),
            "note": row.note,
        }
        for row in view.rows
    ]
    data = {
        "format": "ovolo-tradeoff",
        "version": 1,
        "title": view.title,
        "units": view.unit,
        "fileable": from_mm(FILED, view.unit),
        "sentences": list(view.sentences),
        "points": rows,
    }
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
