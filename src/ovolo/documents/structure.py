"""What can be seen in a job before any geometry: fields that need or exclude one another.

It looks at the raw document, so that what it finds is reported along with what validation finds field by field.
"""

from collections.abc import Iterator, Mapping
from itertools import chain

from ovolo.documents.faults import Loc, fault_at, value_at
from ovolo.errors import Fault

_BENDS = ("convex", "concave", "through")


def structure_faults(data: Mapping[str, object]) -> list[Fault]:
    """Fields that contradict or miss one another, anywhere in the document."""
    return list(
        chain(
            _one_source(data, "part", ("outline", "form", "file"), "outline", "the outline of the part is missing"),
            _stock(data),
            _bends(data, ("part", "outline")),
            _bends(data, ("stock", "outline")),
            _tool_names(data),
            _tool_outlines(data),
            _dials(data),
            _slides(data),
        )
    )


def _one_source(
    data: Mapping[str, object], table: str, names: tuple[str, ...], first: str, none: str
) -> Iterator[Fault]:
    """Exactly one of several fields that say the same thing."""
    given = value_at(data, (table,))
    if not isinstance(given, Mapping):
        return
    present = [name for name in names if given.get(name) is not None]
    if not present:
        yield fault_at(data, (table, first), none, f"Add {first} to [{table}]")
    for name in present[1:]:
        says = f"{table}.{present[0]} already says it"
        yield fault_at(data, (table, name), says, "Leave one of them out", "one of " + ", ".join(names))


def _stock(data: Mapping[str, object]) -> Iterator[Fault]:
    """A bar or a piece already shaped; one with a hole already shaped has an outside as well."""
    hole = value_at(data, ("part", "surface")) == "bore" and value_at(data, ("stock", "outline")) is not None
    if not hole:
        yield from _one_source(data, "stock", ("diameter", "outline"), "diameter", "the size of the stock is missing")


def _tables(data: object, loc: Loc) -> Iterator[tuple[Loc, Mapping[str, object]]]:
    listed = value_at(data, loc)
    for i, item in enumerate(listed if isinstance(listed, list) else []):
        if isinstance(item, Mapping):
            yield (*loc, i), item


def _bends(data: Mapping[str, object], outline: Loc) -> Iterator[Fault]:
    for loc, point in _tables(data, outline):
        bends = [name for name in _BENDS if point.get(name) is not None]
        if bends and loc[-1] == 0:
            says = "an arc leads to a point from the one before, and this is the first"
            yield fault_at(data, (*loc, bends[0]), says, "Move it to the point at the arc's other end")
        for extra in bends[1:]:
            says = f"the arc is already described by {bends[0]}"
            yield fault_at(data, (*loc, extra), says, "Leave one of them out")


def _tool_names(data: Mapping[str, object]) -> Iterator[Fault]:
    seen: dict[str, Loc] = {}
    for loc, tool in _tables(data, ("tool",)):
        name = tool.get("name")
        if isinstance(name, str):
            key = name.strip()
            if key in seen:
                says = f"tool[{seen[key][-1]}] has the same name"
                yield fault_at(data, (*loc, "name"), says, "Give each tool a name of its own")
            seen.setdefault(key, loc)


def _tool_outlines(data: Mapping[str, object]) -> Iterator[Fault]:
    """A form tool has an outline and no nose, every other tool a nose and no outline."""
    for loc, tool in _tables(data, ("tool",)):
        form, given = tool.get("kind") == "form", tool.get("outline") is not None
        if form and not given:
            says = "the outline of the form tool is missing"
            yield fault_at(data, (*loc, "outline"), says, "Add outline = [ {z, r}, {z, r, convex}, … ]")
        elif given and not form:
            says, remedy = "only a form tool has an outline of its own", 'Leave it out, or write kind = "form"'
            yield fault_at(data, (*loc, "outline"), says, remedy)
        if not form and tool.get("nose_radius") is None:
            remedy = "Add nose_radius = 0.4 (radius of its nose)"
            yield fault_at(data, (*loc, "nose_radius"), "it is missing", remedy)
        yield from _bends(data, (*loc, "outline"))


def _dials(data: Mapping[str, object]) -> Iterator[Fault]:
    for name in ("cross", "saddle", "top"):
        slide = value_at(data, ("slide", name))
        if isinstance(slide, Mapping) and slide.get("divisions") is not None and slide.get("per_turn") is None:
            says = "a slide that is read on its dial needs the travel of one turn"
            yield fault_at(data, ("slide", name, "per_turn"), says, "Add per_turn, or leave divisions out")


def _slides(data: Mapping[str, object]) -> Iterator[Fault]:
    listed = value_at(data, ("limits", "slides"))
    if isinstance(listed, list):
        if "top" in listed and not isinstance(value_at(data, ("slide", "top")), Mapping):
            says = "the top slide is to be used, and nothing is said about it"
            yield fault_at(data, ("slide", "top"), says, "Add [slide.top] with its travel, or leave it out of the list")
        for name in ("saddle", "cross"):
            if name not in listed and not (name == "saddle" and "top" in listed):
                says = f"the {name} {'slide ' if name == 'cross' else ''}is not listed, and no plan can do without it"
                yield fault_at(data, ("limits", "slides"), says, f'Add "{name}"')
