"""Draw the pictures that explain, from plans that the program makes itself.

    .venv/bin/python docs/theory/make_pictures.py [FOLDER]

Every picture is one function that returns an SVG; nothing in them is drawn by eye but where the words stand.
"""

from __future__ import annotations

import functools
import math
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.documents.reading import job_from_data, read_job
from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan
from ovolo.plan.planner import make_plan
from ovolo.plan.sweep.remaining import left_standing
from ovolo.plan.sweep.sweep import bar_region, blank_region, part_region, tool_shape
from ovolo.plan.view.frame import Frame
from ovolo.plan.view.undercut_frame import side_tool, side_views
from ovolo.plan.view.undercuts import bays
from ovolo.shop.tools import Tool
from ovolo.show.paper.shapes import Place, exact_path, hatching, on_paper, region_path, tool_path
from ovolo.show.paper.style import style
from ovolo.show.paper.svg import XY, Anchor, arrow, circle, clip, document, group, line, path, polyline, rect, text

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
PICTURES_GO = ROOT / "docs" / "pictures"
SIZE = 3.6
"""Type, mm."""


@functools.cache
def planned(name: str, ridge: float | None = None) -> Plan:
    """The plan of an example."""
    return make_plan(read_job(EXAMPLES / f"{name}.toml"), ridge=ridge)


# ---- pieces of pictures


def sheet(width: float, height: float, title: str, description: str, body: Iterable[str]) -> str:
    """A picture on paper."""
    return document(width, height, title, description, [rect(0, 0, width, height, "ground"), *body], style("paper"))


def window(name: str, left: float, top: float, width: float, height: float, items: Iterable[str]) -> str:
    """Pieces that are cut off at a frame."""
    return clip(name, rect(left, top, width, height, "")) + group(list(items), clip_to=name)


def metal(region: BaseGeometry, place: Place) -> list[str]:
    """Hatched metal with its edge."""
    paper = on_paper(region, place)
    return [path(hatching(paper), "hatch"), path(exact_path(region, place), "cut")]


def filled(region: BaseGeometry, place: Place, cls: str) -> str:
    return path(exact_path(region, place), cls)


def red(region: BaseGeometry, place: Place, pitch: float = 1.1) -> list[str]:
    """Metal that still has to go."""
    paper = on_paper(region, place)
    return [path(region_path(paper), "to-go"), path(hatching(paper, pitch, -45.0), "to-go-hatch")]


def points(place: Place, xy: Iterable[tuple[float, float]]) -> list[XY]:
    return [place.at(x, y) for x, y in xy]


def leader(words: str, at: XY, tip: XY, cls: str = "") -> list[str]:
    """Words with a line to what they name, that ends in a dot."""
    side: Anchor = "start" if at[0] >= tip[0] else "end"
    gap = 1.2 if side == "start" else -1.2
    return [
        line(tip, at, "thin"),
        circle(tip, 0.5, "arrow"),
        text((at[0] + gap, at[1]), words, SIZE, cls=f"halo {cls}".strip(), anchor=side),
    ]


