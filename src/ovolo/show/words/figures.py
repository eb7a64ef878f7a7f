"""Figures as they are read at the lathe, and lengths as they are said, in the job's own unit."""

import math

from ovolo.plan.model import Job, Move
from ovolo.shop.dials import dial_place
from ovolo.shop.slides import Slide, SlideName
from ovolo.units import INCH, Unit, format_figure, format_length, from_mm

__all__ = [
    "clockwise_text",
    "decimals",
    "dialled",
    "division_text",
    "figure_text",
    "length_text",
    "plain_size",
    "ridge_text",
    "set_to",
    "slide_name",
    "slide_of",
    "speed_text",
    "travel_text",
    "unit_of_slide",
    "within_text",
]

_MOST_DECIMALS = 6
_FINE: dict[Unit, int] = {"mm": 3, "in": 4}
"""Decimals beyond which only what is small is worth telling."""


def unit_of_slide(slide: Slide) -> Unit:
    """The unit of its figures."""
    return "in" if slide.unit == INCH else "mm"


def decimals(slide: Slide) -> int:
    """How many decimals its figures have: as many as its count needs.

    >>> decimals(Slide("cross", "diameter", "out", 0.01)), decimals(Slide("saddle", "diameter", "away", 0.005))
    (2, 3)
    """
    count = slide.count / slide.unit
    return next((n for n in range(_MOST_DECIMALS) if abs(round(count, n) - count) < 1e-9), _MOST_DECIMALS)


def figure_text(slide: Slide, place: float) -> str:
    """What the slide reads when the reference point stands at `place` (r or z, mm), Ø before a diameter.

    >>> figure_text(Slide("cross", "diameter", "out", 0.01), -3.0)
    'Ø -6.00'
    """
    text = f"{slide.figure(place):z.{decimals(slide)}f}"
    return f"Ø {text}" if slide.name == "cross" and slide.reads == "diameter" else text


def length_text(mm: float, unit: Unit) -> str:
    """A length as it is said in the shop, with its unit: to 0.01 mm; to 0.001 in, or to 0.0001 where that tells more.

    >>> length_text(9.0, "mm"), length_text(12.7, "in"), length_text(20.6375, "in")
    ('9.00 mm', '0.500 in', '0.8125 in')
    """
    if unit == "mm":
        return format_length(mm, unit, 2)
    return f"{format_figure(mm, unit, 4).removesuffix('0')} {unit}"


def in_units(unit: Unit) -> str:
    """The unit in a sentence: "in in" reads badly."""
    return "inches" if unit == "in" else "mm"


def travel_text(mm: float, slide: Slide) -> str:
    """How far a slide goes, to the step that it can be set to, without its unit.

    >>> travel_text(1.775, Slide("cross", "diameter", "out", 0.01))
    '1.775'
    """
    return format_figure(mm, unit_of_slide(slide), _travel_decimals(slide))


def within_text(mm: float, slide: Slide) -> str:
    """What a setting may be off, as travel, without its unit; never rounded up, and no finer than it is worth.

    >>> within_text(0.0399, Slide("saddle", "diameter", "away", 0.01))
    '0.03'
    >>> inches = Slide("cross", "diameter", "out", 0.0127, unit=25.4)
    >>> within_text(0.5, inches), within_text(0.0064, inches)
    ('0.0196', '0.00025')
    """
    unit = unit_of_slide(slide)
    digits = _travel_decimals(slide)
    if from_mm(mm, unit) >= 100 * 10.0**-digits:
        digits = min(digits, _FINE[unit])
    down = math.floor(from_mm(mm, unit_of_slide(slide)) * 10**digits + 1e-6) / 10**digits
    return f"{down:z.{digits}f}"


