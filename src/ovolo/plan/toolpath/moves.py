"""From swept steps to the moves of a plan: figures, what they read, how exact they must be; and what will be left."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from ovolo.geometry.segments import Point
from ovolo.plan.move import Move, Prediction
from ovolo.plan.steps import Step
from ovolo.plan.sweep.jaws import within_of_jaws
from ovolo.plan.sweep.remaining import left_standing
from ovolo.plan.sweep.sweep import Sweep, Swept, surface
from ovolo.plan.toolpath.taper_passes import figures_of
from ovolo.plan.view.frame import Frame
from ovolo.shop.dials import dial_words
from ovolo.shop.slides import Slide
from ovolo.tolerances import SEEN

#: Area from which a move is said to cut, mm².
CUTS = 1.5e-3
#: How far a move that only clears may be off, mm.
AMPLE = 0.5


def moves_of(frame: Frame, steps: Sequence[Step], swept: Sweep, spare: float) -> tuple[Move, ...]:
    """The moves of a plan; `spare` is how much of the ridge asked for is not used, mm."""
    last_exact, slanting = _exact(steps), figures_of(frame.job.shop.set_over, steps)
    out = []
    for n, (step, took) in enumerate(zip(steps, swept.moves, strict=True), 1):
        within = _within(frame, step, took, last_exact[n - 1], spare)
        out.append(_move(frame, n, step, took, within, slanting[n - 1]))
    return tuple(out)


def _move(frame: Frame, n: int, step: Step, took: Swept, within: float, slanting: float | None) -> Move:
    slide = _slide(frame, step)
    figure = frame.figure(slide, step.tool, *step.end) if slanting is None else slanting
    shown = slide.text(figure)
    if slide.on_dial and slide.per_turn:
        before = frame.figure(slide, step.tool, *step.start) if slanting is None else _before(step, slide, slanting)
        shown = f"{shown}: {dial_words(slide, before, figure)}"
    return Move(
        n=n,
        stage=step.stage,
        tool=step.tool.name,
        slide=step.slide,
        start=frame.place(*step.start),
        end=frame.place(*step.end),
        figure=figure,
        shown=shown,
        within=within,
        cuts=took.area > CUTS,
        area=took.area,
        bite=took.bite,
        station=step.station,
    )


def _before(step: Step, slide: Slide, figure: float) -> float:
    """What a top slide at an angle has read before a move to a figure."""
    way = math.copysign(math.dist(step.start, step.end), step.end.x - step.start.x)
    return slide.figure(slide.place(figure) - way)


def _slide(frame: Frame, step: Step) -> Slide:
    return frame.job.shop.slide(step.slide)


def _exact(steps: Sequence[Step]) -> list[bool]:
    """Whether each move sets a figure that a setting depends on: its own last move, or the last of the other slide."""
    exact = [s.exact for s in steps]
    for i, step in enumerate(steps):
        if not step.exact:
            continue
        j = i - 1
        while j >= 0 and steps[j].slide == step.slide and steps[j].stage == "finish":
            j -= 1
        if j >= 0 and steps[j].tool.name == step.tool.name:
            exact[j] = True
    return exact


def _within(frame: Frame, step: Step, took: Swept, exact: bool, spare: float) -> float:
    """How far off a move may stop without harm, mm of travel: away from the part only, for a setting."""
    least = _slide(frame, step).step
    if exact:
        return within_of_jaws(frame, step, max(spare, least), least)
    return within_of_jaws(frame, step, rough_within(frame) if took.area > CUTS else AMPLE, least)


def rough_within(frame: Frame) -> float:
    """How far off a roughing cut may be, mm: half the allowance at most."""
    return min(0.5 * frame.job.shop.allowance, 0.1)


def predict(frame: Frame, swept: Sweep) -> Prediction:
    """What the swept moves leave."""
    u, height, points = left_standing(frame, swept.rest)
    border = tuple(frame.place(*p) for p in surface(frame, swept.rest))
    if not len(height):
        return Prediction(0.0, frame.place(*frame.outline.start), swept.gouge, border)
    top = int(np.argmax(height))
    return Prediction(
        ridge_max=float(height[top]),
        ridge_at=frame.place(float(points[top, 0]), float(points[top, 1])),
        gouge_max=swept.gouge,
        surface=border,
        ridges=_peaks(frame, u, height),
    )


def _peaks(frame: Frame, u: np.ndarray, height: np.ndarray) -> tuple[tuple[Point, float], ...]:
    """The tops of the ridges in order along the outline, with their feet on it."""
    over = np.flatnonzero(height > SEEN)  # the border runs back along the outline under every ridge
    order = over[np.argsort(u[over], kind="stable")]
    u, height = u[order], height[order]
    peak = np.ones(len(u), dtype=bool)
    peak[1:] &= height[1:] > height[:-1]
    peak[:-1] &= height[:-1] >= height[1:]
    x, y = frame.chain.points(u[peak])
    return tuple((frame.place(float(a), float(b)), float(h)) for a, b, h in zip(x, y, height[peak], strict=True))
