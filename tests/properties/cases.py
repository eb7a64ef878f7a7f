"""Random jobs that a shop could be given: domes, and outlines of every kind, with drawers, slides and limits.

A die decides everything, so that the same cases serve a search with shrinking (Hypothesis) and a long run by seed.
Outlines are built in mm and written in the job's unit, to a number of decimals that is drawn too: rounded figures make
joints that are not quite tangent, as figures read off a drawing do.
"""

import math
import random
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Any, NamedTuple, Protocol, TypeVar

from hypothesis import strategies as st

Data = dict[str, Any]
T = TypeVar("T")


class Dice(Protocol):
    """Where chance comes from."""

    def between(self, low: float, high: float) -> float:
        """A number in a range."""

    def pick(self, options: Sequence[T]) -> T:
        """One of several."""


class Seeded:
    """Chance by a seed: the same case each time."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)

    def between(self, low: float, high: float) -> float:
        """A number in a range."""
        return self.random.uniform(low, high)

    def pick(self, options: Sequence[T]) -> T:
        """One of several."""
        return self.random.choice(options)


class Drawn:
    """Chance by Hypothesis; `draw` as a composite strategy is given it."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw

    def between(self, low: float, high: float) -> float:
        """A number in a range."""
        return self.draw(st.floats(low, high))

    def pick(self, options: Sequence[T]) -> T:
        """One of several."""
        return self.draw(st.sampled_from(options))


class Node(NamedTuple):
    """A point of an outline, mm, and the arc that leads to it: its radius, more than 0 convex, less concave, 0 none."""

    z: float
    r: float
    bend: float = 0.0


class Shape(NamedTuple):
    """An outline, the stretch of it to finish, and the drawer that should do it."""

    nodes: list[Node]
    curve: tuple[float, float]
    tools: list[Data]
    surface: str = "outside"


# ---- tools
def round_nose(radius: float) -> Data:
    """A nose of full radius between square flanks."""
    return {"name": f"round nose R {radius:g}", "kind": "round", "nose_radius": radius}


def knife(dice: Dice, hand: str, radius: float | None = None) -> Data:
    """A knife with straight edges."""
    radius = dice.pick([0.2, 0.4, 0.8]) if radius is None else radius
    edge, point = dice.pick([91, 93, 95]), dice.pick([35, 55])
    return {
        "name": f"{hand}-hand knife R {radius:g}, {edge}/{point}",
        "hand": hand,
        "nose_radius": radius,
        "edge_angle": edge,
        "point_angle": point,
    }


def knives(dice: Dice) -> list[Data]:
    """One of either hand, of one nose."""
    radius = dice.pick([0.2, 0.4])
    return [knife(dice, "right", radius), knife(dice, "left", radius)]


# ---- the shop
def slides(dice: Dice, unit: str) -> Data:
    """Any convention, coarse or fine counts, readouts and dials."""
    mm = unit == "mm"
    cross: Data = {
        "reads": dice.pick(["diameter", "radius"]),
        "grows": dice.pick(["out", "in"]),
        "count": dice.pick([0.005, 0.01, 0.02] if mm else [0.0002, 0.0005, 0.001]),
    }
    saddle: Data = {
        "grows": dice.pick(["away", "toward"]),
        "count": dice.pick([0.005, 0.01, 0.02, 0.05] if mm else [0.0002, 0.0005, 0.001, 0.002]),
    }
    for table in (cross, saddle):
        if dice.pick([False, False, False, True]):
            table["divisions"] = dice.pick([50, 100])
            table["per_turn"] = dice.pick([2, 2.5]) if mm else 0.1
            one = table["per_turn"] / table["divisions"] * (2 if table.get("reads") == "diameter" else 1)
            table["count"] = one / dice.pick([4, 5, 10])  # what a dial can be stopped at
            table["backlash"] = dice.pick([0.1, 0.3]) if mm else dice.pick([0.004, 0.012])
    return {"cross": cross, "saddle": saddle}


def _steps(tables: Data) -> float:
    """The longer travel of one count, in the job's unit."""
    cross: float = tables["cross"]["count"] / (1 if tables["cross"]["reads"] == "radius" else 2)
    saddle: float = tables["saddle"]["count"]
    return max(cross, saddle)