def speed_text(speed: float, unit: Unit) -> str:
    """A cutting speed [m/min] as people say it who measure in this unit; a foot is 0.3048 m.

    >>> speed_text(25, "mm"), speed_text(25, "in")
    ('25 m/min', '82 ft/min')
    """
    return f"{speed:.0f} m/min" if unit == "mm" else f"{speed / 0.3048:.0f} ft/min"


def _travel_decimals(slide: Slide) -> int:
    extra = 1 if slide.name == "cross" and slide.reads == "diameter" else 0
    return min(decimals(slide) + extra, _MOST_DECIMALS)


def ridge_text(mm: float, unit: Unit) -> str:
    """A height of metal left, to a micron or to a tenth of a thou.

    >>> ridge_text(0.0456, "mm"), ridge_text(0.0508, "in")
    ('0.046 mm', '0.0020 in')
    """
    return format_length(mm, unit, 3 if unit == "mm" else 4)


def slide_name(name: SlideName) -> str:
    """The slide as it is called at the lathe."""
    return "saddle" if name == "saddle" else f"{name} slide"


def slide_of(job: Job, move: Move) -> Slide:
    """The slide that a move winds."""
    return job.shop.slide(move.slide)


def dialled(slide: Slide) -> bool:
    """Whether its figures are counted on a dial, in turns and divisions."""
    return slide.on_dial and slide.per_turn is not None


def set_to(slide: Slide, place: float) -> str:
    """How to tell a slide that stands at `place` (r or z, mm) where it is: a readout is told, a dial is turned.

    >>> set_to(Slide("cross", "diameter", "out", 0.01), 9.8)
    'enter Ø 19.60'
    >>> set_to(Slide("cross", "radius", "out", 0.025, per_turn=2.0, divisions=40), 8.8)
    'turn the loose collar of its dial to 16 (8.800: the figure 0 lies 4 turns and 16 divisions further in)'
    """
    figure = figure_text(slide, place)
    if not dialled(slide):
        return f"enter {figure}"
    division = dial_place(slide, slide.figure(place)).division
    ways = ("further in", "further out") if slide.name == "cross" else ("toward the chuck", "away from the chuck")
    away = f": the figure 0 lies {_turns(slide, place)} {ways[place < 0]}" if slide.figure(place) else ""
    return f"turn the loose collar of its dial to {division:g} ({figure}{away})"


def _turns(slide: Slide, place: float) -> str:
    """How far a dial is from its figure 0, in whole turns and divisions."""
    turns, division = dial_place(slide, abs(slide.figure(place)))
    parts = [_counted(turns, "turn")] if turns else []
    parts += [_counted(division, "division")] if division else []
    return " and ".join(parts)


def _counted(number: float, thing: str) -> str:
    return f"{number:g} {thing}" if number == 1 else f"{number:g} {thing}s"


def division_text(slide: Slide) -> str:
    """What one division of a dial moves the slide, with its unit.

    >>> division_text(Slide("cross", "radius", "out", 0.025, per_turn=1.0, divisions=40))
    '0.025 mm'
    """
    assert slide.per_turn is not None
    assert slide.divisions is not None
    unit = unit_of_slide(slide)
    return f"{format_figure(slide.per_turn / slide.divisions, unit, 5).rstrip('0').rstrip('.')} {unit}"


def clockwise_text(slide: Slide, toward: str) -> str:
    """Which way the handwheel turns for a move ("in", "toward the chuck", ...); nothing where the job does not say.

    >>> clockwise_text(Slide("cross", "radius", "out", 0.025, clockwise="in"), "out")
    'anticlockwise'
    """
    if slide.clockwise is None:
        return ""
    return "clockwise" if toward.split()[0] == slide.clockwise else "anticlockwise"


def plain_size(mm: float, unit: Unit) -> str:
    """A dimension without idle zeros.

    >>> plain_size(12.7, "in"), plain_size(9.0, "mm")
    ('0.5', '9')
    """
    figure = format_figure(mm, unit, 3 if unit == "mm" else 4)
    return figure.rstrip("0").rstrip(".")
