"""What is done ahead of moves, a screen each: the checklist, tools, touching off, stops to measure, where to start.

What stands in plan.before is numbered as there, and ticked by that number; the checklist is ours alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan
from ovolo.setup.surfaces import standing
from ovolo.shop.tools import Tool
from ovolo.show.paper.cuts import Cuts, Region, tool_of
from ovolo.show.turn.close_ups import HIGH, WIDE, picture_of
from ovolo.show.turn.moves import standing_before
from ovolo.show.words.figures import length_text, slide_name
from ovolo.show.words.leaning_edge import leans_over
from ovolo.show.words.setting_up import Item, setting_up

__all__ = ["Entry", "TurnStep", "turn_steps"]

_STOPPED = ("tool", "touch", "measure")
"""At these the spindle is stopped first."""


@dataclass(frozen=True)
class Entry:
    """A figure of a slide that a step is about: where it should be, in the slide's own convention."""

    slide: str
    figure: float
    says: str = ""


@dataclass(frozen=True)
class TurnStep:
    """One screen ahead of a move.

    `before` is its number in plan.before; None for what is not in it. `entries` are figures to bring slides to, to
    enter, or to be measured, as `kind` says; the slide that comes first is first. `kept`: it holds from the part before
    and is passed by.
    """

    move: int
    kind: str
    title: str
    lines: tuple[str, ...]
    before: int | None = None
    stopped: bool = False
    entries: tuple[Entry, ...] = ()
    picture: str = ""
    tool: int | None = None
    kept: bool = False


def turn_steps(plan: Plan, befores: Sequence[Mapping[str, Any]], cuts: Cuts) -> list[TurnStep]:
    """Every step in its order; `befores` are those of the plan's own document."""
    items = {item.title: item for item in setting_up(plan).items}
    steps = [*_checklist(plan, cuts, items)]
    for n, before in enumerate(befores, 1):
        steps.append(_of_before(plan, cuts, items, n, before))
    told = {before["move"] for before in befores if before["kind"] == "stand"}
    steps += [_stand(plan, cuts, move) for move in _starts(plan, befores) if move.n not in told]
    return sorted(steps, key=lambda step: step.move)


def _lines(items: Mapping[str, Item], *beginnings: str) -> tuple[str, ...]:
    return tuple(line for title, item in items.items() if title.lower().startswith(beginnings) for line in item.lines)


def _checklist(plan: Plan, cuts: Cuts, items: Mapping[str, Item]) -> Iterator[TurnStep]:
    """Ahead of everything: the piece, chuck and eyes, the readouts."""
    safe = ("Chuck key out. Jaws tight. Guard down.", "Eye protection on; sleeves, rings and hair away from the work.")
    yield TurnStep(
        1, "piece", "The piece", _lines(items, "the bar", "the work"), None, True, picture=_piece(plan, cuts)
    )
    yield TurnStep(
        1, "safe", "Jaws, key, guard, eyes", (*safe, *_lines(items, "clearance"), *_lines(items, "caution")), None, True
    )
    for name in ("cross slide", "saddle", "top slide"):
        lines = (*_lines(items, f"how the {name}"),)
        if lines:
            title = f"{name.capitalize()}: try one turn"
            picture = _signs(plan, cuts, name) if name != "top slide" else ""
            yield TurnStep(1, "readout", title, tuple(reversed(lines)), None, True, picture=picture)


_TITLES: Mapping[str, str] = {
    "tool": "Tool",
    "touch": "Touch off",
    "measure": "Measure",
    "speed": "Speed",
    "lock": "Lock",
    "say": "Note",
}


