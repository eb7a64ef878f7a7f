"""How wide the tiles of the sweep are: time to sweep a long wavy part with some 400 settings.

Run: .venv/bin/python -m design.tile_width
Why 4 nose radii: with one tile (the last row) every move pays for the whole part; narrow tiles make the long roughing
passes touch many. Between 2 and 16 radii it hardly matters.
"""

import math
import time

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.part import Part
from ovolo.plan.model import Job
from ovolo.plan.stations.choose_tools import assign, reach_of
from ovolo.plan.sweep import stock_strips as tiles
from ovolo.plan.sweep import sweep
from ovolo.plan.toolpath.plan_moves import lay_down
from ovolo.plan.view.frame import Frame
from ovolo.shop.shop import Shop, Stock
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool

WIDTHS = (0.5, 1.0, 2.0, 4.0, 16.0, 64.0, 1e6)
WAVES, RADIUS, LENGTH = 50, 10.0, 3.5


def wavy() -> Job:
    """A row of tangent arcs, hollow and bulging in turn, mm."""
    half, x, y, segments = LENGTH / RADIUS / 2, 0.0, 15.0, list[Segment]()
    for i in range(WAVES):
        side = 1 if i % 2 == 0 else -1  # bulging, then hollow
        a, b = math.pi - side * half, math.pi + side * half
        centre = Point(x - side * RADIUS * math.sin(a), y + side * RADIUS * math.cos(a))
        end = Point(centre.x + side * RADIUS * math.sin(b), centre.y - side * RADIUS * math.cos(b))
        segments.append(Arc(Point(x, y), end, centre, side > 0))
        x, y = end
    segments.append(Line(Point(x, y), Point(x - 12, y)))
    part = Part(Outline(tuple(segments)), "outside", "", (0.0, x), 0.015)
    slides = Slide("cross", "diameter", "out", 0.01), Slide("saddle", "radius", "away", 0.005)
    return Job("waves", part, Shop(Stock(16.5, 0, 0.5), (Tool("round nose 2", "round", 1.0),), *slides))


def main() -> None:
    """Print the time of a sweep for each width, the best of three."""
    job = wavy()
    frame = Frame(job)
    assignment = assign(frame, [reach_of(frame, tool, job.part.ridge) for tool in job.shop.tools], job.part.ridge)
    assert assignment is not None
    steps = lay_down(frame, assignment, job.shop.tools).steps
    print(f"{len(steps)} moves\n{'radii':>9} {'sweep ms':>9}")
    for width in WIDTHS:
        tiles.TILE = width
        times = []
        for _ in range(3):
            began = time.perf_counter()
            sweep.sweep(frame, steps)
            times.append(time.perf_counter() - began)
        print(f"{width:9.1f} {min(times) * 1e3:9.1f}")


if __name__ == "__main__":
    main()
