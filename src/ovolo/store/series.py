"""Equal parts one after the other: what a run takes over from the one before, as it was sent, checked."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from typing import Any

from ovolo.errors import Fault, FaultsFound

__all__ = ["Series", "next_of"]

Series = Mapping[str, Any]
"""part: the number of this part; parts: how many in all, None where that is not known; every: measured every so many;
minutes: what each part before took; rechucked: whether the piece was clamped anew; carried: by how much the figures of
a tool's slide are shifted from the beginning, {"tool", "slide", "by"} each."""

MOST_PARTS = 10_000
LONGEST = 100_000.0
MOST_CARRIED = 100
SLIDES = ("cross", "saddle", "top")
FIELDS = ("parts", "every", "minutes", "rechucked", "carried")


def next_of(before: Series, sent: Mapping[str, Any], tools: Collection[str]) -> dict[str, Any]:
    """The series of the part after the one of `before` ({} for the first). Raises FaultsFound with all that is wrong
    with what was sent."""
    faults = [*_unknown(sent), *_number_faults(sent)]
    carried = sent.get("carried", [])
    if not isinstance(carried, list) or len(carried) > MOST_CARRIED:
        faults.append(Fault("carried", None, "a list", "something else stands there", "Send a list of shifts"))
        carried = []
    faults += [fault for i, one in enumerate(carried) for fault in _shift_faults(f"carried[{i}]", one, tools)]
    if faults:
        raise FaultsFound(faults)
    part, minutes = int(before.get("part", 1)), list(before.get("minutes", []))
    return {
        "part": part + 1,
        "parts": sent.get("parts"),
        "every": sent.get("every", 1),
        "minutes": [*minutes, round(float(sent.get("minutes", 0.0)), 1)],
        "rechucked": bool(sent.get("rechucked", True)),
        "carried": [{"tool": one["tool"], "slide": one["slide"], "by": float(one["by"])} for one in carried],
    }


def _unknown(sent: Mapping[str, Any]) -> list[Fault]:
    limit = ", ".join(FIELDS)
    says, remedy = "the next part has no such field", "Leave it out"
    return [Fault(str(name)[:40], None, limit, says, remedy) for name in sent if name not in FIELDS]


def _number_faults(sent: Mapping[str, Any]) -> list[Fault]:
    found = []
    for name in ("parts", "every"):
        value = sent.get(name)
        whole = isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= MOST_PARTS
        if value is not None and not whole:
            found.append(_no_parts(name, value))
    if "every" in sent and sent["every"] is None:
        found.append(_no_parts("every", None))
    minutes = sent.get("minutes", 0.0)
    if not _is_number(minutes) or not 0 <= minutes <= LONGEST:
        found.append(Fault("minutes", _shown(minutes), f"0 to {LONGEST:g}", "this is no time", "Send minutes"))
    if not isinstance(sent.get("rechucked", True), bool):
        found.append(Fault("rechucked", None, "true or false", "neither stands there", "Send one of them"))
    return found


def _no_parts(name: str, value: Any) -> Fault:
    return Fault(name, _shown(value), f"1 to {MOST_PARTS}", "this is no number of parts", "Send a number")


def _shift_faults(where: str, one: Any, tools: Collection[str]) -> list[Fault]:
    good = isinstance(one, dict) and set(one) == {"tool", "slide", "by"} and _is_number(one["by"])
    if good and one["tool"] in tools and one["slide"] in SLIDES and abs(one["by"]) <= LONGEST:
        return []
    limit = "a tool of the plan, a slide, and by how much"
    return [Fault(where, None, limit, "this is no shift", 'Send such as {"tool": "…", "slide": "cross", "by": -0.04}')]


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _shown(value: Any) -> Any:
    return value if isinstance(value, int | str) or _is_number(value) else None
