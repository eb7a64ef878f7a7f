"""What can be wrong with a job whose every field is right: the part against its stock, tools, slides and curve."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Literal

import numpy as np

from ovolo.documents.building import BULGE, at_least, at_most, say
from ovolo.documents.faults import Loc, fault_at
from ovolo.documents.form_outline import form_faults, nose_of, tightest_of
from ovolo.documents.job_model import JobFile, PartTable, ToolTable
from ovolo.errors import Fault
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line
from ovolo.part.part import Surface
from ovolo.shop.slides import Slide
from ovolo.tolerances import SAME_PLACE
from ovolo.units import DEGREE, Unit

_SEEN = 2e-5
"""By how much the bounds of an outline may be off, mm."""

Side = Literal["start", "end"]


@dataclass(frozen=True)
class Draft:
    """A job on its way: the document as written, as validated (mm), its outline where it has one, its slides."""

    data: object
    file: JobFile
    outline: Outline | None
    curve: tuple[float, float] | None
    ridge: float
    bite: float
    plunge: float
    slides: tuple[Slide, Slide]
    shaped: Outline | None = None
    top: Slide | None = None

    @property
    def fine(self) -> tuple[Slide, Slide]:
        """The slides that finishing is done with."""
        cross, saddle = self.slides
        return cross, self.top or saddle

    @property
    def coarse(self) -> tuple[Slide, Slide]:
        """The slides that roughing is done with."""
        return self.slides if "saddle" in self.file.limits.slides else self.fine

    @property
    def unit(self) -> Unit:
        """The unit of its bare lengths."""
        return self.file.units

    @property
    def surface(self) -> Surface:
        """The surface that is turned."""
        return self.file.part.surface

    def fault(self, loc: Loc, says: str, remedy: str, limit: str = "") -> Fault:
        """A fault at a path of the document as written."""
        return fault_at(self.data, loc, says, remedy, limit)

    def say(self, mm: float) -> str:
        """A length in the job's own unit."""
        return say(mm, self.unit)


def draft_faults(draft: Draft) -> list[Fault]:
    """All that is wrong with the job as a whole."""
    checks = [_forms(draft), _blades(draft), _tool_edges(draft), _ridge(draft), _bite(draft)]
    checks += [_plunge(draft), _by(draft), _centre(draft), _top(draft)]
    if draft.outline is not None:
        checks += [_stock(draft, draft.outline), _chuck(draft, draft.outline), _curve(draft, draft.outline)]
    if draft.outline is not None and draft.curve is not None:
        checks.append(_noses(draft, draft.outline, draft.curve))
    return list(chain.from_iterable(checks))


def default_curve(outline: Outline, tools: Sequence[ToolTable]) -> tuple[float, float]:
    """The whole outline, less the largest nose radius of the drawer at the bar behind: z, mm."""
    low, _, high, _ = outline.bounds()
    return high, low + max(nose_of(tool) for tool in tools)


def curve_of(part: PartTable, outline: Outline, tools: Sequence[ToolTable]) -> tuple[float, float]:
    """The part of the outline to finish in settings, from z to z, the greater first, mm."""
    if part.curve is None:
        return default_curve(outline, tools)
    return max(part.curve), min(part.curve)


#: Settings are chosen among the figures that lie on the outline or just outside it, and some lie much nearer to it than
#: a whole step: below this share of a step there is no use in looking for them. The planner says what can be kept.
_LUCKY = 0.1


def coarsest_step(slides: Sequence[Slide]) -> float:
    """The longer of the steps in which these slides can be set, mm of travel."""
    return max(slide.step for slide in slides)


def ridge_fault(where: str, value: object, ridge: float, slides: Sequence[Slide], unit: Unit) -> Fault | None:
    """What is wrong with a ridge [mm] given at `where`, if anything."""
    step = coarsest_step(slides)
    finest = _LUCKY * step
    if ridge >= finest - SAME_PLACE:
        return None
    says = f"the slides can only be set to {say(step, unit)} of travel, too coarse for such a ridge"
    remedy = "Ask for a higher ridge, or give a finer slide.*.count if the readout has one"
    return Fault(where, value, at_least(finest, unit), says, remedy)


def _ridge(draft: Draft) -> Iterator[Fault]:
    loc: Loc = ("finish", "ridge")
    bare = draft.fault(loc, "", "")
    fault = ridge_fault(bare.where, bare.value, draft.ridge, draft.fine, draft.unit)
    if fault is not None:
        yield fault


def _forms(draft: Draft) -> Iterator[Fault]:
    """The outlines of form tools."""
    for i, tool in enumerate(draft.file.tool):
        if tool.outline is not None:
            yield from form_faults(tool.outline, draft.data, ("tool", i, "outline"), draft.unit)


