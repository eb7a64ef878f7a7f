"""What a plan says about itself, in words and in the job's units: its notes, fact by fact."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ovolo.plan.model import Plan
from ovolo.plan.report.facts import (
    AsWritten,
    BetweenDivisions,
    CentreUnchecked,
    ChuckUnchecked,
    EqualStepsNoForm,
    EqualStepsNowhere,
    EqualStepsTaken,
    FinishedFrom,
    HoleStays,
    NoseTooVague,
    Note,
    Nub,
    ThinAllowance,
    ToleranceAllows,
)
from ovolo.units import Unit, from_mm

__all__ = ["note_text", "notes_of"]


def notes_of(plan: Plan) -> tuple[str, ...]:
    """The notes of a plan as sentences."""
    return tuple(note_text(note, plan.job.units) for note in plan.notes)


def note_text(note: Note, unit: Unit) -> str:
    """One note as a sentence or two.

    >>> note_text(ThinAllowance(0.127), "in")
    'So little has to go that roughing leaves 0.005 in instead of the allowance: a cut needs metal.'
    """
    return _WORDS[type(note)](note, unit)


def _figure(mm: float, unit: Unit, digits: int) -> str:
    return f"{from_mm(mm, unit):.{digits}g}"


def _length(mm: float, unit: Unit, digits: int = 3) -> str:
    return f"{_figure(mm, unit, digits)} {unit}"


def _slide(name: str) -> str:
    return "saddle" if name == "saddle" else f"{name} slide"


def _between_divisions(note: BetweenDivisions, unit: Unit) -> str:
    write = " or ".join(_figure(count, unit, 6) for count in note.better)
    dial = f"the {_slide(note.slide)}'s dial"
    return (
        f"Figures of {_length(note.one_count, unit, 6)} fall between the divisions of {dial}, of which "
        f"one is {_length(note.division, unit, 6)}: count = {write} (slide.{note.slide}) would be read off it."
    )


def _nub(note: Nub, unit: Unit) -> str:
    if not note.diameter:
        return "No metal stands in front of the end face, so the centre leaves no nub to cut off."
    return f"The centre leaves a nub of Ø {_length(note.diameter, unit, 4)}: cut it off last, tailstock drawn back."


def _finished_from(note: FinishedFrom, unit: Unit) -> str:
    where = f"z = {_length(note.place.x, unit, 4)}, Ø {_length(2 * abs(note.place.y), unit, 4)}"
    stays = "stays with the nub" if note.with_nub else "is not turned"
    return f"The curve is finished from {where} on: what is nearer to the end {stays}."


def _hole_stays(note: HoleStays, unit: Unit) -> str:
    size = f"Ø {_length(note.diameter, unit)}, {_length(note.depth, unit)} deep"
    return f"Its hole stays in the end, {size}: a facing allowance of {_length(note.proud, unit)} would hold it."


def _tolerance(note: ToleranceAllows, unit: Unit) -> str:
    size, allowed = f"{note.tolerance} on Ø {_length(note.diameter, unit, 4)}", _length(note.allowed, unit)
    if note.keeps:
        return f"{size} lets {allowed} stand on the curve: the ridge specified keeps that."
    return f"{size} lets only {allowed} stand on the curve: file the ridges, or ask for a finer one."


def _nose(note: NoseTooVague, unit: Unit) -> str:
    return (
        f"The ridge specified, {_length(note.ridge, unit)}, is finer than the nose of {note.tool} is known: its radius "
        f"is given to {_length(note.known, unit)} (nose_radius_u), and that allows a ridge of "
        f"{_length(note.allows, unit)}. Measure it to {_length(note.wanted, unit)} first: "
        f"{_GROOVE if note.full_radius else _CORNER}."
    )


_GROOVE = (
    "plunge a groove into scrap, less deep than the radius, and measure its width w at the surface and its depth t: "
    "the radius is (w²/4 + t²) / 2t"
)
_CORNER = (
    "it is too short an arc for a groove, so hold it against radius gauges under a loupe; of an insert the ISO 1832 "
    "code gives it"
)


def _steps(note: EqualStepsNowhere | EqualStepsTaken, unit: Unit) -> str:
    return f"steps of {_length(note.amount, unit, 6)} of the {_slide(note.slide)}"


def _steps_nowhere(note: EqualStepsNowhere, unit: Unit) -> str:
    steps = _steps(note, unit)
    return f"Nowhere on this curve do {steps} keep the ridge: it is finished in settings of any size."


def _steps_taken(note: EqualStepsTaken, unit: Unit) -> str:
    cost = f"{note.more} more than the fewest" if note.more else "no more than the fewest"
    says = f"{note.equal} of the {note.stations} settings are {_steps(note, unit)}; the plan takes {cost}"
    return f"{says}, which {'are' if note.more != 1 else 'is'} what they cost." if note.more else f"{says}."


def _thin(note: ThinAllowance, unit: Unit) -> str:
    left = _length(note.left, unit)
    return f"So little has to go that roughing leaves {left} instead of the allowance: a cut needs metal."


def _always(text: str) -> Callable[[Any, Unit], str]:
    return lambda note, unit: text


_WORDS: dict[type, Callable[[Any, Unit], str]] = {
    AsWritten: lambda note, unit: note.text,
    BetweenDivisions: _between_divisions,
    CentreUnchecked: _always(
        "How large the centre and its hole are is not given: nothing was checked against the centre."
    ),
    ChuckUnchecked: _always("How far the bar projects is not given: nothing was checked against the chuck."),
    EqualStepsNoForm: _always(
        "Equal steps are planned for noses only: with a form tool it is finished in settings of any size."
    ),
    EqualStepsNowhere: _steps_nowhere,
    EqualStepsTaken: _steps_taken,
    FinishedFrom: _finished_from,
    HoleStays: _hole_stays,
    NoseTooVague: _nose,
    Nub: _nub,
    ThinAllowance: _thin,
    ToleranceAllows: _tolerance,
}
"""How each fact is said."""
