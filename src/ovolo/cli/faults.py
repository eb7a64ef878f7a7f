"""Faults on the screen: one block each, the place first."""

from ovolo.errors import Fault, OvoloError, printable, spoken_place

__all__ = ["blocks"]


def blocks(error: OvoloError) -> str:
    """Every fault of an error, one block each, and how many there are where it is more than one; then its notes."""
    faults = error.faults
    if not faults:
        return printable(str(error))
    head = [f"{len(faults)} things are wrong:"] if len(faults) > 1 else []
    notes = [printable(note) for note in getattr(error, "__notes__", ())]
    return "\n\n".join([*head, *(_block(fault) for fault in faults), *notes])


def _block(fault: Fault) -> str:
    """The place, what is wrong there, what was given and allowed, what to do."""
    given = fault.as_dict()["value"]
    place = spoken_place(fault.where)
    lines = [f"{place}: {fault.says}" if place else fault.says]
    if given is not None:
        lines.append(f"    given:   {_short(given)}")
    if fault.limit:
        lines.append(f"    allowed: {fault.limit}")
    if fault.remedy:
        lines.append(f"    {fault.remedy}" + ("" if fault.remedy.endswith(("?", ".")) else "."))
    return "\n".join(printable(line) for line in lines)


def _short(value: object, most: int = 70) -> str:
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= most else text[: most - 1] + "…"
