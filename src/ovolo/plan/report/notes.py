"""Notes: how far a plan can be trusted, and what it leaves on the end of the work."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ovolo.part.targets import allowed_ridge
from ovolo.plan.report.facts import (
    BetweenDivisions,
    CentreUnchecked,
    ChuckUnchecked,
    EqualStepsNoForm,
    EqualStepsNote,
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
from ovolo.plan.stations.choose_tools import Assignment, Reach
from ovolo.plan.toolpath.ground import Care
from ovolo.plan.view.centre import SLOPE, Centre, hole_left
from ovolo.plan.view.frame import Frame
from ovolo.shop.dial_counts import better_counts, division
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool

#: At 45 degrees an error of the nose radius shows as 0.41 of it on the curve; half is on the safe side of it.
SHOWS = 0.5


def notes(frame: Frame, assignment: Assignment, reaches: Sequence[Reach], care: Care) -> tuple[Note, ...]:
    """What the reader should know about a plan."""
    tools = dict.fromkeys(reach.tool for reach in reaches if reach.side is None)
    return (
        *([ChuckUnchecked()] if frame.job.shop.stock.stick_out is None else []),
        *(note for slide in _read(frame) for note in _about_count(slide)),
        *_about_centre(frame),
        *_about_tolerance(frame),
        *(note for tool in tools for note in _about_nose(frame, tool)),
        *_about_equal_steps(frame, assignment),
        *([] if care.allowance == 1.0 else [ThinAllowance(frame.job.shop.allowance * care.allowance)]),
    )


def _read(frame: Frame) -> list[Slide]:
    """The slides whose figures are read."""
    shop = frame.job.shop
    return [shop.cross, *([shop.saddle] if shop.saddle_moves else []), *([] if shop.top is None else [shop.top])]


def _about_count(slide: Slide) -> list[Note]:
    """That a dial can hardly be stopped at the figures of a plan, with the counts that would do."""
    better = better_counts(slide)
    return [BetweenDivisions(slide.name, slide.count, division(slide), tuple(better))] if better else []


def _about_nose(frame: Frame, tool: Tool) -> list[Note]:
    """That a nose is not known well enough for the ridge: how well it is, what that allows, how well it would do."""
    ridge, known = frame.job.part.ridge, tool.nose_radius_u
    if known is None or known * SHOWS <= ridge:
        return []
    return [NoseTooVague(tool.name, ridge, known, known * SHOWS, ridge / SHOWS, tool.edge.cuts_both_ways)]


def _about_tolerance(frame: Frame) -> list[Note]:
    """What the drawing allows the curve, beside the ridge that was planned for."""
    part = frame.job.part
    if part.tolerance is None:
        return []
    _, y = frame.chain.points(np.linspace(*frame.curve_ends, 400))
    largest = 2 * float(np.abs(y).max())
    allowed = allowed_ridge(part.tolerance, largest)
    return [ToleranceAllows(str(part.tolerance), largest, allowed, part.ridge <= allowed * (1 + 1e-9))]


def _about_centre(frame: Frame) -> list[Note]:
    """What the centre keeps tools away from and leaves, or that nobody knows."""
    centre = frame.centre
    if centre is None:
        known = frame.job.shop.lathe.holding == "chuck" or frame.sign < 0
        return [] if known else [CentreUnchecked()]
    out: list[Note] = [Nub(2 * centre.nub if centre.nub_length else 0.0)]
    if frame.nub_end:
        x, y = frame.chain.points(np.array([frame.nub_end]))
        out.append(FinishedFrom(frame.place(float(x[0]), float(y[0])), bool(centre.nub_length)))
    return [*out, *_about_hole(frame, centre)]


def _about_hole(frame: Frame, centre: Centre) -> list[Note]:
    """That the centre's hole goes into the finished end, and how much metal in front would hold it."""
    left = hole_left(centre, frame.outline)
    if left is None:
        return []
    radius, depth = left
    return [HoleStays(2 * radius, depth, frame.outline.start.x + centre.hole / SLOPE)]


def _about_equal_steps(frame: Frame, assignment: Assignment) -> list[EqualStepsNote]:
    """What finishing by a constant amount of one slide costs; nothing where the job doesn't ask for it."""
    by = frame.job.shop.by
    if by is None:
        return []
    if assignment.equal:
        more = assignment.stations - assignment.fewest
        return [EqualStepsTaken(by.slide, by.amount, assignment.equal, assignment.stations, more)]
    formed = all(not work.tool.edge.noses for work in assignment.works)
    return [EqualStepsNoForm()] if formed else [EqualStepsNowhere(by.slide, by.amount)]


def ending(frame: Frame) -> str:
    """What is left to do when work on a centre is turned."""
    assert frame.centre is not None
    unit, name = frame.job.measure
    if not frame.centre.nub_length:
        return "Stop the spindle, and draw the tailstock back"
    nub = f"the nub of Ø {2 * frame.centre.nub / unit:.4g} {name} that the centre leaves"
    return f"Stop the spindle, draw the tailstock back, and cut off {nub} last"