def _blades(draft: Draft) -> Iterator[Fault]:
    """What a grooving blade and the bodies of tools need."""
    for i, tool in enumerate(draft.file.tool):
        if tool.kind == "grooving" and tool.width is None:
            yield draft.fault(("tool", i, "width"), "the width of the blade is missing", "Measure it over both corners")
        if tool.width is not None and tool.kind != "grooving":
            says = "only a grooving blade has a width"
            yield draft.fault(("tool", i, "width"), says, 'Leave it out, or write kind = "grooving"')
        elif tool.width is not None and tool.width < 2 * nose_of(tool):
            least = at_least(2 * nose_of(tool), draft.unit)
            says = "both corners do not fit this width"
            yield draft.fault(("tool", i, "width"), says, "Correct one of the two", least)
        if (tool.stem is None) != (tool.shank is None):
            missing = "stem" if tool.stem is None else "shank"
            says = "stem and shank are given together: how far the narrow part projects, and what is behind it"
            yield draft.fault(("tool", i, missing), says, f"Add {missing}, or leave both out")


def _shaped_stock(draft: Draft, shaped: Outline, outline: Outline) -> Iterator[Fault]:
    """A piece already shaped has to hold the part everywhere."""
    if draft.file.stock.proud:
        says = "stock already shaped begins where its outline begins"
        yield draft.fault(("stock", "proud"), says, "Leave it out")
    walked = np.array(shaped.flattened(1e-3))
    if (walked[:, 0] - np.minimum.accumulate(walked[:, 0])).max() > BULGE:
        says = "the outline of stock may not double back along the axis: its metal is looked at from above"
        remedy = "Draw it as if the hollow were full; roughing then passes over air there"
        yield draft.fault(("stock", "outline"), says, remedy)
        return
    bore = draft.surface == "bore"
    if bore:
        yield from _hole_shaped(draft, shaped, outline)
    x, y = np.array(outline.flattened(1e-3)).T
    stands = np.interp(x, walked[::-1, 0], walked[::-1, 1], left=walked[-1, 1])
    room = np.where(x > walked[0, 0] + _SEEN, -y, (y - stands) if bore else (stands - y))
    worst = int(np.argmin(room))
    if room[worst] < -5e-3:
        says = "the hole in the stock is larger than the bore" if bore else "the stock is smaller than the part"
        limit = at_most(2 * y[worst], draft.unit) if bore else at_least(2 * y[worst], draft.unit)
        says = f"{says} at z = {draft.say(x[worst])}"
        yield draft.fault(("stock", "outline"), says, "Correct the outline of one of the two", limit)


def _hole_shaped(draft: Draft, shaped: Outline, outline: Outline) -> Iterator[Fault]:
    """A hole already shaped is open all along, is no other hole than the one given, and has metal round it."""
    stock, least, behind = draft.file.stock, shaped.bounds()[1], 2 * shaped.end.y
    if least < _SEEN:
        says = "a bore needs a hole for its tool to enter, as far as its outline goes"
        yield draft.fault(("stock", "outline"), says, "Drill it first, or write the diameter that is open")
    if stock.hole and abs(stock.hole - behind) > 2 * _SEEN:
        says = "the hole behind a piece already shaped is where its outline ends"
        yield draft.fault(("stock", "hole"), says, "Leave it out", draft.say(behind))
    widest = 2 * max(shaped.bounds()[3], outline.bounds()[3])
    if stock.diameter is not None and stock.diameter < widest + 2 * _SEEN:
        limit = f"more than {draft.say(widest)}"
        says = "no metal is left round the hole"
        yield draft.fault(("stock", "diameter"), says, "Write the outside of the piece, or leave it out", limit)


def _bite(draft: Draft) -> Iterator[Fault]:
    finest = coarsest_step(draft.coarse)
    if draft.bite < finest - SAME_PLACE:
        says = "the slides cannot be set that finely"
        yield draft.fault(("limits", "bite"), says, "Allow a wider cut", at_least(finest, draft.unit))


def _plunge(draft: Draft) -> Iterator[Fault]:
    """Limits of plunges that no slide can keep, and a blade that is to cut wider than it is."""
    finest = coarsest_step(draft.coarse)
    if draft.plunge < finest - SAME_PLACE:
        says = "the slides cannot be set that finely"
        yield draft.fault(("limits", "plunge"), says, "Allow a wider cut", at_least(finest, draft.unit))
    for i, tool in enumerate(draft.file.tool):
        if tool.plunge is None:
            continue
        if tool.plunge < finest - SAME_PLACE:
            says = "the slides cannot be set that finely"
            yield draft.fault(("tool", i, "plunge"), says, "Allow a wider cut", at_least(finest, draft.unit))
        if tool.width is not None and tool.plunge > tool.width + SAME_PLACE:
            says = "a blade cannot take more than its own width"
            yield draft.fault(("tool", i, "plunge"), says, "Leave it out", at_most(tool.width, draft.unit))


