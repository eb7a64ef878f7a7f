"""Tools: the cutting outline about the nose centre, and what carries it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from ovolo.geometry.segments import Segment
from ovolo.shop.edges import EDGES, Edge
from ovolo.shop.edges.bodies import Body
from ovolo.shop.edges.boring_bar import BoringBar
from ovolo.shop.edges.nosed import EDGE_LENGTH as EDGE_LENGTH
from ovolo.shop.edges.shank import Shank


@dataclass(frozen=True)
class Tool:
    """A tool of the drawer, as it stands in the holder, for outside work with the chuck on the left; mm, radians.

    Its edges run on from the nose: those of a round nose and of a grooving blade square to the axis. A grooving blade
    is `width` wide with a corner of the nose radius on either side; its nose centre is that of the corner toward the
    chuck. A form tool has a cutting `outline` of its own, about its nose centre from its end toward the chuck to
    its end on the free side; beyond both it runs on square to the axis. Its nose centre is a place of ours,
    `nose_radius` above its lowest place and as far from its end toward the chuck (`form_tools` says how it is chosen).
    `stem` is how far the narrow part stands out of a `shank` of that width; `stands_out` how far the nose stands out of
    a boring bar on the side that cuts: these never touch metal. `plunge` is the widest cut that it may take with its
    whole width, where it has a limit of its own. In a bore the planner mirrors the tool in r.
    """

    name: str
    kind: Literal["round", "pointed", "grooving", "form"]
    nose_radius: float
    hand: Literal["right", "left"] = "right"
    edge_angle: float = math.radians(93)
    point_angle: float = math.radians(55)
    nose_radius_u: float | None = None
    width: float | None = None
    stem: float | None = None
    shank: float | None = None
    stands_out: float | None = None
    outline: tuple[Segment, ...] | None = None
    plunge: float | None = None

    @cached_property
    def edge(self) -> Edge:
        """Its cutting edge: what it touches, takes and leaves. Only documents and words ask for its kind."""
        return EDGES[self.kind](self)

    @cached_property
    def bodies(self) -> tuple[Body, ...]:
        """What of it does not cut and must stay out of metal: its shank, its boring bar."""
        out: list[Body] = []
        if self.stem is not None and self.shank is not None:
            apart = self.edge.toward_end - self.edge.toward_chuck
            out.append(Shank(self.nose_radius, self.shank, self.stem, apart))
        if self.stands_out is not None:
            out.append(BoringBar(self.nose_radius, self.stands_out))
        return tuple(out)

    @property
    def edges(self) -> tuple[float, float]:
        """Directions of the edge on the chuck's side and of the one on the free side, radians from +z.

        >>> [round(math.degrees(a)) for a in Tool("knife", "pointed", 0.4).edges]
        [87, 32]
        """
        return self.edge.directions

    @property
    def reference(self) -> tuple[float, float]:
        """From the nose centre to the reference point, (z, r), mm, for outside work.

        >>> Tool("round nose 6", "round", 3.0).reference
        (-3.0, -3.0)
        """
        return self.edge.reference

    @property
    def extent(self) -> float:
        """How far it stretches along the axis from its nose centre on either side, the farther one, mm."""
        return max(self.edge.toward_chuck, self.edge.toward_end)

    @property
    def lowest(self) -> tuple[float, float]:
        """The ends of its lowest stretch, along the axis from the nose centre, toward the chuck and the free end, mm.

        >>> Tool("blade", "grooving", 0.2, width=3.0).lowest
        (0.0, 2.6)
        """
        return self.edge.lowest

    @property
    def half_width(self) -> float:
        """Half its width along the axis at the height of its nose centre, mm; of a blade, one corner only."""
        return self.edge.half_width

    @property
    def tightest(self) -> float:
        """The least radius that it cuts with, 0 where it has a corner, mm."""
        return self.edge.tightest