def both_ways(a: XY, b: XY) -> list[str]:
    """A dimension line."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    return [line(a, b, "thin"), arrow(b, (dx, dy)), arrow(a, (-dx, -dy))]


def nose_at(tool: Tool, nose: Point, place: Place, length: float = 14.0, *, bore: bool = False) -> list[str]:
    """A tool with its nose centre marked."""
    d = tool_path(tool, nose, place, length, bore=bore)
    return [path(d, "tool-fill"), path(d, "tool"), cross(place.at(*nose))]


def cross(at: XY, size: float = 1.0) -> str:
    (x, y) = at
    return line((x - size, y), (x + size, y), "tool-thin") + line((x, y - size), (x, y + size), "tool-thin")


def track(tool: Tool, move: Move) -> BaseGeometry:
    """What a tool sweeps on a move."""
    shape = tool_shape(tool)
    ends = np.vstack([shape + np.asarray(move.start), shape + np.asarray(move.end)])
    return shapely.MultiPoint(ends).convex_hull


# ---- the pictures


def frame() -> str:
    """The frame: z along the spindle, r from the axis, outline, stock, reference point."""
    plan = planned("bridge-pin")
    frame = Frame(plan.job)
    place = Place(112.0, 78.0, 3.6)
    part, blank = part_region(frame), shapely.union(blank_region(frame), bar_region(frame))
    tool = plan.tools[0]
    nose = Point(3.4, 9.4)
    ref = Point(nose.x + tool.reference[0], nose.y + tool.reference[1])
    x, y = place.at(0, 0)
    stock = shapely.clip_by_rect(blank, -27, 0, 20, 30)
    body = [
        window("frame", 8, 4, 132, 80, [*metal(shapely.clip_by_rect(part, -27, 0, 5, 30), place)]),
        path(exact_path(stock, place), "stock"),
        line((10, y), (x + 27, y), "axis"),
        *nose_at(tool, nose, place, 9.0),
        line((x, y), (x + 20, y), "thin"),
        arrow((x + 20, y), (1, 0)),
        text((x + 22.5, y - 3), "z", SIZE + 1, cls="strong halo"),
        line((x, y), (x, 8), "thin"),
        arrow((x, 8), (0, -1)),
        text((x + 2, 9), "r", SIZE + 1, cls="strong halo"),
        circle(place.at(*ref), 0.8, "red-dot"),
        *leader("reference point: what the figures mean", (100, 91), place.at(*ref), "red"),
        *leader("nose centre", (x + 27, 34), place.at(*nose), "blue"),
        *leader("finished end: z = 0", (x + 16, 68), place.at(0, 1.5)),
        *leader("outline", (58, 22), place.at(-9 + 9 * math.cos(1.2), 9 * math.sin(1.2))),
        *leader("bar as it was", (40, 14), place.at(-18, 10)),
        text((12, y + 6), "toward the chuck: z falls", SIZE, cls="faint"),
        arrow((9, y + 6), (-1, 0)),
    ]
    words = "Half-section of a pin: axes, outline, bar, nose centre and reference point."
    return sheet(172, 98, "The frame", words, body)


def reach() -> str:
    """Reach: the contact line of a nose too wide for a fillet, and what it can't take."""
    job = planned("winch-lever").job
    frame, tool = Frame(job), Tool("round nose 9", "round", 4.5)
    x = np.arange(-34.0, 5.0, 0.01)
    height = np.maximum(frame.height(x, tool), 0.0)
    shape = tool_shape(tool)
    hulls = [
        shapely.MultiPoint(np.vstack([shape + a, shape + b])).convex_hull
        for a, b in zip(np.c_[x, height][:-1:6], np.c_[x, height][6::6], strict=False)
    ]
    # A hull of two touching places dips into a hollow by less than a micron at this spacing.
    room = shapely.union_all(hulls)
    part = part_region(frame)
    blank = shapely.clip_by_rect(blank_region(frame), -32, 0, 1, 30)
    left = shapely.buffer(shapely.buffer(shapely.difference(shapely.difference(blank, part), room), -0.01), 0.01)
    place = Place(132.0, 84.0, 3.8)
    bar = shapely.clip_by_rect(bar_region(frame), -36, 0, 0, 30)
    at = -14.5
    nose = Point(at, float(np.interp(at, x, height)))
    low = place.at(0, 0)[1]
    deep = shapely.clip_by_rect(left, -24, 0, 1, 30).representative_point()
    body = [
        window(
            "reach",
            4,
            4,
            152,
            84,
            [
                *metal(shapely.union(part, bar), place),
                *red(left, place),
                path(polyline(points(place, zip(x[::4], height[::4], strict=True))), "ghost"),
                *nose_at(tool, nose, place, 9.0),
            ],
        ),
        line((4, low), (160, low), "axis"),
        *leader(
            "contact line: the nose centre's limit",
            (106, 14),
            place.at(-7.0, float(np.interp(-7.0, x, height))),
            "blue",
        ),
        *leader("out of reach", (66, 92), place.at(deep.x, deep.y), "red"),
        *leader("bar behind: an obstacle", (14, 18), place.at(-33, 9.6)),
    ]
    words = "A ball on a neck with a nose of R 4.5: the contact line runs over ball and neck, the fillet stays full."
    return sheet(182, 98, "Reach", words, body)