def a_job(dice: Dice, shape: Shape, title: str) -> Data:
    """The shape as a job, with stock, slides and limits around it."""
    unit = dice.pick(["mm", "mm", "in"])
    k = 1.0 if unit == "mm" else 1 / 25.4
    places = dice.pick([3, 4, 6]) + (unit == "in")
    outline = _points(dice, shape, k, places)
    tables = slides(dice, unit)
    ridge = max(dice.pick([0.01, 0.02, 0.03, 0.05, 0.1]) * k, 2.5 * _steps(tables))
    largest = max(max(p["d"] for p in outline), 2 * k * _top_of_bulges(shape))
    return {
        "title": title,
        "units": unit,
        "part": {"surface": shape.surface, "outline": outline, "curve": [round(z * k, places) for z in shape.curve]},
        "stock": _stock(dice, shape, outline, k, largest),
        "tool": [{**t, "nose_radius": round(t["nose_radius"] * k, 6)} for t in shape.tools],
        "finish": {"ridge": round(ridge, 6), "allowance": round(dice.pick([0.1, 0.2, 0.3]) * k, 5)},
        "limits": {"bite": round(dice.pick([0.5, 1, 1.5, 2]) * k, 5)},
        "slide": tables,
    }


def _top_of_bulges(shape: Shape) -> float:
    """The greatest radius that an arc between two points rises to, mm."""
    tops = [0.0]
    for a, b in pairwise(shape.nodes):
        if b.bend and shape.surface == "outside":
            half = math.hypot(b.z - a.z, b.r - a.r) / 2
            rise = math.sqrt(max(b.bend**2 - half**2, 0.0)) * (-1 if b.bend > 0 else 1)
            centre_z = (a.z + b.z) / 2 + rise * (b.r - a.r) / (2 * half)
            if b.bend > 0 and b.z < centre_z < a.z:  # its highest place lies between its ends
                tops.append((a.r + b.r) / 2 - rise * (b.z - a.z) / (2 * half) + b.bend)
    return max(tops)


def _stock(dice: Dice, shape: Shape, outline: list[Data], k: float, largest: float) -> Data:
    stock: Data = {
        "proud": round(dice.pick([0, 0.3, 1.0, dice.between(0, 1.5)]) * k, 4),
        "stick_out": round(150 * k, 2),
    }
    if shape.surface == "outside":
        return {**stock, "diameter": round(largest + dice.between(0.3, 6) * k, 2 if k < 1 else 1) + 0.01}
    least = min(p["d"] for p in outline)
    return {
        **stock,
        "diameter": round(largest + dice.between(5, 15) * k, 3),
        "hole": round(least - dice.between(0.3, 3) * k, 3),
    }


def _points(dice: Dice, shape: Shape, k: float, places: int) -> list[Data]:
    """The outline as written: rounded, radii up where their ends lie too far apart, some arcs by a third point."""
    by_point = dice.pick([False, False, False, True])
    out: list[Data] = []
    for i, node in enumerate(shape.nodes):
        point: Data = {"z": round(node.z * k, places) + 0.0, "d": round(2 * node.r * k, places)}
        if out and node.bend:
            radius = round(abs(node.bend) * k, places)
            half = math.hypot(point["z"] - out[-1]["z"], (point["d"] - out[-1]["d"]) / 2) / 2
            while radius < half * (1 + 1e-9):
                radius = round(radius + 10.0**-places, places)
            if by_point:
                middle = _middle(shape.nodes[i - 1], node, shape.surface == "bore")
                point["through"] = [round(middle[0] * k, places + 2), round(2 * middle[1] * k, places + 2)]
            else:
                point["convex" if node.bend > 0 else "concave"] = radius
        out.append(point)
    return out


def _middle(a: Node, b: Node, bore: bool) -> tuple[float, float]:
    """The middle of the arc from a to b."""
    z, r = (a.z + b.z) / 2, (a.r + b.r) / 2
    half = math.hypot(b.z - a.z, b.r - a.r) / 2
    radius = abs(b.bend)
    rise = radius - math.sqrt(max(radius**2 - half**2, 0.0))
    air = 1 if (b.bend > 0) != bore else -1  # a bulge rises into the air, which lies outward but in a bore
    nz, nr = (b.r - a.r) / (2 * half), -(b.z - a.z) / (2 * half)
    return z + air * rise * nz, r + air * rise * nr


