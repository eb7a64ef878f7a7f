"""The next of several equal parts: what of its set-up holds from the part before, and what is done anew."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ovolo.plan.model import Plan
from ovolo.show.turn.steps import TurnStep

__all__ = ["SeriesView", "series_of", "steps_again"]


@dataclass(frozen=True)
class SeriesView:
    """Which part this is, of how many, measured every so many, what each before took (min), what figures stay shifted
    by, and whether tools keep their touching off from one part to the next: one tool that stays in the post, or a post
    that brings each back."""

    part: int
    parts: int | None
    every: int
    minutes: tuple[float, ...]
    rechucked: bool
    carried: tuple[Mapping[str, Any], ...]
    keeps: bool

    @property
    def to_be_measured(self) -> bool:
        """Whether this part is one that is measured: the first, and every so many from there."""
        return (self.part - 1) % self.every == 0


def series_of(plan: Plan, series: Mapping[str, Any]) -> SeriesView:
    """What a run takes over; {} for the first part."""
    keeps = len(plan.tools) == 1 or plan.job.shop.lathe.post == "repeats"
    return SeriesView(
        series.get("part", 1),
        series.get("parts"),
        series.get("every", 1),
        tuple(series.get("minutes", ())),
        series.get("rechucked", False),
        tuple(series.get("carried", ())) if keeps else (),
        keeps,
    )


def steps_again(steps: Sequence[TurnStep], series: SeriesView) -> list[TurnStep]:
    """The steps of a part; those of the first are as they are."""
    if series.part == 1:
        return list(steps)
    changed = [_again(step, series) for step in steps if step.kind != "readout"]
    if not (series.keeps and series.rechucked):
        return changed
    start = next((i for i, step in enumerate(changed) if step.kind == "stand"), len(changed))
    return [*changed[:start], _face(), *changed[start:]]


def _again(step: TurnStep, series: SeriesView) -> TurnStep:
    if step.kind == "piece":
        which = f"Part {series.part}" if series.parts is None else f"Part {series.part} of {series.parts}"
        how = "clamp the next piece as far out as the one before" if series.rechucked else "up to the same stop"
        return replace(step, lines=(f"{which}: {how}.", *step.lines))
    if step.kind == "touch" and series.keeps:
        return replace(step, kept=True)
    if step.kind == "measure" and not series.to_be_measured:
        note = f"Part {series.part}: every {series.every} parts are measured, this one need not be. Done goes on."
        return replace(step, lines=(note, *step.lines))
    return step


def _face() -> TurnStep:
    """The length is found anew; the diameter holds, for the axis is where it was."""
    lines = (
        "The diameter holds: leave the cross slide's readout or dial as it is.",
        "Skim the face, or touch it, spindle stopped, with paper between face and tool.",
        "Make the saddle show how far that face is from the finished end, and the paper with it.",
    )
    return TurnStep(1, "face", "New face: the length anew", lines, None, True)