def bay() -> str:
    """A bay: what no tool sees from above, the mouth beside the lip, and a leaning knife that reaches it from there."""
    plan = planned("pawl-knob")
    frame = Frame(plan.job)
    tool = next(tool for tool in plan.tools if tool.hand == "left")
    (bay,) = bays(frame.chain)
    (view,) = side_views(frame)
    turned = side_tool(tool, bay.way)
    assert turned is not None
    mouth = view.mouth(turned)
    assert mouth is not None
    part = shapely.clip_by_rect(part_region(frame), -21, 0, 1, 30)
    lip_x, lip_y = (float(v[0]) for v in frame.chain.points(np.array([bay.first])))
    shade = shapely.difference(shapely.box(lip_x, 8.0, lip_x + 1.2, lip_y), part_region(frame))
    place = Place(130.0, 98.0, 5.4)
    stands = next(move.end for move in reversed(plan.moves) if move.station is not None and move.end.y < 9.5)
    x, low = place.at(lip_x, 0)[0], place.at(0, 0)[1]
    top = place.at(lip_x, lip_y)[1]
    lean = place.at(-8.4, 11.8)
    body = [
        window(
            "bay",
            4,
            4,
            168,
            98,
            [
                *metal(part, place),
                *red(shade, place, 0.9),
                *nose_at(tool, Point(mouth.x, mouth.lowest), place, 16.0),
                path(tool_path(tool, stands, place, 16.0, bore=False), "ghost"),
            ],
        ),
        line((4, low), (174, low), "axis"),
        line((x, 4), (x, top), "thin"),
        *leader("behind this line nothing is met from above", (x + 10, 9), (x, 12)),
        *leader("bay: the outline leans over", (122, 22), lean, "red"),
        *leader("mouth: the nose clear of the lip", (66, 103), place.at(mouth.x, mouth.lowest), "blue"),
        *leader("in it, at a setting", (104, 103), place.at(*stands), "blue"),
    ]
    words = (
        "A hollow behind the rim of a knob: a leaning left-hand knife comes down beside the rim and works in under it."
    )
    return sheet(182, 109, "A bay", words, body)


def ridge() -> str:
    """Two settings and the ridge between them; the parallel at the ridge asked for."""
    big, small, gap, asked = 10.0, 3.0, 1.5, 0.13
    place = Place(80.0, 352.0, 29.0)
    phi = gap / 2 / big
    noses = [Point((big + small) * math.sin(a), (big + small) * math.cos(a)) for a in (-phi, phi)]
    tool = Tool("round nose 6", "round", small)
    disc = shapely.Point(0, 0).buffer(big, quad_segs=2000)
    over = shapely.Point(0, 0).buffer(big + 0.42, quad_segs=2000)
    cut = shapely.union_all([shapely.Point(n).buffer(small, quad_segs=2000) for n in noses])
    box = shapely.box(-2.0, big - 1.0, 2.0, big + 2)
    rest = shapely.intersection(shapely.difference(shapely.difference(over, disc), cut), box)
    between = shapely.intersection(rest, shapely.box(-gap / 2, 0, gap / 2, 20))
    top = max(y for x, y in shapely.get_coordinates(between))
    arc = np.linspace(-0.25, 0.25, 60)
    parallel = points(place, (((big + asked) * math.sin(a), (big + asked) * math.cos(a)) for a in arc))
    sides = shapely.difference(rest, between)
    body = [
        window(
            "ridge",
            10,
            4,
            140,
            92,
            [
                *metal(shapely.intersection(disc, box), place),
                *red(between, place, 0.8),
                path(hatching(on_paper(sides, place), 1.1, -45.0), "to-go-hatch"),
                path(polyline(parallel), "limit"),
                *[p for n in noses for p in nose_at(tool, n, place, 4.0)],
            ],
        ),
        *leader(f"ridge, {top - big:.3f} mm here", (100, 96), place.at(0, (big + top) / 2), "red"),
        *leader("the most that may stay", (154, 84), parallel[-2], "red"),
        *leader("finished outline, R 10", (56, 96), place.at(-1.35, math.sqrt(big**2 - 1.35**2))),
        *[text((80 + 104 * (k - 1.5), 40), f"setting {k}", SIZE, cls="blue halo", anchor="middle") for k in (1, 2)],
    ]
    words = "Two settings of a nose of R 3 on a curve of R 10 leave a ridge between them."
    return sheet(200, 102, "What two settings leave", words, body)