def _by(draft: Draft) -> Iterator[Fault]:
    """The constant amount to finish by has to be something that its slide can be moved by."""
    by = draft.file.finish.by
    if by is None:
        return
    slide = next((slide for slide in draft.fine if slide.name == by.slide), None)
    if slide is None:
        says = "no finishing move is made with this slide"
        yield draft.fault(("finish", "by", "slide"), says, f"Take one of these: cross, {draft.fine[1].name}")
        return
    counts = by.amount / slide.count
    if round(counts) < 1 or abs(counts - round(counts)) > SAME_PLACE:
        says = f"the figures of this slide are whole counts of {draft.say(slide.count)}"
        limit = f"a whole multiple of {draft.say(slide.count)}"
        near = draft.say(max(1, round(counts)) * slide.count)
        yield draft.fault(("finish", "by", "amount"), says, f"Take the nearest, {near}, or correct the count", limit)


def _top(draft: Draft) -> Iterator[Fault]:
    """A top slide at an angle goes along a taper alone: the saddle does all the rest."""
    top, slides = draft.file.slide.top, draft.file.limits.slides
    if top is not None and "top" in slides and top.angle and "saddle" not in slides:
        says = "at an angle the top slide moves the tool along the axis and across it, and can't be the saddle too"
        yield draft.fault(("limits", "slides"), says, 'Add "saddle", or set slide.top.angle to 0')


def _centre(draft: Draft) -> Iterator[Fault]:
    """What the centre in the end of the work needs."""
    lathe, stock = draft.file.lathe, draft.file.stock
    told = {"centre_hole": lathe.centre_hole, "centre_body": lathe.centre_body}
    missing = [name for name, size in told.items() if size is None]
    if len(missing) == 2:
        return
    if missing:
        says = "centre_hole and centre_body are given together: the mouth of the hole, and what is behind the point"
        yield draft.fault(("lathe", missing[0]), says, f"Add {missing[0]}, or leave both out")
        return
    assert lathe.centre_hole is not None
    assert lathe.centre_body is not None
    if lathe.holding == "chuck":
        says = "a centre is described, but the work is held in the chuck alone"
        yield draft.fault(("lathe", "holding"), says, 'Write "chuck and centre", or leave the centre out')
    elif draft.surface == "bore":
        says = "no tool gets into a bore past a centre in its mouth"
        yield draft.fault(("lathe", "holding"), says, 'Write "chuck" and leave the centre out')
    if lathe.centre_body < lathe.centre_hole - SAME_PLACE:
        limit = at_least(lathe.centre_hole, draft.unit)
        says = "the centre is thinner than the hole that it stands in"
        yield draft.fault(("lathe", "centre_body"), says, "Correct one of the two", limit)
    if stock.diameter is not None and lathe.centre_hole >= stock.diameter:
        says, limit = "the hole is as large as the stock", f"less than {draft.say(stock.diameter)}"
        yield draft.fault(("lathe", "centre_hole"), says, "Correct one of the two", limit)


def _tool_edges(draft: Draft) -> Iterator[Fault]:
    for i, tool in enumerate(draft.file.tool):
        if tool.kind == "pointed" and tool.edge_angle + tool.point_angle >= math.pi - 1e-9:
            edge = tool.edge_angle / DEGREE
            says = f"with an edge angle of {edge:g}° the trailing edge would lie along the work or in it"
            most = f"less than {180 - edge:g}"
            yield draft.fault(("tool", i, "point_angle"), says, "Measure both angles again", most)


def _stock(draft: Draft, outline: Outline) -> Iterator[Fault]:
    _, least, front, most = outline.bounds()
    stock = draft.file.stock
    if draft.shaped is not None:
        yield from _shaped_stock(draft, draft.shaped, outline)
        return
    if front > stock.proud + BULGE:
        says = f"the outline begins {draft.say(front - stock.proud)} in front of the stock"
        limit = at_least(front, draft.unit)
        yield draft.fault(("stock", "proud"), says, "Give a larger facing allowance, or move the outline", limit)
    if stock.diameter is None:
        return
    if 2 * most > stock.diameter + 2 * _SEEN:
        limit = at_least(2 * most, draft.unit)
        where = max(outline.flattened(1e-3), key=lambda point: point.y)
        says = (
            f"the part is {draft.say(2 * most - stock.diameter)} thicker than the bar at z = {draft.say(where.x)}, "
            f"where it is Ø {draft.say(2 * most)}"
        )
        yield draft.fault(("stock", "diameter"), says, "Take a larger bar", limit)
    if stock.hole >= stock.diameter:
        limit = f"less than {draft.say(stock.diameter)}"
        yield draft.fault(("stock", "hole"), "the hole is as large as the stock", "Correct one of the two", limit)
    elif draft.surface == "bore":
        yield from _bore(draft, least)
    elif stock.hole > 2 * max(least, 0.0) + 2 * _SEEN:
        says = f"the part needs metal there, down to {draft.say(2 * least)}"
        limit = at_most(2 * least, draft.unit)
        yield draft.fault(("stock", "hole"), says, "Leave it out, or take stock with a smaller hole", limit)


