"""What `ovolo plan` prints, in the order of need: what comes out, speeds, set-up, moves, what to watch for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ovolo.plan.model import Plan
from ovolo.predict.forecast.balance import balance_of
from ovolo.predict.forecast.outlook import forecast
from ovolo.show.words.balance import balance_lines
from ovolo.show.words.figures import ridge_text
from ovolo.show.words.moves_text import WIDTH, moves_as_text, paragraph
from ovolo.show.words.outlook import OutlookView, clock, outlook_view
from ovolo.show.words.setting_up import SettingUp, setting_up
from ovolo.show.words.speeds import speeds_in_short
from ovolo.show.words.table import left, moves_table

__all__ = ["printout"]

_SAFE = "Guard, eye protection, chuck key out. Manual and workshop rules come first."


def printout(plan: Plan, *, setup: bool = False, details: bool = False, width: int = WIDTH) -> str:
    """The plan for a terminal of `width` characters a line.

    `setup` prints the set-up in full, `details` also loads, scatter, time and how even the cuts are.
    """
    ready, expected = setting_up(plan), forecast(plan)
    view = outlook_view(plan, expected)
    lines = [plan.job.title, "=" * min(len(plan.job.title), width - 1)]
    lines += paragraph(_in_short(plan, clock(expected.times.total)), width, "", "")
    lines += _block("Speeds, and feed a turn", speeds_in_short(plan), width)
    lines += _set_up_in_full(ready, width) if setup else _block("Set-up", (_where_it_is(ready), _SAFE), width)
    lines += ["", *moves_as_text(moves_table(plan), width, legend=setup or details).splitlines()]
    lines += _block("What will be left", left(plan).sentences, width)
    lines += _block("Watch for", view.cautions, width)
    lines += _in_detail(plan, view, width) if details else []
    return "\n".join([*lines, ""])


def _in_short(plan: Plan, minutes: str) -> str:
    """What comes out, in one sentence."""
    unit = plan.job.units
    settings = "1 setting leaves" if plan.stations == 1 else f"{plan.stations} settings leave"
    tools = " and ".join([", ".join(tool.name for tool in plan.tools[:-1])] * (len(plan.tools) > 1) or [])
    used = f"{tools} and {plan.tools[-1].name}" if tools else plan.tools[-1].name
    return (
        f"{settings} ridges of at most {ridge_text(plan.prediction.ridge_max, unit)} "
        f"({ridge_text(plan.job.part.ridge, unit)} specified): {len(plan.moves)} moves with {used}, about {minutes}."
    )


def _where_it_is(ready: SettingUp) -> str:
    """How the set-up is got at; it is on the sheet and the pages anyway."""
    return f"Before move 1: {len(ready.items)} points; print them with --setup, or on the sheet."


def _block(heading: str, sentences: Iterable[str], width: int) -> list[str]:
    """A heading and its sentences; nothing where there are none."""
    lines = [line for sentence in sentences for line in _fitted(sentence, width)]
    return ["", heading, *lines] if lines else []


def _fitted(sentence: str, width: int) -> list[str]:
    """A line of a table stays as it is where it fits."""
    line = f"  {sentence}"
    return [line] if len(line) < width else paragraph(sentence, width, "  ", "    ")


def _set_up_in_full(ready: SettingUp, width: int) -> list[str]:
    lines = ["", "Set-up"]
    for n, item in enumerate(ready.items, 1):
        lines += paragraph(f"{n:2}. {item.title}", width, "", "    ")
        lines += [line for text in item.lines for line in paragraph(text, width, "    ", "    ")]
    return lines


def _in_detail(plan: Plan, view: OutlookView, width: int) -> list[str]:
    compared = left(plan).compared
    lines = [] if compared is None else _block("Compared", [compared], width)
    lines += _block("What to expect", view.few, width) + _block("How even the cuts are", _evenness(plan), width)
    for group in view.groups:
        lines += _block(group.title, group.lines, width)
    return lines


def _evenness(plan: Plan) -> Sequence[str]:
    found = balance_of(plan)
    return () if found is None else balance_lines(found)