# ---- domes
def dome(dice: Dice) -> Data:
    """A domed end: whole, flatter than a half ball, or a rounded corner about a flat."""
    kind = dice.pick(["whole", "flat", "corner"])
    radius = dice.between(3, 25)
    if kind == "whole":
        nodes = [Node(0, 0), Node(-radius, radius, radius)]
    elif kind == "flat":
        a = dice.between(0.35, 1.45)
        nodes = [Node(0, 0), Node(-radius * (1 - math.cos(a)), radius * math.sin(a), radius)]
    else:
        flat, radius = dice.between(2, 15), dice.between(1.5, 10)
        nodes = [Node(0, 0), Node(0, flat), Node(-radius, flat + radius, radius)]
    end = nodes[-1]
    nodes.append(Node(end.z - dice.between(8, 25), end.r))
    tool = dice.pick(
        [round_nose(r) for r in (0.5, 1, 1.5, 2, 3, 4, 6)] + [knife(dice, "right"), knife(dice, "right", 1.2)]
    )
    return a_job(dice, Shape(nodes, (0, end.z), [tool]), f"Bridge pin, {kind} dome")


# ---- outlines
def _shank(dice: Dice, nodes: list[Node]) -> list[Node]:
    """A cylinder behind, long enough for a left-hand knife to stand clear of the bar."""
    return [*nodes, Node(nodes[-1].z - dice.between(14, 22), nodes[-1].r)]


def ball_on_neck(dice: Dice) -> Shape:
    """A ball on a cylinder, joined by a fillet or cut square into it."""
    radius = dice.between(5, 14)
    neck, hollow = dice.between(0.35, 0.6) * radius, dice.pick([0.0, 0.6, 1.5])
    far = math.sqrt((radius + hollow) ** 2 - (neck + hollow) ** 2)
    share = radius / (radius + hollow)
    back = Node(-radius - share * far, share * (neck + hollow), radius)
    nodes = [Node(0, 0), Node(-radius, radius, radius), back]
    end = back.z + dice.between(0.3, 1)  # the corner itself is sharper than any nose
    if hollow:
        nodes.append(Node(-radius - far, neck, -hollow))
        end = -radius - far - dice.between(0, 2)
    tools = [round_nose(dice.pick([1, 1.5])), *knives(dice)]
    return Shape(_shank(dice, nodes), (0, end), tools)


def cove(dice: Dice) -> Shape:
    """A hollow round a cylinder."""
    radius, outer = dice.between(3, 9), dice.between(9, 20)
    deep = dice.between(0.3, 0.9) * min(radius, outer - 3)
    half = math.sqrt(radius**2 - (radius - deep) ** 2)
    first = -dice.between(2, 8)
    nodes = [Node(0, 0), Node(0, outer), Node(first, outer), Node(first - 2 * half, outer, -radius)]
    tools = [round_nose(dice.pick([r for r in (0.5, 1, 2, 3) if r < 0.9 * radius])), *knives(dice)]
    return Shape(_shank(dice, nodes), (first + 1, first - 2 * half - 1), tools)


def ogee(dice: Dice) -> Shape:
    """A hollow that runs into a round behind a cylinder; or a round off the end face that runs into a hollow."""
    one, other, a = dice.between(3, 9), dice.between(3, 9), dice.between(0.5, 1.3)
    r = dice.between(4, 7)
    long, short = math.sin(a), 1 - math.cos(a)
    nodes = [Node(0, 0), Node(0, r)]
    if dice.pick([True, False]):
        z = -dice.between(2, 5)
        nodes += [Node(z, r), Node(z - one * long, r + one * short, -one)]
        nodes.append(Node(nodes[-1].z - other * long, nodes[-1].r + other * short, other))
    else:
        nodes.append(Node(-one * short, r + one * long, one))
        nodes.append(Node(nodes[-1].z - other * short, nodes[-1].r + other * long, -other))
        nodes.append(Node(nodes[-1].z, nodes[-1].r + dice.between(0.5, 2)))
    z = nodes[-1].z
    tools = [round_nose(dice.pick([r for r in (1, 2, 3) if r < 0.9 * min(one, other)])), knife(dice, "right")]
    return Shape(_shank(dice, nodes), (dice.pick([0, -0.5]), z - dice.between(0, 1)), tools)


def fillet(dice: Dice) -> Shape:
    """A hollow corner between a cylinder and a shoulder."""
    r, radius, step = dice.between(4, 9), dice.between(2, 6), dice.between(0.5, 3)
    z = -dice.between(8, 16)
    nodes = [Node(0, 0), Node(0, r), Node(z, r), Node(z - radius, r + radius, -radius)]
    nodes += [Node(z - radius, r + radius + step)]
    tools = [round_nose(dice.pick([0.5, 1, 1.5])), knife(dice, "right")]
    return Shape(_shank(dice, nodes), (z + dice.between(1, 5), z - radius), tools)


