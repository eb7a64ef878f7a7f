"""Round figures along an axis of a chart."""

import math

__all__ = ["tick_text", "ticks"]


def ticks(low: float, high: float, most: int = 6) -> list[float]:
    """Round figures from `low` to `high`, about `most` of them: steps of 1, 2 or 5 times a power of 10.

    >>> ticks(0.0, 9.0)
    [0.0, 2.0, 4.0, 6.0, 8.0]
    """
    if high <= low:
        return [low]
    raw = (high - low) / most
    power = 10.0 ** math.floor(math.log10(raw))
    step = next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= raw * (1 - 1e-9))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [round(k * step, 12) for k in range(first, last + 1)]


def tick_text(value: float, all_of_them: list[float]) -> str:
    """A figure of an axis, with as many decimals as its neighbours need.

    >>> tick_text(2.0, [0.0, 0.5, 2.0]), tick_text(10.0, [0.0, 10.0])
    ('2.0', '10')
    """
    decimals = next((n for n in range(7) if all(abs(round(v, n) - v) < 1e-9 for v in all_of_them)), 7)
    return f"{value:z.{decimals}f}"
