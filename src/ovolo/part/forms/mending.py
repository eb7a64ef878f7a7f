"""Forms put in, moved and taken out: the sizes that such a change leaves without a meaning follow their neighbours.

What a person has given stays wherever the outline can be drawn with it; only what disagrees with a new neighbour goes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ovolo.errors import JobFaults
from ovolo.part.forms.chain import Chain
from ovolo.part.forms.document import FIELDS, chain_from_forms
from ovolo.part.part import Surface

__all__ = ["diameters", "fitted", "mended"]

Form = dict[str, Any]

CORNERS = ("fillet", "end radius", "chamfer", "undercut")
"""Forms that work on the corner to the next one: they have no ends of their own."""

WIDER = 1.25
"""A form that changes the diameter goes so many times as wide where no neighbour says how wide."""

LONG = 10
"""How long a form is whose end has come to lie in front of its start, in the unit."""

DECIMALS = 4


def diameters(forms: Sequence[Mapping[str, Any]], unit: float, surface: Surface) -> list[tuple[float, float] | None]:
    """At which diameters each form starts and ends, in the unit; None for a corner and for what cannot be drawn.

    >>> diameters([{"form": "dome", "diameter": 18}, {"form": "cylinder", "length": 15}], 1.0, "outside")
    [(0.0, 18.0), (18.0, 18.0)]
    """
    out: list[tuple[float, float] | None] = []
    end: float | None = None
    for i, form in enumerate(forms):
        chain = None if form.get("form") in CORNERS else _drawn(forms[: i + 1], unit, surface)
        if chain is None or chain.end is None:
            out.append(None)
            continue
        start = _size(chain.segments[0].start.y, unit) if end is None else end
        end = _size(chain.end.y, unit)
        out.append((start, end))
    return out


def fitted(form: Mapping[str, Any], before: float | None, after: float | None, most: float | None = None) -> Form:
    """A new form with the sizes of its neighbours: the diameter before it, and the one after it, where there are such.

    most: the diameter of the bar, which no form is made to exceed.

    >>> fitted({"form": "taper", "to_diameter": 14, "length": 10}, 18.0, None)
    {'form': 'taper', 'length': 10, 'to_diameter': 22.5}
    >>> fitted({"form": "dome", "diameter": 18, "height": 9}, None, 12.0)
    {'form': 'dome', 'diameter': 12.0, 'height': 6.0}
    """
    out, name = dict(form), form["form"]
    known = FIELDS[name].model_fields
    if before is not None and "diameter" in known and not known["diameter"].is_required():
        out.pop("diameter", None)  # it starts where the one before it ends
    if before is None and after is not None:
        return {**out, **_at_the_end(name, out, after)}
    if before is None and "diameter" in known:
        out.setdefault("diameter", 10)
    wide = after if after not in (None, before) else _wider(before, most) if before else None
    if wide and "to_diameter" in known:
        out = {**{k: v for k, v in out.items() if k != "to_diameter"}, "to_diameter": wide}
    if wide and name == "face":
        out["diameter"] = wide
    if before is not None and name == "ball":
        out.update(diameter=_figure(2 * max(before, after or 0)), neck=after or before)
    return out


def _wider(before: float, most: float | None) -> float:
    """A diameter that differs from the one before: larger as far as the bar goes, else smaller."""
    if most is None or before < most:
        return _figure(min(WIDER * before, most or WIDER * before))
    return _figure(before / WIDER)


def _at_the_end(name: str, form: Form, after: float) -> Form:
    """The sizes of a form that begins the outline and leads to a diameter."""
    if name == "dome":
        return {"diameter": after, "height": _figure(after / 2)}
    if name == "ball":
        return {"diameter": max(form["diameter"], _figure(2 * after)), "neck": after}
    known = FIELDS[name].model_fields
    if "to_diameter" in known:
        return {"diameter": _figure(after / WIDER), "to_diameter": after}
    return {"diameter": after} if "diameter" in known and name != "ball knob" else {}


def mended(
    forms: Sequence[Mapping[str, Any]],
    unit: float,
    surface: Surface,
    started: Mapping[int, float] | None = None,
) -> list[Form]:
    """The forms with what no longer fits its neighbour left out: a diameter that disagrees, a corner without a corner.

    started: at which diameter forms started before, by their place in the list, in the unit: the first form is given
    that where it has none.
    """
    out: list[Form] = []
    for i, form in enumerate(forms):
        ways = _ways(out, dict(form), (started or {}).get(i), unit, surface)
        out = next((way for way in ways if _fits(way, unit, surface)), ways[0])
    while out and out[-1].get("form") in CORNERS:
        out.pop()
    return out


def _ways(before: list[Form], form: Form, started: float | None, unit: float, surface: Surface) -> list[list[Form]]:
    """Ways to go on with a form, the one that changes least first."""
    bare = {key: value for key, value in form.items() if key != "diameter"}
    ways = [[*before, form]]
    if started and not any(each.get("form") not in CORNERS for each in before):
        ways.append([*before, {**form, "diameter": started}])
    if "diameter" in form:
        ways.append([*before, bare])
    if "to" in form:  # it would end in front of its start
        ways += [[*before, _without_end(each)] for each in (form, bare)]
    own = diameters([form], unit, surface)[0]
    if own and own[0] and before:  # a step to where it starts
        ways.append([*before, {"form": "face", "diameter": own[0]}, form])
    if before and before[-1].get("form") in CORNERS:  # the corner that it worked on is gone
        ways += [[*before[:-1], *way[len(before) :]] for way in list(ways)]
    return ways


def _without_end(form: Form) -> Form:
    return {**{key: value for key, value in form.items() if key != "to"}, "length": LONG}


def _fits(forms: Sequence[Form], unit: float, surface: Surface) -> bool:
    """Whether the forms can be drawn, as far as they go: a corner at the end waits for the next one."""
    many = len(forms)
    while many and forms[many - 1].get("form") in CORNERS:
        many -= 1
    if len(forms) - many > 1:
        return False
    return not many or _drawn(forms[:many], unit, surface) is not None


def _drawn(forms: Sequence[Mapping[str, Any]], unit: float, surface: Surface) -> Chain | None:
    try:
        return chain_from_forms(forms, unit, surface)
    except JobFaults:
        return None


def _size(radius: float, unit: float) -> float:
    return _figure(2 * radius / unit)


def _figure(value: float) -> float:
    return round(value, DECIMALS) + 0.0
