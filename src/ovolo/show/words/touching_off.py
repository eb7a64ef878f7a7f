"""Touching off: how each tool is told where it stands, with the job's own figures.

It follows from the reference point: the lines that touch the nose, one square to the axis on the side that leads, one
parallel to it. A surface that the nose has just cut lies on one of these lines, so the figure that belongs to it is the
size of that surface, whatever the nose radius. Shop rules without a source are common practice.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain, pairwise

import numpy as np

from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.report.measuring_stop import BLANK
from ovolo.plan.view.undercuts import bays
from ovolo.setup.surfaces import Standing, standing
from ovolo.shop.tools import Tool
from ovolo.show.words.figures import dialled, figure_text, length_text, set_to, slide_name
from ovolo.show.words.leaning_edge import by_parallel, leans_over
from ovolo.tolerances import SAME_PLACE
from ovolo.units import Unit, format_figure

__all__ = ["standing_off", "touching_off"]

SKIM = 0.2
"""Less to spare than this on the bar's diameter, mm, and it is not skimmed to find its size."""


def touching_off(plan: Plan) -> Iterator[tuple[str, tuple[str, ...]]]:
    """For each tool in the order of use: a title, and what to do."""
    repeats = plan.job.shop.lathe.post == "repeats"
    for i, tool in enumerate(plan.tools):
        start = next((move.n for move in plan.moves if move.tool == tool.name), 1)
        name = f" with {tool.name}" if len(plan.tools) > 1 else ""
        name += f", before move {1 if repeats else start}" if i else ""
        place = _Place(plan, tool, standing(plan, 1 if repeats else start), first=i == 0)
        if repeats and i:
            yield f"Touch off{name}", (*place.noted(), *_unmeasured(plan, tool))
            continue
        yield f"Touch off{name}", tuple(chain(place.diameter(), place.length(), _unmeasured(plan, tool)))


def _unmeasured(plan: Plan, tool: Tool) -> Iterator[str]:
    """For a tool that finishes and leaves nothing to measure by before it does."""
    finishes = any(move.tool == tool.name and move.stage == "finish" for move in plan.moves)
    stops = {before.move for before in plan.before if before.kind == "measure"}
    if finishes and not any(move.tool == tool.name and move.n in stops for move in plan.moves):
        yield "None of its cuts leaves a cylinder to measure before it finishes: touch it off twice; both must agree."


def standing_off(plan: Plan) -> str:
    """How to stay clear of the outline by a margin, if it must not be cut into."""
    shop = plan.job.shop
    cross, along, later = shop.cross, shop.coarse, shop.fine
    name = slide_name(along.name)
    bore = plan.job.part.surface == "bore"
    share = "twice that much" if cross.reads == "diameter" else "that much"
    more = "more" if (cross.factor > 0) == bore else "less"
    further, then = ("less" if slide.factor > 0 else "more" for slide in (along, later))
    once = "" if later == along else f", the {slide_name(later.name)} that much {then} once its length is measured"
    also = (
        f"; leave the {name} as it is, for the outline faces both ways along the axis (so shoulders get no extra metal)"
        if _faces_chuck(plan)
        else f" and the {name} that much {further} than here{once}"
    )
    return (
        "If nothing may be cut below the outline: What to expect says how far under the drawn one it may lie. At "
        f"touching off set the cross slide to show {share} {more}{also}.{_in_hollows(plan)} The file takes the rest."
    )


def _in_hollows(plan: Plan) -> str:
    """Under a lip the usual standing off would cut deeper: there the slide along the axis stands off, as it opens."""
    frame, along, said = plan.frame, plan.job.shop.fine, []
    for bay in bays(frame.chain):
        x, _ = frame.chain.points(np.linspace(bay.first, bay.last, 50))
        ends = " and ".join(_place_text(float(z), plan.job.units) for z in (x.max(), x.min()))
        opens = "toward the free end" if bay.way > 0 else "toward the chuck"
        shows = "less" if (along.factor > 0) == (bay.way > 0) else "more"
        said.append(
            f" Between z {ends} the outline leans over (the hollow opens {opens}), and this would cut deeper there. "
            f"Before the moves in that hollow set the cross slide back as touched off, and the "
            f"{slide_name(along.name)} that much {shows}."
        )
    return "".join(said)


