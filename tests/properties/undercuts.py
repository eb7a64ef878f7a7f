"""Random jobs whose outline doubles back: hollows under a lip, reliefs in a shoulder, dished ends; some in a bore.

Every drawer holds a knife whose edge leans a little more than the outline does, and most often it gets there; where its
back has no room the refusal has to be right.
"""

import math
from collections.abc import Callable

from hypothesis import strategies as st
from tests.properties.cases import Data, Dice, Drawn, Node, Shape, a_job

RUN_OUT = 15.0
"""Degrees at which a relief leaves the cylinder."""


def _knife(dice: Dice, name: str, hand: str, nose: float, lean: float) -> Data:
    """A slim knife whose edge clears a lean, radians."""
    edge = round(90 + math.degrees(lean) + dice.between(1, 6), 1)
    return {"name": name, "hand": hand, "nose_radius": nose, "edge_angle": edge, "point_angle": 35}


def _rounded(top: tuple[float, float], corner: tuple[float, float], out: complex, radius: float) -> list[Node] | None:
    """The two points of a fillet in the corner between a wall from `top` and what goes on along `out`."""
    wall = complex(top[0] - corner[0], top[1] - corner[1])
    way = wall / abs(wall)
    angle = math.acos((way * out.conjugate()).real)
    room = radius / math.tan(angle / 2)
    if room > 0.9 * abs(wall):
        return None
    at = complex(*corner)
    one, other = at + room * way, at + room * out
    return [Node(one.real, one.imag), Node(other.real, other.imag, -radius)]


def hollow_back(dice: Dice) -> Shape:
    """A knob whose back is hollow, its lip at the rim or below a straight wall."""
    nose, lean, rim = dice.pick([0.2, 0.4, 0.8]), math.radians(dice.between(2, 25)), dice.between(8, 16)
    neck, wide = rim * dice.between(0.3, 0.65), dice.between(2, 6)
    lip = dice.pick([rim, (rim + neck) / 2])
    corner = (-wide + (lip - neck) * math.tan(lean), neck)
    foot = _rounded((-wide, lip), corner, complex(-1, 0), nose + dice.between(0.05, 1.0))
    if foot is None or corner[0] > -1:
        return hollow_back(dice)
    end = -wide - (rim - neck) * 2.2 - 18
    head = [Node(0, rim - 1), Node(-1, rim, 1), Node(-wide, rim)]
    wall = [] if lip == rim else [Node(-wide, lip)]
    right = {"name": "right-hand knife", "hand": "right", "nose_radius": nose, "edge_angle": 93, "point_angle": 55}
    tools = [right, _knife(dice, "left-hand knife", "left", nose, lean)]
    return Shape([*head, *wall, *foot, Node(end, neck)], (0, end + (rim + 5 - neck) * 1.8 + 4 * nose + 2), tools)


def relief(dice: Dice) -> Shape:
    """A relief that runs out of a cylinder and into the shoulder behind it."""
    return _relief(dice, 1)


def relief_in_a_bore(dice: Dice) -> Shape:
    """The same where a bore steps down."""
    return _relief(dice, -1)


def _relief(dice: Dice, out: int) -> Shape:
    nose, lean = dice.pick([0.2, 0.4, 0.8]), math.radians(dice.between(2, 25))
    small, tall = dice.between(6, 12), dice.between(2.5, 5)
    cylinder, shoulder = (small, small + tall) if out > 0 else (small + tall, small)
    face, deep, floor = -dice.between(12, 20), dice.between(0.1, 0.4), dice.between(1.0, 2.5) + 2 * nose
    high = dice.between(0.4, 0.8) * tall
    corner = (face - high * math.tan(lean), cylinder - out * deep)
    top = (face, corner[1] + out * high)
    foot = _rounded(top, corner, complex(1, 0), nose + dice.between(0.05, 0.6))
    if foot is None or foot[1].z > face + floor:
        return _relief(dice, out)
    enter = face + floor + deep / math.tan(math.radians(RUN_OUT))
    nodes = [Node(0, cylinder), Node(enter, cylinder), Node(face + floor, corner[1])]
    hollow = [Node(foot[1].z, foot[1].r), Node(foot[0].z, foot[0].r, foot[1].bend)]
    nodes += [*hollow, Node(*top), Node(face, shoulder), Node(face - 6, shoulder)]
    tools = [_knife(dice, "right-hand knife", "right", nose, lean)]
    return Shape(nodes, (enter + 2, corner[0] - 0.5), tools, "outside" if out > 0 else "bore")


def dish(dice: Dice) -> Shape:
    """A dished end, round from rim to rim."""
    rim, lean = dice.between(5, 14), math.radians(dice.between(2, 20))
    deep = rim * math.tan(lean)
    radius = (rim**2 + deep**2) / (2 * deep)
    tools = [_knife(dice, "facing knife", "right", dice.pick([0.2, 0.4, 0.8]), math.asin(rim / radius))]
    land = dice.between(0.3, 4)
    nodes = [Node(-deep, 0), Node(0, rim, -radius), Node(0, rim + land), Node(-10, rim + land)]
    return Shape(nodes, (0, dice.pick([-8, -deep - 0.1])), tools)


def cone_dish(dice: Dice) -> Shape:
    """A hollow cone in the end, rounded at its foot."""
    rim, lean, nose = dice.between(5, 14), math.radians(dice.between(2, 25)), dice.pick([0.2, 0.4, 0.8])
    radius = nose + dice.between(0.5, 3)
    deep = rim * math.tan(lean)
    centre = -deep + radius / math.cos(lean)
    edge = Node(centre - radius * math.cos(lean), radius * math.sin(lean), -radius)
    nodes = [Node(centre - radius, 0), edge, Node(0, rim), Node(0, rim + 2), Node(-10, rim + 2)]
    return Shape(nodes, (0, dice.pick([-8, -deep - 0.1])), [_knife(dice, "facing knife", "right", nose, lean)])


def hooked_recess(dice: Dice) -> Shape:
    """A recess in a bore that runs back under its edge."""
    nose, lean, bore = dice.pick([0.2, 0.4]), math.radians(dice.between(2, 20)), dice.between(8, 16)
    wide, deep = dice.between(3, 6), dice.between(1.5, 4)
    corner = (-wide + deep * math.tan(lean), bore + deep)
    foot = _rounded((-wide, bore), corner, complex(-1, 0), nose + dice.between(0.1, 0.5))
    if foot is None:
        return hooked_recess(dice)
    end = -wide - deep * 3 - 10
    nodes = [Node(0, bore), Node(-wide, bore), *foot, Node(end, bore + deep), Node(end, bore), Node(end - 4, bore)]
    tools = [_knife(dice, "boring bar", "right", nose, lean), _knife(dice, "back-boring bar", "left", nose, lean)]
    return Shape(nodes, (-0.5, end + deep * 1.8 + 3), tools, "bore")


UNDERCUTS: dict[str, Callable[[Dice], Shape]] = {
    kind.__name__.replace("_", " "): kind
    for kind in (hollow_back, relief, relief_in_a_bore, dish, cone_dish, hooked_recess)
}


def undercut(dice: Dice) -> Data:
    """A job whose outline doubles back."""
    name = dice.pick([*UNDERCUTS])
    return a_job(dice, UNDERCUTS[name](dice), name.capitalize())


@st.composite
def undercuts(draw: st.DrawFn) -> Data:
    """Random jobs whose outline doubles back."""
    return undercut(Drawn(draw))