def _of_before(plan: Plan, cuts: Cuts, items: Mapping[str, Item], n: int, before: Mapping[str, Any]) -> TurnStep:
    move, kind = plan.moves[before["move"] - 1], before["kind"]
    if kind == "stand":
        return _stand(plan, cuts, move, n, before)
    tool = tool_of(plan, move)
    text = f"{before['text'].rstrip('.')}."
    lines: tuple[str, ...] = (text,)
    entries: tuple[Entry, ...] = ()
    picture = ""
    if kind == "tool":
        lines = (*lines, *_of_tool(items, tool))
    elif kind == "touch":
        further = (*_lines(items, "figures past"), *_lines(items, "to leave extra metal on"))
        noted = plan.job.shop.lathe.post == "repeats" and move.n > 1
        lines = (text,) if noted else (*_touching(plan, items, tool, move), *further)
        picture, entries = _touch_picture(plan, cuts, tool, move), _touch_entries(plan, tool, move)
        lines = lines or (text,)
    elif kind == "measure":
        lines = (*lines, *_stop(items, tool, move))
        entries = tuple(Entry(slide, figure) for slide, figure in (before.get("should") or {}).items())
    elif kind == "speed":
        lines = (*lines, *_lines(items, "power feed"))
    title = f"{_TITLES.get(kind, 'Mind')}: {tool.name}" if kind in ("tool", "touch") else _TITLES.get(kind, "Note")
    return TurnStep(
        move.n,
        kind,
        title,
        lines,
        n,
        kind in _STOPPED,
        entries,
        picture,
        _index(plan, tool) if kind == "tool" else None,
    )


def _index(plan: Plan, tool: Tool) -> int:
    return [other.name for other in plan.tools].index(tool.name)


def _of_tool(items: Mapping[str, Item], tool: Tool) -> tuple[str, ...]:
    """What is said of this tool, and of all."""
    known = _lines(items, "the tool")
    own = [line for line in known if line.startswith(f"{tool.name}:")]
    return (*own, *(line for line in known if not re.match(r"[^.:]+:", line)))


def _touching(plan: Plan, items: Mapping[str, Item], tool: Tool, move: Move) -> tuple[str, ...]:
    titles = [title for title in items if title.lower().startswith("touch off")]
    own = [title for title in titles if f"with {tool.name}" in title] if len(plan.tools) > 1 else titles
    exact = [title for title in own if f"before move {move.n}" in title] or own[:1]
    return tuple(line for title in exact for line in items[title].lines)


def _stop(items: Mapping[str, Item], tool: Tool, move: Move) -> tuple[str, ...]:
    own = [t for t in items if t.lower().startswith(("stop", "measure")) and f"before move {move.n}" in t]
    own = own or [t for t in items if t.lower().startswith("measure") and tool.name in t]
    return tuple(line for title in own for line in items[title].lines)


def _touched(plan: Plan, move: Move) -> tuple[float, float, float]:
    """What a tool is touched off on ahead of a move, mm: radius of the surface, a place on it, and the end face."""
    stock, bore = plan.job.shop.stock, plan.job.part.surface == "bore"
    stands = standing(plan, move.n)
    cylinder = None if move.n == 1 and stock.outline is None else stands.nearest(bore=bore)
    if cylinder is None:
        return (stock.hole / 2 if bore else stock.radius), stands.front, stands.front
    return cylinder.radius, max(cylinder.near, cylinder.far), stands.front


def _touch_entries(plan: Plan, tool: Tool, move: Move) -> tuple[Entry, ...]:
    """What the slides read with the tool against the surface that it comes to first, and against the end face.

    An edge that leans over its nose comes to the face by a parallel: how, is said in words.
    """
    shop = plan.job.shop
    along = shop.coarse if move.stage == "rough" else shop.fine
    radius, _, front = _touched(plan, move)
    across = Entry("cross", shop.cross.figure(radius), "diameter measured")
    if leans_over(tool):
        return (across,)
    return (across, Entry(along.name, along.figure(front), "face, from the finished end"))


def _starts(plan: Plan, befores: Sequence[Mapping[str, Any]]) -> list[Move]:
    """The moves that begin somewhere new: the first, the first of each tool in its turn, the first after a stop."""
    stops = {before["move"] for before in befores if before["kind"] == "measure"}
    tools = [None, *(move.tool for move in plan.moves)]
    return [move for move, last in zip(plan.moves, tools, strict=False) if last != move.tool or move.n in stops]


def _stand(
    plan: Plan, cuts: Cuts, move: Move, n: int | None = None, before: Mapping[str, Any] | None = None
) -> TurnStep:
    """Where both slides are before a move, the one that comes first first."""
    standing = standing_before(plan, move)
    figures, first = standing.figures, standing.first
    if before is not None and before.get("set"):
        figures, first = dict(before["set"]), before.get("first") or first
    order = sorted(figures, key=lambda name: name != first)
    entries = tuple(Entry(name, figures[name]) for name in order)
    names = [slide_name(name) for name in order]  # type: ignore[arg-type]
    lines = (f"{names[0].capitalize()} first, from well outside; then the {' and the '.join(names[1:])}.",)
    seen = _around_piece(plan, cuts, move.n, move.start)
    picture = picture_of(cuts, seen, cuts.after(move.n - 1), tool_of(plan, move), move.start)
    return TurnStep(move.n, "stand", "Start", lines, n, False, entries, picture)


