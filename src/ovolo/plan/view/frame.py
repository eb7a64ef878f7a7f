"""The planner's own view of a job: air above, metal below, whichever surface is cut.

Outside work is taken as it is (y = r). A bore is turned over (y = -r), so that its tool, too, comes from above; every
module of this room works in that frame and only `Frame.place` leads back to (z, r).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

import numpy as np

from ovolo.geometry.bisection import bisected
from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.contact import contact_height
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Point, Segment
from ovolo.plan.job import Job
from ovolo.plan.view.centre import Centre, centre_of
from ovolo.plan.view.contact_line import ContactLine as ContactLine
from ovolo.plan.view.lattice import Lattice as Lattice
from ovolo.plan.view.shared import shared
from ovolo.plan.view.view import View
from ovolo.shop.edges.nosed import UPRIGHT
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool

#: Heights of the contact line are looked up at least this closely, mm.
FINE = 0.005
#: Chordal error of the flattened outline of a piece already shaped, mm.
SHAPED_CHORD = 1e-3
#: A nose so small that it feels the part like a point, mm.
POINT = 1e-3
#: Lower than any nose ever stands, mm.
FAR_BELOW = 1e4
#: A nose that the centre lifts by no more than this still reaches a place, mm.
NEAR = 1e-3
#: How far the bar behind the part is taken to run, mm.
BAR = 300.0

#: How far beyond the ends of the curve the finish is carried, mm.
OVERRUN = 2e-5
#: How far it is carried where that costs no station: what stands on the flank of a ridge there is then lower, mm.
AMPLE_OVERRUN = 0.03


@dataclass(frozen=True)
class Frame:
    """A job seen by the planner; lengths in mm.

    `overrun` is how far the finish is carried past the ends of the curve; `kept` what frames of one job share.
    """

    job: Job
    overrun: float = OVERRUN
    kept: dict[str, Any] = field(default_factory=dict, compare=False, repr=False)

    def carried_on(self) -> Frame:
        """The same frame with the finish carried a little past the curve; what was worked out before is kept."""
        return replace(self, overrun=AMPLE_OVERRUN)

    @property
    def sign(self) -> int:
        """1 for outside work, -1 in a bore: y = sign · r."""
        return 1 if self.job.part.surface == "outside" else -1

    @shared
    def outline(self) -> Outline:
        """The outline in this frame."""
        outline = self.job.part.outline
        return outline if self.sign > 0 else outline.mirrored()

    @property
    def base(self) -> float:
        """Where the half-section ends below: the axis, or the outside of the piece for a bore."""
        return 0.0 if self.sign > 0 else -self.job.shop.stock.radius

    def deepest(self, tool: Tool) -> float:
        """The least y that a nose centre has any business at: the axis, or where a bore is widest."""
        return 0.0 if self.sign > 0 else max(self.base, self._bounds[1] - tool.nose_radius)

    def face_floor(self, tool: Tool) -> float:
        """The least y that a nose centre goes to in front of the part: the axis, or past the mouth of a bore."""
        if self.sign > 0:
            return 0.0
        if not self.face_counts:
            return max(self.base, self._face_end - tool.nose_radius)
        _, free_side = tool.edge.directions
        lean = max(self.front - self.front_of_part, 0.0) / math.tan(free_side)  # an edge that leans stays behind
        return self._face_end - tool.nose_radius - lean

    @cached_property
    def _face_end(self) -> float:
        """How far down the end face of a bore counts: where metal left on it would stand over the curve, y.

        It does where the nearest place of the outline lies in the curve: with a recess wider than the mouth.
        """
        start = self.outline.start
        y = np.linspace(self.base, start.y, 200)
        over = np.zeros(len(y), dtype=bool)
        for x in (start.x + OVERRUN, max(self.front, start.x + OVERRUN)):
            u, _ = self.chain.project(np.full_like(y, x), y, 2 * self.job.shop.stock.radius)
            over |= (u > NEAR) & (u >= self.stretch[0]) & (u <= self.stretch[1])
        return min(start.y, float(y[over].min())) if over.any() else start.y

    @property
    def face_span(self) -> tuple[float, float]:
        """The end face of a bore that counts, from the outside in, y."""
        return self._face_end, self.outline.start.y

    @property
    def face_counts(self) -> bool:
        """Whether metal left on the end face of a bore would stand over the curve."""
        return self.sign < 0 and self._face_end < self.outline.start.y - NEAR

    @shared
    def shaped(self) -> tuple[Floats, Floats] | None:
        """The outline of a piece already shaped, or of its hole in a bore, with rising x; None for a plain bar."""
        outline = self.job.shop.stock.outline
        if outline is None:
            return None
        turned = outline if self.sign > 0 else outline.mirrored()
        points = np.array(turned.flattened(SHAPED_CHORD))[::-1]
        return points[:, 0], points[:, 1]

    @property
    def bar_top(self) -> float:
        """The surface of the bar behind the part."""
        stock = self.job.shop.stock
        return stock.radius if self.sign > 0 else -stock.hole / 2

    @property
    def top(self) -> float:
        """The highest place of blank and bar."""
        return self.bar_top if self.shaped is None else max(self.bar_top, float(self.shaped[1].max()))

    @property
    def front(self) -> float:
        """The front of the blank, x."""
        return self.job.shop.stock.proud if self.shaped is None else float(self.shaped[0].max())

    def blank_top(self, x: Floats) -> Floats:
        """The height of the blank at each x; far below its base in front of it."""
        plain = np.full_like(x, self.bar_top)
        height = plain if self.shaped is None else np.interp(x, *self.shaped, left=self.bar_top)
        return np.where(x <= self.front, height, self.base - 10.0)

    @property
    def back(self) -> float:
        """The end of the outline, where the bar goes on behind."""
        return self.outline.end.x

    @property
    def on_axis(self) -> bool:
        """Whether the outline begins on the axis."""
        return self.sign > 0 and abs(self.outline.start.y) < 1e-9

    @shared
    def end_face(self) -> tuple[Segment, ...]:
        """The face in front of the outline's first point, where it does not begin at the base."""
        first = self.outline.start
        return (Line(Point(first.x, self.base), first),) if first.y > self.base + 1e-9 else ()

    @shared
    def bar(self) -> tuple[Segment, ...]:
        """The bar behind the part: a step up, where there is one, and its surface."""
        last, top = self.outline.end, self.bar_top
        step = (Line(last, Point(last.x, top)),) if top > last.y + 1e-9 else ()
        corner = Point(last.x, max(top, last.y))
        return (*step, Line(corner, Point(last.x - BAR, corner.y)))

    @shared
    def chain(self) -> Chain:
        """The outline alone."""
        return Chain(self.outline.segments)

    @shared
    def obstacles(self) -> Chain:
        """All that must not be cut: end face, outline and bar."""
        return Chain((*self.end_face, *self.outline.segments, *self.bar))

    @shared
    def centre(self) -> Centre | None:
        """The tailstock's centre in the end of the work, where one is told of."""
        return centre_of(self.job.shop.lathe, self.outline, self.front) if self.sign > 0 else None

    @property
    def clear_of(self) -> float:
        """The height over which nothing stands: neither metal nor the centre."""
        return self.top if self.centre is None else max(self.top, self.centre.top)

    @shared
    def nub_end(self) -> float:
        """How far along the outline the centre keeps every tool of the drawer away from the curve, mm; 0 nowhere."""
        if self.centre is None:
            return 0.0
        start, end = self._curve_asked
        u = np.linspace(start, end, max(2, math.ceil((end - start) / FINE)))
        free = np.zeros(len(u), dtype=bool)
        for tool in self.job.shop.tools:
            x, y = self.chain.offset_points(*self.chain.locate(u), tool.nose_radius)
            places = np.arange(x.min() - FINE, x.max() + 2 * FINE, FINE)
            blocked = tool.edge.clear_of(self.centre.chain, places, 0.0)
            free |= np.interp(x, places, np.maximum(blocked, -FAR_BELOW)) <= y + NEAR
        first = int(np.argmax(free))
        return float(u[first]) if first and free.any() else 0.0

    @property
    def curve_ends(self) -> tuple[float, float]:
        """The curve, as a range of the outline chain's `u`; without what the centre keeps out of reach."""
        start, end = self._curve_asked
        return max(start, self.nub_end), end

    @shared
    def _curve_asked(self) -> tuple[float, float]:
        high, low = self.job.part.curve
        u = np.linspace(0.0, self.chain.length, max(2000, int(self.chain.length / 0.01)))
        x, _ = self.chain.points(u)
        inside = np.flatnonzero((x <= high + 1e-6) & (x >= low - 1e-6))
        first, last = int(inside[0]), int(inside[-1])
        start = 0.0 if first == 0 else self._crossing(u[first - 1], u[first], high + 1e-9)
        end = self.chain.length if last == len(u) - 1 else self._crossing(u[last], u[last + 1], low - 1e-9)
        return float(start), float(end)

    @cached_property
    def stretch(self) -> tuple[float, float]:
        """What is finished: the curve and an overrun, so that what stands over a corner at its end is cut with it."""
        start, end = self.curve_ends
        before = max(start - self.overrun, 0.0) if not self.nub_end else start
        return before, min(end + self.overrun, self.chain.length)

    def _crossing(self, below: float, above: float, x: float) -> float:
        """Where the outline passes x, between two values of u."""
        return sum(bisected(lambda u: bool(self.chain.points(np.array([u]))[0][0] > x), below, above)) / 2

    def lattice(self, tool: Tool) -> Lattice:
        """The nose centres of this tool that the two slides can be set to in finishing."""
        shop, (ref_x, ref_y) = self.job.shop, tool.reference
        return Lattice(-ref_x, shop.fine.step, -ref_y, shop.cross.step)

    def coarse_lattice(self, tool: Tool) -> Lattice:
        """The same in roughing."""
        return replace(self.lattice(tool), dx=self.job.shop.coarse.step)

    def round_lattice(self, tool: Tool) -> Lattice:
        """The coarser grid of round figures that roughing is set to: a tenth of a millimetre, 5 thousandths of an
        inch, as each slide reads them."""
        shop, fine = self.job.shop, self.coarse_lattice(tool)
        wish = 0.1 if shop.unit == 1.0 else 0.005 * shop.unit

        def coarser(step: float, slide: Slide) -> float:
            return step * max(1, math.floor(wish / abs(slide.factor) / step + 1e-6))

        return Lattice(fine.x0, coarser(fine.dx, shop.coarse), fine.y0, coarser(fine.dy, shop.cross))

    def admits(self, tool: Tool, x: float) -> bool:
        """Whether the nose may stand at x, high enough: anywhere, but in a bay."""
        return True

    def this_half(self, x: Floats) -> np.ndarray:
        """Which of these x lie on this half of the work: all, but where a bay is seen that begins on the axis."""
        return np.ones(len(x), dtype=bool)

    def axis_settings(self, tool: Tool, x: Floats, y: Floats) -> np.ndarray:
        """Which of these nose centres stand as near the axis as the grid allows."""
        return np.asarray(np.abs(y - self.lattice(tool).y_up(0.0)) < 1e-9)

    def place(self, x: float, y: float) -> Point:
        """A point of this frame as (z, r)."""
        return Point(x, self.sign * y)

    def figure(self, slide: Slide, tool: Tool, x: float, y: float) -> float:
        """What a slide reads with the nose centre at (x, y)."""
        ref_x, ref_y = tool.reference
        return slide.figure(x + ref_x if slide.name != "cross" else self.sign * (y + ref_y))

    def height(self, x: Floats, tool: Tool, spare: float = 0.0) -> Floats:
        """Least height of the nose centre at each x (rising, even, closely spaced), `spare` mm clear of the part."""
        height = tool.edge.clear_of(self.obstacles, x, spare)
        if self.centre is not None:
            height = np.maximum(height, tool.edge.clear_of(self.centre.chain, x, spare))
        if self.sign < 0:
            height = np.where(x > self.front_of_part, np.maximum(height, self.face_floor(tool)), height)
        return np.maximum(height, self._body_height(x, tool))

    @cached_property
    def front_of_part(self) -> float:
        """The foremost place of the outline, x."""
        return self._bounds[2]

    @shared
    def _bounds(self) -> tuple[float, float, float, float]:
        return self.outline.bounds()

    def _body_height(self, x: Floats, tool: Tool) -> Floats:
        """Least height of the nose centre at which shank and boring bar clear the metal, the blank uncut."""
        height = np.full_like(x, -np.inf)
        for body in tool.bodies:
            height = np.maximum(height, body.height(x, self._part_top, self._before_any_cut))
        return height

    def _part_top(self, x: Floats) -> Floats:
        """The height of the finished part and the bar at each x (rising)."""
        return contact_height(self.obstacles, x, POINT, UPRIGHT)

    def _before_any_cut(self, x: Floats) -> Floats:
        """The height of the blank at each x, the centre included."""
        ground = self.blank_top(x)
        return ground if self.centre is None else np.maximum(ground, self.centre.height(x))

    @cached_property
    def slants(self) -> dict[Any, Any]:
        """The passes along cones that were looked for, by tool and piece (`stations.taper`)."""
        return {}

    @shared
    def _lines(self) -> dict[tuple[Tool, float], ContactLine]:
        return {}

    def contact_line(self, tool: Tool, spare: float = 0.0) -> ContactLine:
        """The contact line of a tool over the whole part, at its columns and close places between them."""
        key = (tool, spare)
        if key not in self._lines:
            lattice, margin = self.lattice(tool), tool.nose_radius + tool.extent + 2.0
            first = lattice.column_at(self.back - margin, False)
            last = lattice.column_at(max(self.front, self.front_of_part) + margin, True)
            finer = max(1, math.ceil(lattice.dx / FINE))
            x = lattice.x0 + lattice.dx * np.arange(first * finer, last * finer + 1) / finer
            self._lines[key] = ContactLine(x, self.height(x, tool, spare), first, finer, tool.lowest[1])
        return self._lines[key]


def whole(view: View) -> Frame:
    """A view that is the whole job's: a bay has no end face."""
    assert isinstance(view, Frame)
    return view