def grid() -> str:
    """The readout's grid next to the contact line, coarse enough to be seen."""
    data = {
        "title": "grid",
        "part": {"outline": [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}], "curve": [0, -9]},
        "stock": {"diameter": 20},
        "tool": [{"name": "round nose 6", "kind": "round", "nose_radius": 3}],
        "finish": {"ridge": 0.25},
        "slide": {"cross": {"count": 0.8}, "saddle": {"count": 0.4}},
    }
    plan = make_plan(job_from_data(data))
    frame, tool = Frame(plan.job), plan.tools[0]
    lattice, sz = frame.lattice(tool), 11.0
    place = Place(112.0, 142.0, sz)
    x = np.arange(-10.0, 3.0, 0.01)
    height = np.maximum(frame.height(x, tool), 0.0)
    view = (-7.9, 5.6, 3.2, 12.6)
    dots = []
    for i in range(-60, 60):
        for j in range(60):
            px, py = lattice.x0 + i * lattice.dx, lattice.y0 + j * lattice.dy
            if view[0] < px < view[2] and view[1] < py < view[3]:
                free = py >= np.interp(px, x, height) - 1e-9
                dots.append(circle(place.at(px, py), 0.45 if free else 0.3, "way" if free else "mark"))
    chosen = [m.end for m in plan.moves if m.station and view[0] < m.end.x < view[2] and view[1] < m.end.y < view[3]]
    shown = [place.at(*p) for p in chosen]
    label = min(shown, key=lambda p: abs(p[0] - 70) + abs(p[1] - 40))
    curve = points(place, ((a, b) for a, b in zip(x[::3], height[::3], strict=True) if view[0] < a < view[2]))
    outline = exact_path(shapely.clip_by_rect(part_region(frame), view[0], view[1] - 2.5, view[2], 30), place)
    body = [
        window(
            "grid",
            6,
            4,
            148,
            90,
            [path(outline, "cut"), path(polyline(curve), "ghost"), *dots, *[circle(p, 1.5, "red") for p in shown]],
        ),
        *leader("contact line", (142, 92), place.at(1.55, float(np.interp(1.55, x, height))), "blue"),
        *leader("a setting chosen", (label[0] + 18, 5), (label[0] + 0.9, label[1] - 1.2), "red"),
        *leader("outline", (60, 88), place.at(-6.0, math.sqrt(81 - 9))),
    ]
    words = "Points that both slides can be set to, the contact line between them, and the settings chosen."
    return sheet(172, 98, "The readout's grid", words, body)


def roughing() -> str:
    """The cuts of roughing, each with its number, and the allowance that they leave."""
    plan = planned("bridge-pin")
    frame, tool = Frame(plan.job), plan.tools[0]
    place = Place(132.0, 86.0, 7.4)
    part = part_region(frame)
    rest: BaseGeometry = shapely.clip_by_rect(blank_region(frame), -16, 0, 5, 30)
    items, names = [], []
    for k, move in enumerate(m for m in plan.moves if m.stage == "rough" and m.cuts):
        chip = shapely.intersection(rest, track(tool, move))
        rest = shapely.difference(rest, track(tool, move))
        items += [filled(chip, place, "tool-fill" if k % 2 else "ground"), path(exact_path(chip, place), "tool-thin")]
        biggest = max(shapely.get_parts(chip), key=lambda g: g.area)
        names.append((biggest, move.n))
    left = shapely.difference(rest, part)
    body = [
        window(
            "rough",
            6,
            4,
            148,
            86,
            [*items, *red(left, place, 0.9), *metal(shapely.clip_by_rect(part, -16, 0, 5, 30), place)],
        ),
        line((6, 86), (150, 86), "axis"),
        *_numbers(names, place),
        *leader("allowance and what roughing could not take", (100, 93), place.at(-3.2, 6.9), "red"),
    ]
    words = "Each roughing cut of the bridge pin with the number of its move; what is left stands in red."
    return sheet(160, 98, "Roughing", words, body)


def _numbers(chips: list[tuple[BaseGeometry, int]], place: Place) -> list[str]:
    out = []
    for chip, n in chips:
        inside = chip.buffer(-0.2)
        if inside.is_empty:  # too narrow for a figure: beside it
            right, high = chip.bounds[2], chip.bounds[3]
            out += leader(str(n), place.at(right + 0.6, high - 0.8), place.at(right - 0.1, high - 1.4))
            continue
        at = inside.representative_point()
        out.append(text(place.at(at.x, at.y), str(n), 2.6, cls="halo", anchor="middle"))
    return out


