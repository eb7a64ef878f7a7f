"""An outline with a dome, a taper, a cove and a shoulder, and form tools to go over it."""

from ovolo.geometry.segments import Arc, Line, Point, Segment

OUTLINE: list[Segment] = [
    Arc(Point(0, 0), Point(-9, 9), Point(-9, 0), True),
    Line(Point(-9, 9), Point(-15, 9)),
    Line(Point(-15, 9), Point(-18, 7)),
    Arc.from_radius(Point(-18, 7), Point(-26, 7), 6, ccw=False),
    Line(Point(-26, 7), Point(-26, 12)),
    Line(Point(-26, 12), Point(-40, 12)),
]
ROUND: list[Segment] = [Arc(Point(-3, 0), Point(3, 0), Point(0, 0), True)]
TOOLS: dict[str, list[Segment]] = {
    "round": ROUND,
    "vee": [Line(Point(0, 4), Point(2, 0)), Line(Point(2, 0), Point(2.5, 0)), Line(Point(2.5, 0), Point(4.5, 4))],
    "chamfer": [Line(Point(0, 5), Point(5, 0)), Line(Point(5, 0), Point(7, 0))],
    "60 degrees of arc": [Arc.from_radius(Point(0, 0), Point(8, 0), 8, ccw=True)],
    "bull nose": [
        Arc(Point(0, 1), Point(1, 0), Point(1, 1), True),
        Line(Point(1, 0), Point(3, 0)),
        Arc(Point(3, 0), Point(5.5, 2.5), Point(3, 2.5), True),
    ],
    "square": [Line(Point(0, 0), Point(3, 0))],
}
