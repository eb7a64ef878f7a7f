"""The result of a plan in one plain sentence, and numbers as words."""

from __future__ import annotations

from ovolo.plan.model import Plan
from ovolo.units import Unit, format_figure

__all__ = ["number_word", "result_sentence", "told_apart"]

_LOW = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"]
_TEENS = ["eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"]
_WORDS = [*_LOW, *_TEENS, "twenty"]


def number_word(n: int) -> str:
    """A small number as a word.

    >>> number_word(16), number_word(0), number_word(31)
    ('sixteen', 'no', '31')
    """
    return _WORDS[n] if 0 <= n < len(_WORDS) else str(n)


def told_apart(height: float, other: float, unit: Unit) -> str:
    """A height to as many decimals as it takes to tell it from another.

    >>> told_apart(0.0571, 0.05, "mm"), told_apart(0.05004, 0.05, "mm")
    ('0.057', '0.05004')
    """
    first = 3 if unit == "mm" else 4
    texts = ((format_figure(height, unit, n), format_figure(other, unit, n)) for n in range(first, 7))
    return next((text for text, plain in texts if text != plain), format_figure(height, unit, 7))


def result_sentence(plan: Plan) -> tuple[str, str, str]:
    """(before, figure, after): how many settings, the most that they leave, and what one fewer would leave."""
    unit, n = plan.job.units, plan.stations
    digits = 3 if unit == "mm" else 4
    word = number_word(n).capitalize()
    leaves = format_figure(plan.prediction.ridge_max, unit, digits)
    head = f"{word} setting leaves at most " if n == 1 else f"{word} settings leave at most "
    return head, leaves, f" {unit} to file away.{_fewer(plan, unit)}"


def _fewer(plan: Plan, unit: Unit) -> str:
    fewer, left = plan.proof.fewer, plan.proof.leaves
    if fewer < 1:
        return ""
    name = number_word(fewer).capitalize()
    if left is None:
        return f" With {number_word(fewer)} there is no plan."
    return f" {name} would leave {told_apart(left, plan.job.part.ridge, unit)}."