def _faces_chuck(plan: Plan) -> bool:
    """Whether the outline falls anywhere toward the chuck: there a saddle further out would cut deeper."""
    heights = [y for _, y in plan.frame.outline.flattened(_CHORD)]
    return any(b < a - SAME_PLACE for a, b in pairwise(heights))


_CHORD = 1e-2
"""Chordal error of the outline, mm."""


@dataclass(frozen=True)
class _Place:
    """A tool about to be touched off, and the piece as it stands then."""

    plan: Plan
    tool: Tool
    stands: Standing
    first: bool

    @property
    def unit(self) -> Unit:
        return self.plan.job.units

    @property
    def bore(self) -> bool:
        return self.plan.job.part.surface == "bore"

    @property
    def surface(self) -> str:
        return "hole" if self.bore else "bar"

    def diameter(self) -> Iterator[str]:
        """How the cross slide is told."""
        stock = self.plan.job.shop.stock
        if not self.first or stock.outline is not None:
            yield self._on_what_stands()
            return
        radius, spare = self._spare()
        if spare >= SKIM:
            yield self._skim(radius, min(spare / 4, SKIM))
        else:
            yield f"Diameter: the {self.surface} is at its finished size already, so do not skim it."
        rank = "Second best" if spare >= SKIM else "Instead"
        yield f"{rank}: paper between tool and {self.surface}, spindle stopped; {self._paper(radius)}."

    def _spare(self) -> tuple[float, float]:
        """The radius of bar or hole, and what the part leaves to spare on its diameter, mm."""
        stock, bounds = self.plan.job.shop.stock, self.plan.job.part.outline.bounds()
        if self.bore:
            return stock.hole / 2, 2 * (bounds[1] - stock.hole / 2)
        return stock.radius, 2 * (stock.radius - bounds[3])

    def _skim(self, radius: float, depth: float) -> str:
        cross = self.plan.job.shop.cross
        trial = cross.place(cross.figure(radius + depth if self.bore else radius - depth))
        cut = "skim a short length of" if self.tool.kind in ("round", "pointed") else "plunge a shallow groove into"
        size = "the diameter as measured" if cross.reads == "diameter" else "half the diameter as measured"
        size += "" if cross.factor > 0 else ", with a minus sign"
        measured = f"Ø {length_text(2 * trial, self.unit)}"
        begin = f"Diameter: {cut} the {self.surface} with this very tool, stop the spindle, measure it, and"
        if dialled(cross):
            return (
                f"{begin} turn the loose collar of the dial, the cross slide left where it stands, until it shows "
                f"{size}. After a cut that measures {measured}, {set_to(cross, trial)}; count whole turns from there."
            )
        return (
            f"{begin} without moving the cross slide enter {size}. A cut that measures {measured} is entered as "
            f"{figure_text(cross, trial)}."
        )

    def _on_what_stands(self) -> str:
        """For a piece already shaped, and for every tool after the first."""
        where, radius = self._standing_surface()
        return f"Diameter: paper between tool and {where}, spindle stopped; {self._paper(radius)}."

    def _standing_surface(self) -> tuple[str, float]:
        """The surface that every tool comes to first, in words, and its radius, mm."""
        cylinder, stock = self.stands.nearest(bore=self.bore), self.plan.job.shop.stock
        if cylinder is None:
            return f"the {self.surface} behind the part", stock.hole / 2 if self.bore else stock.radius
        left = "" if cylinder.move is None else f", as move {cylinder.move.n} has left it"
        return f"the piece between z {self._z(cylinder.near)} and {self._z(cylinder.far)}{left}", cylinder.radius

    def _paper(self, radius: float) -> str:
        """What to enter where measured paper just drags on the bar or in the hole."""
        cross = self.plan.job.shop.cross
        thick = (
            "twice the paper's measured thickness" if cross.reads == "diameter" else "the paper's measured thickness"
        )
        more = "less" if (cross.factor > 0) == self.bore else "more"
        measured = f"where Ø {length_text(2 * radius, self.unit)} is measured"
        return f"{measured}, {set_to(cross, radius)} and {thick} {more}"

    def length(self) -> Iterator[str]:
        """How the slide along the axis is told: the saddle, or the top slide where the saddle is not moved."""
        along, front = self.plan.job.shop.coarse, self.stands.front
        told = set_to(along, front)
        if leans_over(self.tool):
            yield self._by_parallel()
            return
        if self.tool.reference[0] > 0:
            yield (
                "Length: this hand cannot face the end. Stop the spindle, and see to it that it cannot start. Hold a "
                "parallel flat against the end face so that it overhangs, bring the tool against it from the chuck's "
                f"side, and {told}. Take the parallel away before anything turns."
            )
            return
        skims = self._skims_face()
        if skims:
            yield (
                "Length: skim the end face with this very tool until it is just clean. Without moving the "
                f"{slide_name(along.name)} {told}: the distance of the skimmed face from the finished end."
            )
        else:
            yield f"Length: {self._why_not()}, so do not skim it."
        more = "more" if along.factor > 0 else "less"
        corners = {"grooving": "the blade's corner toward the chuck", "form": "the tool's end toward the chuck"}
        corner = corners.get(self.tool.kind, "tool")
        yield (
            f"{'Second best' if skims else 'Instead'}: paper between {corner} and end face, spindle stopped; {told} "
            f"and the paper's measured thickness {more}."
        )

    def noted(self) -> Iterator[str]:
        """For a later tool in a post that repeats: how far its figures are from those of the first."""
        shop, first = self.plan.job.shop, self.plan.tools[0].name
        yield (
            f"In its holder, on the surfaces that {first} was touched off on; leave the slides' figures as they are. "
            "What is noted here is added when the tool comes in, and taken off again when it goes."
        )
        share = "twice" if shop.cross.reads == "diameter" else ""
        paper = f"{share} the paper's measured thickness".strip()
        sign = "less" if (shop.cross.factor > 0) == self.bore else "and"
        yield (
            f"Diameter: paper between tool and the {self.surface} there, spindle stopped. The cross slide should show "
            f"the size measured {sign} {paper}. Note by how much it shows less: {BLANK}."
        )
        name, front = slide_name(shop.coarse.name), figure_text(shop.coarse, self.stands.front)
        if self.tool.reference[0] > 0 or leans_over(self.tool):
            yield (
                "Length: a parallel held flat against the end face, spindle stopped and kept from starting, the edge "
                f"brought against it. Note by how much the {name} shows less than the place of that face: {BLANK}."
            )
            return
        sign = "and" if shop.coarse.factor > 0 else "less"
        yield (
            f"Length: paper between tool and end face. The {name} should show {front} {sign} the paper's measured "
            f"thickness. Note by how much it shows less: {BLANK}."
        )

    def _by_parallel(self) -> str:
        """For an edge that leans over its nose."""
        shop = self.plan.job.shop
        where, radius = self._standing_surface()
        place = Point(self.stands.front, radius)
        return by_parallel(self.tool, (shop.cross, shop.coarse), place, where, bore=self.bore, unit=self.unit)

    @property
    def _faces(self) -> bool:
        """Whether its side cuts: a blade's is not made to, and a form tool's end may be a corner."""
        return self.tool.kind in ("round", "pointed")

    def _skims_face(self) -> bool:
        stock = self.plan.job.shop.stock
        bare = self.plan.job.shop.lathe.holding == "chuck"
        return self.first and bare and stock.outline is None and stock.proud > 0 and self._faces

    def _why_not(self) -> str:
        stock = self.plan.job.shop.stock
        if not self.first:
            return "the end face was cut by the tool before" if self.stands.faced else "the end face stands as it was"
        if stock.outline is not None:
            return "the piece is shaped already"
        if stock.proud > 0 and self.plan.job.shop.lathe.holding != "chuck":
            return "the centre stands in the end face"
        if stock.proud > 0:
            what, end = ("a form tool", "end") if self.tool.kind == "form" else ("a blade", "corner")
            return (
                f"{what} is not made to cut with its side, and it is its {end} toward the chuck that the figures mean"
            )
        return "the end face is finished already"

    def _z(self, mm: float) -> str:
        return _place_text(mm, self.unit)


def _place_text(mm: float, unit: Unit) -> str:
    """A place along the axis, to 0.01 mm or 0.001 in."""
    return format_figure(mm, unit, 2 if unit == "mm" else 3)