def taper(dice: Dice) -> Shape:
    """A taper that ends in a fillet."""
    r, slope, long = dice.between(4, 7), dice.between(0.03, 0.3), dice.between(12, 28)
    radius = dice.between(2, 5)
    z, r2 = -long, r + slope * long
    nodes = [Node(0, 0), Node(0, r), Node(z, r2), Node(z - radius, r2 + radius, -radius)]
    tools = [round_nose(dice.pick([1, 1.5])), knife(dice, "right")]
    return Shape(_shank(dice, nodes), (-0.5, z - radius * dice.between(0.3, 1)), tools)


def handle(dice: Dice) -> Shape:
    """Tangent arcs: a domed end, a belly, a waist and a swell."""
    r = z = dice.between(5, 8)
    z = -z
    nodes = [Node(0, 0), Node(z, r, r)]
    down, up = dice.between(0.15, 0.35), dice.between(0.2, 0.45)
    belly, waist = dice.between(18, 40), dice.between(12, 30)
    belly = min(belly, (r - 2.5) / (1 - math.cos(down)) / 2)
    waist = min(waist, (r - 2.5) / (1 - math.cos(down)) / 2)
    swell, last = dice.between(12, 30), dice.between(6, 15)
    for radius, angle, rise, bend in (
        (belly, down, -1, 1),
        (waist, down, -1, -1),
        (swell, up, 1, -1),
        (last, up, 1, 1),
    ):
        z, r = z - radius * math.sin(angle), r + rise * radius * (1 - math.cos(angle))
        nodes.append(Node(z, r, bend * radius))
    return Shape(_shank(dice, nodes), (0, z), [round_nose(dice.pick([1, 2, 3])), *knives(dice)])


def pulley(dice: Dice) -> Shape:
    """A crowned rim, cut up to near the bar behind."""
    radius, wide, r = dice.pick([100, 200, 400]), dice.between(14, 30), dice.between(15, 40)
    sag = radius - math.sqrt(radius**2 - wide**2 / 4)
    nodes = [Node(0, 0), Node(0, r - sag), Node(-wide / 2, r, radius), Node(-wide, r - sag, radius)]
    tools = [round_nose(dice.pick([1, 3])), knife(dice, "right")]
    return Shape([*nodes, Node(-wide - 4, r - sag)], (0, -wide), tools)


def bead(dice: Dice) -> Shape:
    """A round standing proud of a cylinder, a fillet at each foot."""
    r, radius, hollow = dice.between(4, 10), dice.between(2, 5), dice.between(0.6, 2)
    a = dice.between(0.5, 1.4)
    long, high = (radius + hollow) * math.sin(a), (radius + hollow) * (1 - math.cos(a))
    z = -dice.between(10, 14)
    foot = (hollow * math.sin(a), hollow * (1 - math.cos(a)))
    nodes = [Node(0, 0), Node(0, r), Node(z, r), Node(z - foot[0], r + foot[1], -hollow)]
    nodes += [Node(z - long, r + high, radius), Node(z - 2 * long + foot[0], r + foot[1], radius)]
    nodes += [Node(z - 2 * long, r, -hollow)]
    return Shape(_shank(dice, nodes), (z + 1, z - 2 * long - 1), [round_nose(dice.pick([0.5, 1])), *knives(dice)])


def steps(dice: Dice) -> Shape:
    """Cylinders that climb toward the chuck by chamfers, and by faces with a fillet at their foot."""
    z, r = 0.0, dice.between(2, 6)
    nodes = [Node(0, 0), Node(0, r)]
    for _ in range(dice.pick([1, 2, 3])):
        nodes.append(Node(z := z - dice.between(2, 6), r))
        rise, hollow = dice.between(1, 3), dice.between(0.9, 2)
        if dice.pick([True, False]):
            nodes.append(Node(z := z - hollow, r := r + hollow, -hollow))
            nodes.append(Node(z, r := r + rise))
        else:
            nodes.append(Node(z := z - rise * dice.between(1.2, 3), r := r + rise))
    tools = [round_nose(dice.pick([0.5, 0.8])), knife(dice, "right")]
    return Shape(_shank(dice, nodes), (0, z - 1), tools)


