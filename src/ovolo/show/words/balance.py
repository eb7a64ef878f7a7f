"""How even the finishing cuts are, in sentences."""

from __future__ import annotations

from ovolo.predict.forecast.balance import Balance
from ovolo.units import format_figure

__all__ = ["balance_lines"]


def balance_lines(found: Balance) -> tuple[str, ...]:
    """The largest and the smallest cut of a setting with their ratio, and the heaviest moves."""
    after, before = found.after, found.before
    heaviest = f", the heaviest roughing move {_area(found.roughing)}." if found.roughing else "; nothing is roughed."
    return (
        f"Metal removed per setting, area of the section: {_area(after.smallest)} to {_area(after.largest)} "
        f"({after.ratio:.1f} to 1).",
        f"At the widest spacing that the ridge allows, all in one direction: {_area(before.smallest)} to "
        f"{_area(before.largest)} ({before.ratio:.1f} to 1).",
        f"The heaviest finishing move takes {_area(found.finishing)}{heaviest}",
    )


def _area(area: float) -> str:
    """An area, mm², to about two figures."""
    return f"{format_figure(area, 'mm', 1 if area >= 1 else 2 if area >= 0.1 else 3)} mm²"
