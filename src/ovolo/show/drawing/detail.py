"""A detail magnified (ISO 128): the ridges that the plan leaves, in a circle of their own with its scale."""

from dataclasses import dataclass
from itertools import pairwise

import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.toolpath.taper_passes import is_slant
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.layout import Candidate, Layout, box_of
from ovolo.show.paper.shapes import (
    Place,
    common,
    hatching,
    less,
    nice_scale,
    on_paper,
    outline_path,
    region_path,
    scale_text,
)
from ovolo.show.paper.svg import XY, circle, clip, group, line, path, text, text_box
from ovolo.show.words.figures import ridge_text

__all__ = ["Detail", "detail", "detail_scale", "draw_detail", "draw_where", "touches"]

RIDGES = 1.4
"""About so many ridges are shown."""

SIZE = 3.8


@dataclass(frozen=True)
class Detail:
    """What is magnified: round `middle` on the outline, so that about `across` mm are seen."""

    cuts: Cuts
    middle: Point
    across: float
    says: str


def detail(cuts: Cuts) -> Detail:
    """The highest ridge and its neighbours."""
    plan = cuts.plan
    highest = plan.prediction.ridge_at
    across = RIDGES * _spacing(cuts)
    return Detail(cuts, highest, across, f"highest ridge {ridge_text(plan.prediction.ridge_max, plan.job.units)}")


def touches(cuts: Cuts) -> list[Point]:
    """Where the nose lies on the outline, station by station, from the free end toward the chuck."""
    border = shapely.LineString(cuts.plan.job.part.outline.flattened(1e-3))
    made = [move for move in cuts.plan.moves if move.station is not None]
    places = [move.end for move in made if not is_slant(move.start, move.end)]  # a cone is touched all along
    feet = [border.interpolate(border.project(shapely.Point(place))) for place in places]
    return sorted((Point(foot.x, foot.y) for foot in feet), key=lambda p: (-p.x, p.y))


def _spacing(cuts: Cuts) -> float:
    """The widest distance of two neighbouring stations near the highest ridge, mm."""
    places, at = touches(cuts), cuts.plan.prediction.ridge_at
    gaps = [(shapely.LineString([a, b]).distance(shapely.Point(at)), _far(a, b)) for a, b in pairwise(places)]
    near = sorted(gap for gap in gaps if gap[1] > 1e-6)[:2]
    return max((far for _, far in near), default=1.0)


def _far(a: Point, b: Point) -> float:
    return shapely.distance(shapely.Point(a), shapely.Point(b)).item()


def detail_scale(view: Detail, radius: float) -> float:
    """The scale at which the detail fills a circle of this radius on paper."""
    return nice_scale(2 * radius / view.across)


def draw_detail(view: Detail, centre: XY, radius: float, key: str) -> list[str]:
    """The circle with what is in it, its letter and scale above, what it shows below."""
    scale = detail_scale(view, radius)
    place = Place(centre[0] - scale * view.middle.x, centre[1] + scale * view.middle.y, scale)
    seen = shapely.Point(centre).buffer(radius, quad_segs=64)
    rest, part = (common(on_paper(region, place), seen) for region in (view.cuts.left, view.cuts.part))
    above = less(rest, part)
    inside = [
        path(hatching(common(rest, part)), "hatch"),
        path(region_path(above), "to-go"),
        path(hatching(above, 0.8, -45.0), "to-go-hatch"),
        path(region_path(above), "red"),
        path(outline_path(view.cuts.plan.job.part.outline, place), "edge"),
        *(circle(place.at(*p), 0.7, "mark") for p in touches(view.cuts) if seen.contains(shapely.Point(place.at(*p)))),
    ]
    x, y = centre
    head = f"A ({scale_text(scale)})"
    return [
        clip(f"{key}-detail", circle(centre, radius, "")),
        circle(centre, radius, "ground"),
        group(inside, clip_to=f"{key}-detail", label=f"Detail {head}: the ridges left between settings"),
        circle(centre, radius, "thin"),
        text((x, y - radius - 4.0), head, 5.0, cls="strong", anchor="middle"),
        text((x, y + radius + 4.0), view.says, SIZE, anchor="middle"),
    ]


def draw_where(view: Detail, place: Place, radius: float, layout: Layout) -> list[str]:
    """The circle in the drawing that says where the detail is taken from, its letter where there is room."""
    at = place.at(*view.middle)
    seen = max(1.2, radius / detail_scale(view, radius) * place.scale)
    found = layout.first_free(_letter(at, seen, way, reach) for reach in (3.0, 5.0, 8.0, 12.0) for way in _WAYS)
    return [circle(at, seen, "thin"), *(found.pieces if found else ())]


_WAYS = ((0.8, -0.6), (1.0, -0.1), (0.3, -0.95), (-0.5, -0.87), (0.9, 0.44), (-0.9, 0.44), (-0.5, 0.87), (0.5, 0.87))


def _letter(at: XY, seen: float, way: XY, reach: float) -> Candidate:
    near = (at[0] + seen * way[0], at[1] + seen * way[1])
    far = (near[0] + reach * way[0], near[1] + reach * way[1])
    middle = (far[0] + 2.6 * way[0], far[1] + 2.6 * way[1])
    pieces = (line(near, far, "thin"), text(middle, "A", 5.0, cls="strong halo", anchor="middle"))
    return Candidate(pieces, box_of(text_box(middle, "A", 5.0, "middle", strong=True)), ((near, far),))