def wander(dice: Dice) -> Shape:
    """Lines and arcs in any order, tangent or not, up and down within the reach of two knives."""
    z, r, heading = 0.0, dice.between(6, 10), dice.between(-0.2, 0.5)
    nodes = [Node(0, 0), Node(0, r)]
    for _ in range(dice.pick([2, 3, 4, 5, 6])):
        heading = heading if dice.pick([True, False]) else dice.between(-0.4, 0.8)
        turn = dice.pick([0.0, dice.between(0.15, 0.7), -dice.between(0.15, 0.7)])
        turn = min(max(turn, -0.4 - heading), 1.2 - heading)
        radius = dice.between(2.5, 20)
        if abs(turn) > 0.05:
            # The heading is the climb of the way toward the chuck; a hollow steepens it, a round flattens it.
            after, chord = heading + turn, 2 * radius * math.sin(abs(turn) / 2)
            mean = heading + turn / 2
            step = (chord * math.cos(mean), chord * math.sin(mean), -radius if turn > 0 else radius)
            heading = after
        else:
            long = dice.between(1, 6)
            step = (long * math.cos(heading), long * math.sin(heading), 0.0)
        if not 3 < r + step[1] < 22:
            heading = 0.0
            continue
        z, r = z - step[0], r + step[1]
        nodes.append(Node(z, r, step[2]))
    if len(nodes) == 2:
        nodes.append(Node(z := z - 5.0, r))
    tools = [round_nose(dice.pick([0.5, 1, 2])), *knives(dice)]
    return Shape(_shank(dice, nodes), (dice.pick([0, -0.3]), z), tools[dice.pick([0, 0, 1]) :])


def bell_mouth(dice: Dice) -> Shape:
    """A bore whose mouth is rounded."""
    radius, r = dice.between(3, 10), dice.between(7, 15)
    nodes = [Node(0, r + radius), Node(-radius, r, radius)]
    tools = dice.pick([[knife(dice, "right")], [knife(dice, "right"), round_nose(1)]])
    return Shape([*nodes, Node(-radius - dice.between(12, 20), r)], (0, -radius - dice.pick([0.0, 2.0])), tools, "bore")


def cup(dice: Dice) -> Shape:
    """A ball seat in a bore."""
    radius = dice.between(7, 14)
    wide, deep = dice.between(1.2, 1.5), dice.between(0.3, 0.7)
    mouth, floor = radius * math.sin(wide), radius * math.sin(deep)
    z = -radius * (math.cos(deep) - math.cos(wide))
    nodes = [Node(0, mouth), Node(z, floor, -radius), Node(z - dice.between(10, 15), floor)]
    return Shape(nodes, (0, z), [knife(dice, "right", dice.pick([0.4, 0.8]))], "bore")


def bore_steps(dice: Dice) -> Shape:
    """A bore that narrows inward by tapers, and by faces with a fillet at their foot and a rounded edge."""
    z, r = 0.0, dice.between(11, 16)
    nodes = [Node(0, r)]
    for _ in range(dice.pick([1, 2])):
        nodes.append(Node(z := z - dice.between(2, 6), r))
        size = dice.between(0.8, 1.5)
        if dice.pick([True, False]):
            nodes.append(Node(z := z - size * dice.between(1.2, 3), r := r - size))
            continue
        nodes.append(Node(z := z - size, r := r - size, -size))
        nodes.append(Node(z, r := r - dice.between(0.2, 1)))
        nodes.append(Node(z := z - size, r := r - size, size))
    tools = [knife(dice, "right", 0.4)]
    return Shape([*nodes, Node(z - dice.between(8, 14), r)], (0, z - 1), tools, "bore")


KINDS: dict[str, Callable[[Dice], Shape]] = {
    kind.__name__.replace("_", " "): kind
    for kind in (
        ball_on_neck,
        cove,
        ogee,
        fillet,
        taper,
        handle,
        pulley,
        bead,
        steps,
        wander,
        bell_mouth,
        cup,
        bore_steps,
    )
}


def outline(dice: Dice) -> Data:
    """A job of any kind but a dome."""
    name = dice.pick([*KINDS, "wander", "wander"])
    return a_job(dice, KINDS[name](dice), name.capitalize())