def staircase() -> str:
    """The way of the nose centre in finishing: two staircases that meet."""
    plan = planned("bridge-pin")
    frame = Frame(plan.job)
    place = Place(122.0, 98.0, 6.6)
    moves = [m for m in plan.moves if m.stage == "finish"]
    inside = shapely.box(-13.5, -0.4, 3.5, 14.2)
    ways = []
    for m in moves:
        if shapely.LineString([m.start, m.end]).within(inside):
            a, b = place.at(*m.start), place.at(*m.end)
            ways.append(line(a, b, "tool" if m.cuts else "tool-thin"))
            if math.dist(a, b) > 3.2:
                ways.append(arrow(b, (b[0] - a[0], b[1] - a[1]), 1.8))
    stations = [
        circle(place.at(*m.end), 0.8, "red-dot") for m in moves if m.station and inside.contains(shapely.Point(m.end))
    ]
    seen = [m for m in moves if m.station]
    inward = next(m for m in seen if m.station == 5)
    outward = next(m for m in seen if m.station == 12)
    part = shapely.clip_by_rect(part_region(frame), -14, 0, 5, 30)
    body = [
        window("stairs", 6, 4, 150, 96, [*metal(part, place), *ways, *stations]),
        line((6, 98), (156, 98), "axis"),
        *leader("saddle back, cut in", (144, 60), place.at(*inward.end), "blue"),
        *leader("cross out, cut along", (60, 30), place.at(*outward.end), "blue"),
    ]
    words = "The way of the nose centre over the dome of the bridge pin. Dots are settings, thick lines are cuts."
    return sheet(192, 104, "Two staircases", words, body)


def prediction() -> str:
    """What the sweep finds along the curve: the height of the ridges against the place."""
    plan = planned("bridge-pin")
    frame, tool = Frame(plan.job), plan.tools[0]
    rest: BaseGeometry = blank_region(frame)
    for move in plan.moves:
        way = track(tool, move)
        over = shapely.affinity.scale(shapely.clip_by_rect(way, -99, -99, 99, 0), 1, -1, origin=(0, 0))
        rest = shapely.difference(rest, shapely.union(way, over) if not over.is_empty else way)
    u, height, _ = left_standing(frame, rest)
    edges = np.arange(0.0, float(u.max()) + 0.02, 0.02)  # of the border, the side in the air: the highest in each strip
    strip = np.digitize(u, edges)
    height = np.array([height[strip == k].max() for k in np.unique(strip)])
    u = edges[np.unique(strip) - 1]
    left, low, across, up = 22.0, 78.0, 128.0, 1250.0
    scale = across / float(u.max())
    xy = [(left + scale * a, low - up * b) for a, b in zip(u, height, strict=True)]
    asked = low - up * plan.job.part.ridge
    ticks = [0.0, 0.01, 0.02, 0.03, 0.04, 0.05]
    body = [
        path(polyline([(left, low), *xy, (xy[-1][0], low)]) + "Z", "to-go"),
        path(polyline(xy), "red"),
        line((left, low), (left + across, low), "thin"),
        line((left, low), (left, 10), "thin"),
        *[text((left - 2, low - up * t), f"{t:.2f}", SIZE, anchor="end") for t in ticks],
        *[line((left - 1, low - up * t), (left, low - up * t), "thin") for t in ticks],
        *[text((left + scale * s, low + 5), f"{s}", SIZE, anchor="middle") for s in range(0, 15, 2)],
        *[line((left + scale * s, low), (left + scale * s, low + 1), "thin") for s in range(0, 15, 2)],
        line((left, asked), (left + across, asked), "limit"),
        text((left + across, asked - 3), "asked for: 0.05", SIZE, cls="red", anchor="end"),
        text((left, 7), "left above the outline, mm", SIZE),
        text((left + across, low + 10), "along the curve from the tip, mm", SIZE, anchor="end"),
    ]
    words = "Height of the ridges along the dome of the bridge pin, from the sweep of its plan."
    return sheet(160, 94, "What will be left", words, body)


def reference() -> str:
    """Reference points of a round nose, a right- and a left-hand knife, and a boring bar."""
    tools = (
        ("round nose", Tool("", "round", 2.2), False),
        ("right-hand knife", Tool("", "pointed", 2.2), False),
        ("left-hand knife", Tool("", "pointed", 2.2, hand="left"), False),
        ("boring bar", Tool("", "pointed", 2.2), True),
    )
    body: list[str] = []
    for k, (name, tool, bore) in enumerate(tools):
        place = Place(20.0 + 40 * k, 38.0 if bore else 44.0, 4.0)
        (rx, ry), side = tool.reference, -1 if bore else 1
        ref = place.at(rx, side * ry)
        body += [
            window(f"ref{k}", 2 + 40 * k, 10, 38, 58, nose_at(tool, Point(0, 0), place, 8.0, bore=bore)),
            line((ref[0], ref[1] - 14), (ref[0], ref[1] + 14), "hair"),
            line((ref[0] - 9, ref[1]), (ref[0] + 9, ref[1]), "hair"),
            circle(ref, 0.9, "red-dot"),
            text((20.0 + 40 * k, 6), name, SIZE, cls="strong", anchor="middle"),
        ]
    body += [
        text(
            (4, 73),
            "Chuck on the left. The dot is what the figures mean, the cross is the nose centre.",
            SIZE,
            cls="faint",
        )
    ]
    words = "Where the reference point lies on four kinds of tool."
    return sheet(162, 78, "Reference points", words, body)


