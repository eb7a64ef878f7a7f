"""Published shapes as forms: ball knobs DIN 319, centre holes form R, Morse tapers, undercuts DIN 509.

The figures and where they were read stand in `ovolo.part.published`.
"""

from __future__ import annotations

import math
from typing import Literal

from ovolo.geometry.segments import Arc, Line, Point
from ovolo.part import published
from ovolo.part.forms.chain import Chain, refuse
from ovolo.part.forms.corners import undercut
from ovolo.part.forms.ends import ball
from ovolo.part.forms.straight import taper


def ball_knob(chain: Chain, *, diameter: float) -> Chain:
    """A ball knob to DIN 319 of 12, 16, 20, 25, 32, 40 or 50 mm, from its crown to the flat that carries the thread.

    The flat follows from the height of the table, so that the ball is a true one; it lies up to 1 mm from the flat
    printed there. Source: DIN 319 for the range of sizes; the heights are from memory.

    >>> round(2 * ball_knob(Chain(), diameter=20).end.y, 3)
    12.0
    """
    knob = published.ball_knob(diameter, "diameter")
    return ball(chain, diameter=diameter, neck=knob.flat_from_height)


def centre_hole_r(chain: Chain, *, pilot: float) -> Chain:
    """A centre hole of form R (curved seat) from its mouth to the end of its pilot, by the pilot's diameter, mm.

    The seat is drawn as an arc of the mean of the two radii allowed, over the chord of the 60° cone between the same
    ends; the chord is our choice, the standard gives radius, mouth and pilot. Where the depth of the table is not
    known the pilot is drawn as deep as it is wide. Bore work.
    Source: DIN 332-1:1986 form R, seen in part; radii from ISO 2541, from memory.

    >>> hole = centre_hole_r(Chain(surface="bore"), pilot=2)
    >>> hole.start.y, hole.end
    (2.125, Point(x=-3.7, y=1.0))
    """
    if chain.surface != "bore" or chain.end is not None:
        refuse("form", "centre hole R", "a centre hole starts a bore", 'Write surface = "bore" and put it first')
    hole = published.radius_centre_hole(pilot, "pilot")
    chain, here = chain.began(hole.mouth)
    foot = Point(here.x - (hole.mouth - pilot) / 2 / math.tan(math.pi / 6), pilot / 2)
    seat = Arc.from_radius(here, foot, (hole.radius_most + hole.radius_least) / 2, ccw=False)
    depth = -foot.x + pilot if hole.depth is None else hole.depth
    return chain.then(seat, Line(foot, Point(here.x - depth, pilot / 2)))


def morse_taper(chain: Chain, *, number: int) -> Chain:
    """The plug of a Morse taper, 0 to 6, from its small end to the gauge line.

    Source: two shop tables of gauge diameter, small diameter and plug length, which agree; in inches.

    >>> end = morse_taper(Chain(), number=2).end
    >>> round(end.y * 2, 3), round(-end.x, 4)
    (17.78, 65.0875)
    """
    row = published.morse_taper(number, "number")
    return taper(chain, diameter=row.small, to_diameter=row.gauge, length=row.plug)


def standard_undercut(
    chain: Chain,
    *,
    kind: Literal["E", "F"],
    load: Literal["normal", "fatigue"] | None = None,
    radius: float | None = None,
    depth: float | None = None,
    width: float | None = None,
    face_depth: float | None = None,
) -> Chain:
    """An undercut to DIN 509: by its sizes, mm, or where none is given by the diameter of the shaft and its load.

    Source: DIN 509, extract of the 1998-06 edition and two pages with the later table. "E 0.6 × 0.3" is radius ×
    depth, not width × depth.

    >>> from ovolo.part.forms import cylinder, face
    >>> pin = face(standard_undercut(cylinder(Chain(), diameter=20, length=30), kind="E"), diameter=30)
    >>> round(min(s.end.y for s in pin.segments), 3)
    9.7
    """
    sizes = {"radius": radius, "depth": depth, "width": width}
    if all(v is None for v in (*sizes.values(), face_depth)):
        row = published.undercut(_shaft(chain), fatigue=load == "fatigue", where="load" if load else "form")
        radius, depth, width, face_depth = row.radius, row.depth, row.width, row.face_depth if kind == "F" else None
    elif load is not None:
        refuse("load", load, "the load chooses sizes, and sizes are given too", "Leave the load or the sizes out")
    if radius is None or depth is None or width is None:
        missing = next(name for name in sizes if sizes[name] is None)
        refuse(missing, None, "some sizes of the undercut are given, but not this one", "Write it, or none of them")
    return undercut(chain, kind=kind, radius=radius, depth=depth, width=width, face_depth=face_depth)


def _shaft(chain: Chain) -> float:
    """The diameter of the shaft that has just been drawn."""
    if chain.end is None:
        says = "it stands first, where there is no shaft yet"
        refuse("form", "undercut", says, "Put it between a cylinder and a face")
    return 2 * chain.end.y
