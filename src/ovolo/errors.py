"""What can go wrong, as one small tree.

::

    OvoloError                  anything that Ovolo reports on purpose; catch this one at the edge
    ├── FaultsFound             one or more faults, all found in one go
    │   ├── JobFaults           a document is wrong: job, plan, readings, a form on a page
    │   └── CannotPlan          the job is well formed, but no plan can fulfil it
    └── OutputError             a file cannot be written

A `Fault` says where, which value, what is allowed, what is wrong and what to do about it, and looks the
same on the command line, on the pages and in JSON. Anything raised that is not an `OvoloError` is a
mistake of ours.
"""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["CannotPlan", "Fault", "FaultsFound", "JobFaults", "OutputError", "OvoloError", "printable", "spoken_place"]


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong, in words that a person can act on.

    where:  the place, as a path into the document ("part.outline[1].convex"), or a file, or an option.
    value:  what was found there; None where nothing was.
    limit:  what would be allowed ("more than 0"); empty where there is no such limit.
    says:   what is wrong, without a full stop.
    remedy: what to do, without a full stop.
    answer: where the value may be meant after all, the word that says so in the job's `sure`; else empty.

    >>> print(Fault("part.outline[1].convex", -3, "more than 0", "the radius is negative", "Write 3 or leave it out"))
    part.outline, point 2: convex: the radius is negative (given: -3; allowed: more than 0). Write 3 or leave it out.
    """

    where: str
    value: object
    limit: str
    says: str
    remedy: str
    answer: str = ""

    def as_dict(self) -> dict[str, object]:
        """The fault as a JSON object, `value` as text where JSON has no such value (NaN, a path, a date)."""
        answer = {"answer": self.answer} if self.answer else {}
        return {
            "where": self.where,
            "value": _plain(self.value),
            "limit": self.limit,
            "says": self.says,
            "remedy": self.remedy,
            **answer,
        }

    def __str__(self) -> str:
        given = [] if self.value is None else [f"given: {_shown(self.value)}"]
        allowed = [f"allowed: {self.limit}"] if self.limit else []
        facts = "; ".join(given + allowed)
        place = spoken_place(self.where)
        head = f"{place}: {self.says}" if place else self.says
        return _sentence(f"{head} ({facts})" if facts else head) + (f" {_sentence(self.remedy)}" if self.remedy else "")


def spoken_place(where: str) -> str:
    """A path into a document as people count: from 1, as the pages do.

    >>> spoken_place("part.outline[1].convex"), spoken_place("tool[0].nose_radius"), spoken_place("stock.diameter")
    ('part.outline, point 2: convex', 'tool 1: nose_radius', 'stock.diameter')
    """

    if not _COUNTED_PATH.fullmatch(where):
        return where
    return re.sub(r"\[(\d+)\]\.?", _counted, where).removesuffix(": ")


_COUNTED_PATH = re.compile(r"[a-z_]+(\.[a-z_]+)*\[\d+\](\.[a-z_]+|\[\d+\])*")


def _counted(found: re.Match[str]) -> str:
    """One count of a path: points of an outline are called so, other things by their own name."""
    kind = ", point" if found.string[: found.start()].endswith("outline") else ""
    return f"{kind} {int(found[1]) + 1}: "


class OvoloError(Exception):
    """Anything that Ovolo reports on purpose; its text is meant for the person at the machine."""

    faults: tuple[Fault, ...] = ()


class FaultsFound(OvoloError):
    """One or more faults, found together; `faults` keeps their order."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        if not self.faults:
            raise ValueError(
                f"{type(self).__name__} needs at least one fault, got none: raise it only if there are some"
            )
        super().__init__(self.faults)

    def __str__(self) -> str:
        return "\n".join(str(fault) for fault in self.faults)


class JobFaults(FaultsFound, ValueError):
    """A document is wrong: it cannot be read, or says something impossible.

    It is a ValueError too, so that validation at the edges collects it among the others.
    """


class CannotPlan(FaultsFound):
    """The job is well formed, but the tools, the stock or the slides cannot fulfil it."""


class OutputError(OvoloError):
    """A file cannot be written; carries one fault that names the file.

    >>> str(OutputError(Fault("out/pin.svg", None, "", "the folder does not exist", "Make the folder first")))
    'out/pin.svg: the folder does not exist. Make the folder first.'
    """

    def __init__(self, fault: Fault) -> None:
        self.faults = (fault,)
        super().__init__(fault)

    def __str__(self) -> str:
        return str(self.faults[0])


def _plain(value: object) -> object:
    """The value itself where JSON can hold it, its text where not."""
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return value if math.isfinite(value) else str(value)
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if isinstance(value, dict):
        return {str(key): _plain(item) for key, item in value.items()}
    return str(value)


def printable(text: str) -> str:
    """A text without control characters: what a file holds must not steer the terminal.

    >>> printable("layer \x1b[31m1")
    'layer ?[31m1'
    """
    return "".join(c if c.isprintable() or c == "\n" else "?" for c in text)


def _shown(value: object, most: int = 60) -> str:
    """The value on one line, cut short where it is long: a fault quotes, it does not recite."""
    text = repr(value) if isinstance(value, str | int | float | list | tuple | dict) else str(value)
    return text if len(text) <= most else text[: most - 1] + "…"


def _sentence(text: str) -> str:
    return text if text.endswith((".", "!", "?", "…")) else text + "."
