"""Notes: how far a plan can be trusted, and what it leaves on the end of the work."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ovolo.part.targets import allowed_ridge
from ovolo.plan.stations.choose_tools import Reach
from ovolo.plan.view.centre import SLOPE, Centre, hole_left
from ovolo.plan.view.frame import Frame
from ovolo.shop.dial_counts import better_counts, division
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool

#: At 45 degrees an error of the nose radius shows as 0.41 of it on the curve; half is on the safe side of it.
SHOWS = 0.5


def notes(frame: Frame, reaches: Sequence[Reach]) -> tuple[str, ...]:
    """What the reader should know about how far the plan can be trusted."""
    out = []
    if frame.job.shop.stock.stick_out is None:
        out.append("How far the bar stands out is not told: nothing was checked against the chuck.")
    out += [note for slide in _read(frame) for note in _about_count(frame, slide)]
    out += _about_centre(frame)
    out += _about_tolerance(frame)
    tools = dict.fromkeys(reach.tool for reach in reaches if reach.side is None)
    return (*out, *(note for tool in tools for note in _about_nose(frame, tool)))


def _read(frame: Frame) -> list[Slide]:
    """The slides whose figures are read."""
    shop = frame.job.shop
    return [shop.cross, *([shop.saddle] if shop.saddle_moves else []), *([] if shop.top is None else [shop.top])]


def _about_count(frame: Frame, slide: Slide) -> list[str]:
    """That a dial can hardly be stopped at the figures of a plan, with the counts that would do."""
    better, (unit, name) = better_counts(slide), _unit(frame)
    if not better:
        return []
    write = " or ".join(f"{count / unit:.6g}" for count in better)
    one, count = division(slide) / unit, slide.count / unit
    return [
        f"Figures of {count:.6g} {name} fall between the divisions of the {_called(slide)}'s dial, of which one is "
        f"{one:.6g} {name}: count = {write} (slide.{slide.name}) would be read off it."
    ]


def _called(slide: Slide) -> str:
    return "saddle" if slide.name == "saddle" else f"{slide.name} slide"


def _about_nose(frame: Frame, tool: Tool) -> list[str]:
    """That a nose is not known well enough for the ridge: how well it is, what that allows, and how to measure it."""
    ridge, u, (unit, name) = frame.job.part.ridge, tool.nose_radius_u, _unit(frame)
    if u is None or u * SHOWS <= ridge:
        return []
    return [
        f"The ridge asked for, {ridge / unit:.3g} {name}, is finer than the nose of {tool.name} is known: its radius "
        f"is told to {u / unit:.3g} {name} (nose_radius_u), and that allows a ridge of {u * SHOWS / unit:.3g} {name}. "
        f"Measure it to {ridge / SHOWS / unit:.3g} {name} first: {_GROOVE if tool.kind == 'round' else _CORNER}."
    ]


_GROOVE = (
    "plunge a groove into scrap, less deep than the radius, and measure its width w at the surface and its depth t: "
    "the radius is (w²/4 + t²) / 2t"
)
_CORNER = (
    "it is too short an arc for a groove, so hold it against radius gauges under a loupe; of an insert the ISO 1832 "
    "code tells it"
)


def _about_tolerance(frame: Frame) -> list[str]:
    """What the drawing allows the curve, beside the ridge that was planned for."""
    part, (unit, name) = frame.job.part, _unit(frame)
    if part.tolerance is None:
        return []
    _, y = frame.chain.points(np.linspace(*frame.curve_ends, 400))
    largest = 2 * float(np.abs(y).max())
    allowed = allowed_ridge(part.tolerance, largest)
    size = f"{part.tolerance} on Ø {largest / unit:.4g} {name}"
    if part.ridge <= allowed * (1 + 1e-9):
        return [f"{size} lets {allowed / unit:.3g} {name} stand on the curve: the ridge asked for keeps that."]
    return [
        f"{size} lets only {allowed / unit:.3g} {name} stand on the curve: file the ridges, or ask for a finer one."
    ]


def _about_centre(frame: Frame) -> list[str]:
    """What the centre keeps tools away from and leaves, or that nobody knows."""
    (unit, name), centre = _unit(frame), frame.centre
    if centre is None:
        if frame.job.shop.lathe.holding == "chuck" or frame.sign < 0:
            return []
        return ["How large the centre and its hole are is not told: nothing was checked against the centre."]
    if centre.nub_length:
        size = f"a nub of Ø {2 * centre.nub / unit:.4g} {name}"
        out = [f"The centre leaves {size}: cut it off last, tailstock drawn back."]
    else:
        out = ["No metal stands in front of the end face, so the centre leaves no nub to cut off."]
    if frame.nub_end:
        x, y = frame.chain.points(np.array([frame.nub_end]))
        where = f"z = {x[0] / unit:.4g} {name}, Ø {2 * y[0] / unit:.4g} {name}"
        stays = "is not turned" if not centre.nub_length else "stays with the nub"
        out.append(f"The curve is finished from {where} on: what is nearer to the end {stays}.")
    return [*out, *_about_hole(frame, centre)]


def _about_hole(frame: Frame, centre: Centre) -> list[str]:
    """That the centre's hole goes into the finished end, and how much metal in front would hold it."""
    left, (unit, name) = hole_left(centre, frame.outline), _unit(frame)
    if left is None:
        return []
    radius, depth = left
    needed = frame.outline.start.x + centre.hole / SLOPE
    cone = f"Ø {2 * radius / unit:.3g} {name}, {depth / unit:.3g} {name} deep"
    return [f"Its hole stays in the end, {cone}: {needed / unit:.3g} {name} proud would hold it."]


def ending(frame: Frame) -> str:
    """What is left to do when work on a centre is turned."""
    assert frame.centre is not None
    unit, name = _unit(frame)
    if not frame.centre.nub_length:
        return "Stop the spindle, and draw the tailstock back"
    nub = f"the nub of Ø {2 * frame.centre.nub / unit:.4g} {name} that the centre leaves"
    return f"Stop the spindle, draw the tailstock back, and cut off {nub} last"


def _unit(frame: Frame) -> tuple[float, str]:
    unit = frame.job.shop.unit
    return unit, "mm" if unit == 1.0 else "in"
