"""What the planner, the sweep and the predictions need of a cutting edge, whatever its kind."""

from __future__ import annotations

from typing import Literal, NamedTuple, Protocol

from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.coverage import Line, Settings, Spans
from ovolo.geometry.segments import Segment

Binds = Literal["bite", "nose", "plunge", "width of the blade", "corner of the blade"]


class Limit(NamedTuple):
    """The widest cut of a move [mm], and what binds it."""

    widest: float
    by: Binds


class Told(Protocol):
    """The figures of a tool, from which its edge is made; mm and radians. `shop.tools.Tool` explains each."""

    @property
    def nose_radius(self) -> float:
        """Of the nose, of the corners of a blade [mm]."""

    @property
    def hand(self) -> Literal["right", "left"]:
        """Of a knife."""

    @property
    def edge_angle(self) -> float:
        """The cutting edge angle of a knife [rad]."""

    @property
    def point_angle(self) -> float:
        """The angle between the two edges of a knife [rad]."""

    @property
    def width(self) -> float | None:
        """Of a blade or a form tool [mm]."""

    @property
    def outline(self) -> tuple[Segment, ...] | None:
        """Of a form tool."""


class Edge(Protocol):
    """A cutting edge about its nose centre, as it stands for outside work with the chuck on the left; mm, radians.

    An outline is a chain walked from the free end toward the chuck, with the air above it.
    """

    # ---- where it is

    @property
    def reference(self) -> tuple[float, float]:
        """From the nose centre to the reference point, (z, r): what the figures of the slides mean [mm]."""

    @property
    def directions(self) -> tuple[float, float]:
        """Of the straight edge on the chuck's side and of the one on the free side, from +z [rad]."""

    @property
    def noses(self) -> tuple[float, ...]:
        """Where the centres of its noses lie along the axis from the nose centre; none where it has no nose [mm]."""

    @property
    def toward_chuck(self) -> float:
        """How far it stretches from its nose centre toward the chuck, at the height of that [mm]."""

    @property
    def toward_end(self) -> float:
        """How far it stretches from its nose centre toward the free end, at the height of that [mm]."""

    @property
    def lowest(self) -> tuple[float, float]:
        """The ends of its lowest stretch along the axis from the nose centre, toward the chuck and the free end."""

    # ---- how it is led

    @property
    def half_width(self) -> float:
        """Half of what it cuts with from one nose centre, along the axis: of a blade one corner only [mm]."""

    @property
    def whole_width(self) -> float:
        """All that it cuts with at once when it is fed straight in; inf where that grows with the depth [mm]."""

    @property
    def tightest(self) -> float:
        """The least radius that it cuts with, 0 where it has a corner."""

    @property
    def follows(self) -> float:
        """The radius by which it is led along an outline in coarse steps."""

    @property
    def cuts_both_ways(self) -> bool:
        """Whether it may be fed along the axis either way."""

    @property
    def only_plunges(self) -> bool:
        """Whether it is only fed in: a load from the side breaks it, and along the axis it does no more than even."""

    @property
    def cuts_away(self) -> bool:
        """Whether it is made to cut away from the chuck."""

    def plunge(self, own: float | None, usual: float) -> float:
        """The widest plunge: the tool's `own` limit where it has one, else the job's `usual` one [mm]."""

    def limit(self, bite: float, plunge: float, *, inward: bool, rough: bool) -> Limit:
        """How wide a move may cut, across the axis (`inward`) or along it, in roughing or in finishing [mm]."""

    def thickest(self, bite: float, plunge: float, *, inward: bool) -> float:
        """How thick a finishing chip may be anywhere [mm]."""

    # ---- what it touches and takes

    def over(self, dx: Floats) -> Floats:
        """Height of its underside over the nose centre at each place from it; inf outside the tool [mm]."""

    def over_way(self, x: Floats, low: float, high: float) -> Floats:
        """The lowest underside over each place (rising) while the nose centre goes level from `low` to `high`, 0."""

    def beside(self, rise: float) -> tuple[float, float]:
        """How far it stretches toward the chuck and the free end, up to `rise` over its lowest place [mm]."""

    def shape(self) -> Floats:
        """Its outline about the nose centre as points of a convex polygon, (n, 2): on the edge or inside it [mm]."""

    def clear_of(self, chain: Chain, x: Floats, spare: float) -> Floats:
        """Least height of the nose centre at each x (rising, even) at which it stays `spare` clear of a chain [mm]."""

    # ---- what it leaves

    def settings(self, chain: Chain, x: Floats, y: Floats, stretch: tuple[float, float]) -> Settings:
        """The settings with the nose centre at these places (rising in x) that touch a stretch of an outline [mm]."""

    def touched(self, chain: Chain, x: Floats, y: Floats, within: float) -> Floats:
        """The places of an outline that it comes nearest to with its nose centre here (rising in x), looked for no
        farther than `within` [mm]."""

    def spans(self, chain: Chain, settings: Settings, ridge: float, line: Line) -> Spans:
        """What each setting covers at a ridge [mm]."""

    def turned(self, quarters: Literal[1, -1]) -> Edge | None:
        """The same seen from a bay, a quarter turn round; None where it can do nothing from there."""