def _bore(draft: Draft, least: float) -> Iterator[Fault]:
    hole = draft.file.stock.hole
    if hole <= 0:
        says = "a bore needs a hole for its tool to enter"
        yield draft.fault(("stock", "hole"), says, "Drill it first, and write its diameter", "more than 0")
    elif hole > 2 * least + 2 * _SEEN:
        says = f"the hole is already larger than the bore, which goes down to {draft.say(2 * least)}"
        yield draft.fault(("stock", "hole"), says, "Correct one of the two", at_most(2 * least, draft.unit))


def _chuck(draft: Draft, outline: Outline) -> Iterator[Fault]:
    stick_out, length = draft.file.stock.stick_out, -outline.bounds()[0]
    if stick_out is not None and stick_out < length - _SEEN:
        says = "the outline runs into the chuck"
        limit = at_least(length, draft.unit)
        yield draft.fault(("stock", "stick_out"), says, "Let the bar stick out further", limit)


def _curve(draft: Draft, outline: Outline) -> Iterator[Fault]:
    low, _, high, _ = outline.bounds()
    loc: Loc = ("part", "curve")
    if draft.curve is None:
        return
    if draft.file.part.curve is None:
        if draft.curve[0] - draft.curve[1] <= SAME_PLACE:
            nose = max(nose_of(tool) for tool in draft.file.tool)
            says = (
                f"the outline is no longer than the largest nose radius, {draft.say(nose)}, so the curve must be given"
            )
            yield draft.fault(loc, says, "Add curve = [first z, last z]")
        return
    for i, z in enumerate(draft.file.part.curve):
        if not low - _SEEN <= z <= high + _SEEN:
            limit = f"from {draft.say(low)} to {draft.say(high)}"
            yield draft.fault((*loc, i), "the curve goes past the end of the outline", "Keep it on the outline", limit)
    if draft.curve[0] - draft.curve[1] <= SAME_PLACE and not _face_at(outline, draft.curve[0]):
        says = "the curve begins and ends at the same place, and no face stands there"
        yield draft.fault((*loc, 1), says, "Write where it ends")


def _face_at(outline: Outline, z: float) -> bool:
    """Whether a face square to the axis stands at z: it is a curve as long as it is high."""
    return any(
        max(abs(s.start.x - z), abs(s.end.x - z)) <= SAME_PLACE and abs(s.end.y - s.start.y) > _SEEN
        for s in outline.segments
        if isinstance(s, Line)
    )


def tightest_hollow(outline: Outline, surface: Surface, curve: tuple[float, float]) -> Arc | None:
    """The concave arc of least radius that has a part of the curve on it; None where there is none.

    curve: from z to z [mm]. A bore has its metal on the right of its outline, so there concave arcs run
    counter-clockwise.
    """
    hollows = [
        segment
        for segment in outline.segments
        if isinstance(segment, Arc) and segment.ccw != (surface == "outside") and _overlaps(segment, curve)
    ]
    return min(hollows, key=lambda arc: arc.radius, default=None)


def _overlaps(arc: Arc, curve: tuple[float, float]) -> bool:
    low, _, high, _ = Outline((arc,)).bounds()
    return min(high, curve[0]) - max(low, curve[1]) > _SEEN


def _noses(draft: Draft, outline: Outline, curve: tuple[float, float]) -> Iterator[Fault]:
    """One small nose is enough: another tool may take what a large one leaves."""
    arc = tightest_hollow(outline, draft.surface, curve)
    if arc is None:
        return
    smallest = min(range(len(draft.file.tool)), key=lambda i: tightest_of(draft.file.tool[i]))
    if tightest_of(draft.file.tool[smallest]) > arc.radius + SAME_PLACE:
        says = (
            f"no tool of the drawer fits the hollow of radius {draft.say(arc.radius)} "
            f"between z = {draft.say(arc.start.x)} and {draft.say(arc.end.x)}"
        )
        limit = at_most(arc.radius, draft.unit)
        remedy = f"Add a tool whose nose radius is {draft.say(arc.radius)} or less"
        name = "nose_radius" if draft.file.tool[smallest].outline is None else "outline"
        yield draft.fault(("tool", smallest, name), says, remedy, limit)