def _around_piece(plan: Plan, cuts: Cuts, n: int, nose: Point) -> tuple[float, float, float, float]:
    """A window on the end of the piece and the nose."""
    tool, stock = tool_of(plan, plan.moves[n - 1]), plan.job.shop.stock
    z0, _, z1, r1 = shapely.union(shapely.Point(nose), shapely.Point(stock.front, stock.widest)).bounds
    air = 2.2 * tool.nose_radius
    return min(z0, z1 - 2 * stock.widest) - air, -0.1 * stock.widest, z1 + air + 0.5 * stock.widest, r1 + air


def _piece(plan: Plan, cuts: Cuts) -> str:
    """The piece in its jaws, with how far it projects."""
    stock = plan.job.shop.stock
    back = cuts.frame.back if stock.stick_out is None else -stock.stick_out
    long, high = stock.front - back, stock.widest
    seen = (back - 0.35 * long, -0.15 * high, stock.front + 0.15 * long, 1.9 * high)
    bar = shapely.box(back - long, stock.hole / 2 if cuts.bore else 0.0, cuts.frame.back, high)
    metal: Region = shapely.union(cuts.after(0), bar)
    picture = picture_of(cuts, seen, metal)
    if stock.stick_out is None:
        return picture
    scale = min(WIDE / (seen[2] - seen[0]), HIGH / (seen[3] - seen[1]))
    x0, y0 = WIDE / 2 - scale * (seen[0] + seen[2]) / 2, HIGH / 2 + scale * (seen[1] + seen[3]) / 2
    left, right, top = x0 + scale * back, x0 + scale * stock.front, y0 - scale * high
    words = length_text(long, plan.job.units)
    jaw = f'<path class="j" d="M{left:.0f} {y0:.0f}V{top - 260:.0f}h-420V{y0:.0f}z"/>'
    dimension = (
        f'<path class="d" d="M{left:.0f} {top - 150:.0f}H{right:.0f}M{right:.0f} {top - 40:.0f}v-170'
        f'M{left + 90:.0f} {top - 180:.0f}l-90 30l90 30M{right - 90:.0f} {top - 180:.0f}l90 30l-90 30"/>'
    )
    text = f'<text x="{(left + right) / 2:.0f}" y="{top - 200:.0f}" text-anchor="middle">{words}</text>'
    return f"{picture}{jaw}{dimension}{text}"


def _signs(plan: Plan, cuts: Cuts, name: str) -> str:
    """The tool beside the piece, with the way in which the slide's figure must rise."""
    move, stock = plan.moves[0], plan.job.shop.stock
    tool = tool_of(plan, move)
    nose = Point(stock.front + 2 * tool.nose_radius, stock.widest + 2 * tool.nose_radius)
    slide = plan.job.shop.cross if name == "cross slide" else plan.job.shop.saddle
    sign = 1.0 if slide.factor > 0 else -1.0
    step = sign * 2.0 * tool.nose_radius
    end = Point(nose.x, nose.y + step) if name == "cross slide" else Point(nose.x + step, nose.y)
    z0, r0, z1, r1 = _around_piece(plan, cuts, 1, nose)
    seen = (z0, r0, z1 + 2 * tool.nose_radius, r1 + 3 * tool.nose_radius)
    picture = picture_of(cuts, seen, cuts.after(0), tool, nose, (nose, end))
    return f'{picture}<text x="{WIDE - 60}" y="180" text-anchor="end">figure rises this way</text>'


def _touch_picture(plan: Plan, cuts: Cuts, tool: Tool, move: Move) -> str:
    """The nose against the surface that it is touched off on."""
    r = tool.nose_radius
    radius, near, _ = _touched(plan, move)
    level = radius - r if cuts.bore else radius + r
    nose = Point(near - 1.5 * r, level)
    seen = (nose.x - 6.5 * r - 6, level - 3.5 * r - 2, nose.x + 9.5 * r + 6, level + 2.0 * r + 2)
    return picture_of(cuts, seen, cuts.after(move.n - 1), tool, nose)
