"""The ways to turn one curve side by side: a view model, as text and as JSON; pages and drawings format it only."""

import json
from dataclasses import dataclass
from textwrap import wrap
from typing import Any

from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.predict.methods.compare import AS_TRUE, MANY, Methods
from ovolo.predict.methods.ways import Method, Said
from ovolo.show.words.figures import length_text, ridge_text
from ovolo.units import Unit, format_figure, from_mm

__all__ = ["MethodCard", "MethodsView", "methods_as_json", "methods_as_text", "methods_view"]

_COARSE = 1.0
"""A length of this and more is told as a size, below it as a height of metal, mm."""


@dataclass(frozen=True)
class MethodCard:
    """One method as it is shown; figures as text in the job's unit, empty where it can't do the part.

    shape: the surface that comes out with the usual errors, (z, r) in mm, to be drawn at the scale of all the others.
    """

    name: str
    can: bool
    why: str
    alone: str
    error: str
    settings: str
    first: str
    many: str
    owned: tuple[str, ...]
    risks: tuple[str, ...]
    shape: tuple[Point, ...]


@dataclass(frozen=True)
class MethodsView:
    """All methods, the steps of the plan first, and the sentences that compare them."""

    title: str
    unit: Unit
    cards: tuple[MethodCard, ...]
    sentences: tuple[str, ...]


def methods_view(plan: Plan, found: Methods) -> MethodsView:
    """The methods of a plan's curve, told in the job's unit."""
    unit = plan.job.units
    return MethodsView(
        plan.job.title, unit, tuple(_card(method, unit) for method in found.methods), _sentences(found, unit)
    )


def _card(method: Method, unit: Unit) -> MethodCard:
    def figure(mm: float | None) -> str:
        return "" if mm is None else format_figure(mm, unit, 2 if unit == "mm" else 3)

    return MethodCard(
        method.name,
        method.can,
        told(method.why, unit),
        figure(method.alone),
        figure(method.error),
        "" if method.settings is None else str(method.settings),
        _minutes(method.minutes(1)),
        _minutes(method.minutes(MANY)),
        method.owned,
        tuple(told(risk, unit) for risk in method.risks),
        method.shape,
    )


def told(said: Said, unit: Unit) -> str:
    """A sentence with its lengths in a unit.

    >>> told(Said("a ball of radius {}, {} out of round", (9.0, 0.02)), "mm")
    'a ball of radius 9.00 mm, 0.020 mm out of round'
    """
    texts = [length_text(mm, unit) if mm >= _COARSE else ridge_text(mm, unit) for mm in said.lengths]
    return said.text.format(*texts) if texts else said.text


def _minutes(value: float | None) -> str:
    """Minutes to what an estimate deserves: two figures, hours from two hours on.

    >>> _minutes(14.86), _minutes(265.7), _minutes(None)
    ('15 min', '4.4 h', '')
    """
    if value is None:
        return ""
    return f"{value / 60:.2g} h" if value >= 120 else f"{value:.0f} min"


def _sentences(found: Methods, unit: Unit) -> tuple[str, ...]:
    """Which is the quickest that is as true as the steps, for one and for many."""
    one, many = found.for_one, found.for_many
    said = [f"For one part: {one.name}, about {_minutes(one.minutes(1))}, {_error(one, unit)}."]
    if many.name == one.name:
        said.append(f"For {MANY} parts too: about {_minutes(many.minutes(MANY))}.")
    else:
        said.append(
            f"For {MANY} parts: {many.name}, about {_minutes(many.minutes(MANY))} against "
            f"{_minutes(one.minutes(MANY))}, {_error(many, unit)}."
        )
    said.append(
        f"These are the quickest of those whose error is at most {AS_TRUE:g} times that of the steps; errors are those "
        "of a usual hand and setting, times estimates."
    )
    return tuple(said)


def _error(method: Method, unit: Unit) -> str:
    return "its error not known" if method.error is None else f"true to about {ridge_text(method.error, unit)}"


_HEADINGS = ("method", "can", "set right", "usual", "settings", "one", f"{MANY} parts")


def methods_as_text(view: MethodsView) -> str:
    """For a terminal: a table, and what is to be known of each."""
    cells = [
        (card.name, "yes" if card.can else "no", card.alone, card.error, card.settings, card.first, card.many)
        for card in view.cards
    ]
    widths = [max(len(cell) for cell in column) for column in zip(_HEADINGS, *cells, strict=True)]
    lines = [f"{view.title}: ways to turn the curve", ""]
    for sentence in view.sentences:
        lines += wrap(sentence, 96, initial_indent="  ", subsequent_indent="    ")
    lines += ["", f"Form error in {view.unit}: when all is set right, and with the usual errors"]
    lines += [_line(row, widths) for row in (_HEADINGS, *cells)]
    for card in view.cards:
        lines += ["", *_about(card)]
    return "\n".join([*lines, ""])


def _line(cells: tuple[str, ...], widths: list[int]) -> str:
    aligned = (
        cell.ljust(width) if i < 2 else cell.rjust(width)
        for i, (cell, width) in enumerate(zip(cells, widths, strict=True))
    )
    return "  ".join(aligned).rstrip()


def _about(card: MethodCard) -> list[str]:
    sure = f"{card.name}: {card.why}" if card.can else f"{card.name}: not for this part, as {card.why}"
    texts = [f"needs {', '.join(card.owned)}", *card.risks]
    lines = wrap(sure, 98)
    for text in texts:
        lines += wrap(text, 96, initial_indent="  - ", subsequent_indent="    ")
    return lines


def methods_as_json(view: MethodsView, found: Methods) -> str:
    """The comparison as JSON: lengths in the job's unit, minutes, and each shape as [z, r] in mm."""
    cards = [_as_data(card, method, view.unit) for card, method in zip(view.cards, found.methods, strict=True)]
    data = {
        "format": "ovolo-methods",
        "version": 1,
        "title": view.title,
        "units": view.unit,
        "for_one": found.for_one.name,
        "for_many": found.for_many.name,
        "many": MANY,
        "sentences": list(view.sentences),
        "methods": cards,
    }
    return json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _as_data(card: MethodCard, method: Method, unit: Unit) -> dict[str, Any]:
    def size(mm: float | None) -> float | None:
        return None if mm is None else round(from_mm(mm, unit), 4 if unit == "mm" else 5)

    return {
        "name": card.name,
        "can": card.can,
        "why": card.why,
        "error_set_right": size(method.alone),
        "error_usual": size(method.error),
        "gouge": size(method.gouge),
        "settings": method.settings,
        "minutes_first": None if method.first is None else round(method.first, 1),
        "minutes_each": None if method.each is None else round(method.each, 1),
        "owned": list(card.owned),
        "risks": list(card.risks),
        "shape_mm": [[round(p.x, 4), round(p.y, 4)] for p in card.shape],
    }