# ---- form tools
def _radius_tool(dice: Dice) -> list[Data]:
    """A hand-ground radius, of less than half a turn or just that, as a chord and its radius."""
    radius, half = dice.pick([1.5, 3, 6]), math.radians(dice.pick([30, 45, 60, 90]))
    return [_corner(0, 0), _corner(2 * radius * math.sin(half), 0, radius)]


def _chamfer_tool(dice: Dice) -> list[Data]:
    """A slope of the chamfer's angle and a flat; either way round."""
    wide, high, flat = dice.between(1, 4), dice.between(1, 4), dice.between(0.5, 3)
    if dice.pick([True, False]):
        return [_corner(0, high), _corner(wide, 0), _corner(wide + flat, 0)]
    return [_corner(0, 0), _corner(flat, 0), _corner(flat + wide, high)]


def _bull_nose(dice: Dice) -> list[Data]:
    """Two corners that differ, a flat between them."""
    one, other, flat = dice.between(0.3, 2.5), dice.between(0.3, 2.5), dice.between(0.2, 3)
    wide = one + flat + other
    return [_corner(0, one), _corner(one, 0, one), _corner(one + flat, 0), _corner(wide, other, other)]


def _vee(dice: Dice) -> list[Data]:
    """Two slopes with a flat between them."""
    high, lean, flat = dice.between(2, 5), math.tan(math.radians(dice.pick([30, 45, 60]) / 2)), dice.between(0.2, 1)
    wide = high * lean
    return [_corner(0, high), _corner(wide, 0), _corner(wide + flat, 0), _corner(2 * wide + flat, high)]


def _any_convex(dice: Dice) -> list[Data]:
    """Lines and arcs in any order, each turning on from the one before."""
    turns = [dice.between(0.15, 0.8) for _ in range(dice.pick([2, 3, 4]))]
    way, z, r = -dice.between(0.2, 1.4), 0.0, 0.0
    points = [_corner(0, 0)]
    for turn in turns:
        long = dice.between(0.5, 2)
        if dice.pick([True, False]) and way + turn < 1.5:
            chord = way + turn / 2
            z, r = z + long * math.cos(chord), r + long * math.sin(chord)
            points.append(_corner(z, r, long / (2 * math.sin(turn / 2))))
        else:
            z, r = z + long * math.cos(way), r + long * math.sin(way)
            points.append(_corner(z, r))
        way += turn
        if way > 1.4:
            break
    return points


def _corner(z: float, r: float, convex: float | None = None) -> Data:
    return {"z": z, "r": r} if convex is None else {"z": z, "r": r, "convex": convex}


FORM_TOOLS: tuple[Callable[[Dice], list[Data]], ...] = (_radius_tool, _chamfer_tool, _bull_nose, _vee, _any_convex)


def form_tool(dice: Dice, k: float) -> Data:
    """A form tool in the job's unit."""
    points = dice.pick(FORM_TOOLS)(dice)
    outline = [{name: round(value * k, 6) for name, value in point.items()} for point in points]
    for before, point in pairwise(outline):
        half = math.hypot(point["z"] - before["z"], point["r"] - before["r"]) / 2
        while point.get("convex", half) < half:  # half a circle, its radius rounded down
            point["convex"] = round(point["convex"] + 1e-6, 6)
    return {"name": "form tool", "kind": "form", "outline": outline}


def with_form_tool(dice: Dice) -> Data:
    """A job of any kind with a form tool in the drawer, alone or beside the tools that it would have."""
    job = dice.pick([dome, outline])(dice)
    tool = form_tool(dice, 1.0 if job["units"] == "mm" else 1 / 25.4)
    alone = dice.pick([True, False]) and _enters(tool, job)
    drawer = [tool] if alone else [*job["tool"], tool]
    return {**job, "tool": drawer}


def _enters(tool: Data, job: Data) -> bool:
    """Whether a tool is surely sharp enough for the hollows of a job: any bend of it that is wider is refused."""
    tightest = min((p["convex"] for p in tool["outline"] if "convex" in p), default=0.0)
    points = job["part"]["outline"]
    return not any("through" in p or p.get("concave", math.inf) <= tightest for p in points)


@st.composite
def domes(draw: st.DrawFn) -> Data:
    """Random domes."""
    return dome(Drawn(draw))


@st.composite
def outlines(draw: st.DrawFn) -> Data:
    """Random outlines of all other kinds."""
    return outline(Drawn(draw))


@st.composite
def form_jobs(draw: st.DrawFn) -> Data:
    """Random jobs with a form tool."""
    return with_form_tool(Drawn(draw))