def height() -> str:
    """What an error of height does: the radius cut is the long side of a right triangle."""
    place = Place(62.0, 46.0, 30.0)
    x, h = 1.2, 0.55
    rho = math.hypot(x, h)
    o, tip, foot = place.at(0, 0), place.at(x, -h), place.at(x, 0)
    body = [
        circle(o, 30 * rho, "edge"),
        circle(o, 30 * h, "limit"),
        line((o[0] - 46, o[1]), (o[0] + 50, o[1]), "axis"),
        line((o[0], 4), (o[0], 92), "axis"),
        path(
            polyline([tip, (tip[0] + 44, tip[1] + 5), (tip[0] + 44, tip[1] + 16), (tip[0] + 3, tip[1] + 16)]) + "Z",
            "tool-fill",
        ),
        path(polyline([(tip[0] + 44, tip[1] + 5), tip, (tip[0] + 3, tip[1] + 16)]), "tool"),
        line(o, tip, "red"),
        line(foot, tip, "thin"),
        text(
            (0.25 * o[0] + 0.75 * tip[0] - 2, 0.25 * o[1] + 0.75 * tip[1] + 4),
            "ρ",
            SIZE + 1,
            cls="strong halo red",
            anchor="middle",
        ),
        text(((o[0] + foot[0]) / 2 + 7, o[1] - 3), "x", SIZE + 1, cls="strong halo", anchor="middle"),
        text((foot[0] - 2, (foot[1] + tip[1]) / 2 - 2), "h", SIZE + 1, cls="strong halo", anchor="end"),
        *leader("what is cut: ρ = √(x² + h²)", (108, 14), place.at(rho * math.cos(0.75), rho * math.sin(0.75))),
        *leader("the pip: radius h", (112, 88), place.at(h * math.cos(1.2), -h * math.sin(1.2)), "red"),
        text((126, 72), "tool, too low", SIZE, cls="blue", anchor="middle"),
    ]
    words = "Seen along the axis: a tool too low by h, x away from the middle, cuts the radius rho."
    return sheet(160, 96, "Centre height", words, body)


def groove() -> str:
    """The scrap groove that measures a nose."""
    place, r, t = Place(80.0, 40.0, 11.0), 3.0, 1.6
    half = math.sqrt(r * r - (r - t) ** 2)
    nose = Point(0.0, r - t)
    bar = shapely.difference(shapely.box(-6, -4, 6, 0), shapely.Point(nose).buffer(r, quad_segs=400))
    a, b, low = place.at(-half, 0), place.at(half, 0), place.at(0, -t)
    body = [
        window("groove", 12, 4, 136, 76, [*metal(bar, place), *nose_at(Tool("", "round", r), nose, place, 3.0)]),
        *[line((x, y), (x, 12), "hair") for x, y in (a, b)],
        *both_ways((a[0], 14), (b[0], 14)),
        text(((a[0] + b[0]) / 2, 11), "w", SIZE + 1, cls="strong halo", anchor="middle"),
        line(b, (b[0] + 24, b[1]), "hair"),
        line(low, (b[0] + 24, low[1]), "hair"),
        *both_ways((b[0] + 22, b[1]), (b[0] + 22, low[1])),
        text((b[0] + 27, (b[1] + low[1]) / 2), "t", SIZE + 1, cls="strong halo"),
        text((80, 88), "r = (w²/4 + t²) / 2t", SIZE + 1, cls="strong", anchor="middle"),
    ]
    words = "A nose fed straight into scrap leaves a groove of width w and depth t, which give its radius."
    return sheet(160, 94, "Measuring a nose", words, body)


PICTURES: dict[str, Callable[[], str]] = {
    "frame": frame,
    "reach": reach,
    "bay": bay,
    "ridge": ridge,
    "grid": grid,
    "roughing": roughing,
    "staircase": staircase,
    "prediction": prediction,
    "reference": reference,
    "height": height,
    "groove": groove,
}


def main(folder: Path = PICTURES_GO) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for name, draw in PICTURES.items():
        (folder / f"{name}.svg").write_text(draw(), encoding="utf-8")


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:2]))
