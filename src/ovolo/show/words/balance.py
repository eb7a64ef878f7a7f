"""How even the finishing cuts are, in words for a terminal."""

from __future__ import annotations

from textwrap import wrap

from ovolo.predict.forecast.balance import Balance
from ovolo.units import format_figure

__all__ = ["balance_as_text"]

_WIDTH = 96


def balance_as_text(found: Balance | None) -> str:
    """The largest and the smallest cut of a setting with their ratio, and the heaviest moves; empty where none cuts."""
    if found is None:
        return ""
    after, before = found.after, found.before
    said = [
        f"A setting takes {_area(after.smallest)} to {_area(after.largest)} of the section: {after.ratio:.1f} to 1.",
        "Each as far along as the ridge allows, and all cut in one direction, it would be "
        f"{_area(before.smallest)} to {_area(before.largest)}: {before.ratio:.1f} to 1.",
        f"The heaviest finishing move takes {_area(found.finishing)}"
        + (f", the heaviest roughing move {_area(found.roughing)}." if found.roughing else "; nothing is roughed."),
    ]
    lines = [line for each in said for line in wrap(each, _WIDTH, initial_indent="  ", subsequent_indent="    ")]
    return "\n".join(["How even the finishing cuts are", *lines, ""])


def _area(area: float) -> str:
    """An area, mm², to about two figures."""
    return f"{format_figure(area, 'mm', 1 if area >= 1 else 2 if area >= 0.1 else 3)} mm²"
