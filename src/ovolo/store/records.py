"""What the store hands out, and what it refuses."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal

from ovolo.errors import Fault, OvoloError

Kind = Literal["job", "shop"]
Document = Mapping[str, Any]


@dataclass(frozen=True)
class Summary:
    """One line of a list: which document, what it is called, when it was last changed, when deleted."""

    id: str
    kind: Kind
    title: str
    changed: datetime
    deleted: datetime | None


@dataclass(frozen=True)
class Kept:
    """A document as it stands. `revision` grows with every change, undoing included; a save names the one that
    the change was made to. `version` is which of the kept versions is shown."""

    id: str
    kind: Kind
    title: str
    revision: int
    version: int
    document: Document
    can_undo: bool
    can_redo: bool
    deleted: datetime | None


@dataclass(frozen=True)
class Version:
    """One line of a document's history: what was done to the version `parent`, and when."""

    n: int
    parent: int | None
    said: str
    made: datetime
    shown: bool


@dataclass(frozen=True)
class RunSummary:
    """One line of the list of runs: whose plan it is, when it was made, how many moves there are and were ticked."""

    id: str
    title: str
    checksum: str
    moves: int
    place: int
    made: datetime


@dataclass(frozen=True)
class KeptRun:
    """A plan at the lathe with its ticks, those of before `since` aside; `place` is the first move not done."""

    id: str
    checksum: str
    moves: int
    ticks: tuple[Mapping[str, Any], ...]
    place: int
    plan: Document | None = None


class NotKept(OvoloError):
    """There is no document of this name in the store."""

    def __init__(self, name: str) -> None:
        super().__init__(f"there is nothing kept under {name[:60]!r}. It may never have been there: look at the list.")


class Changed(OvoloError):
    """The document was changed by someone else meanwhile; `current` is how it stands now. Nothing was written."""

    def __init__(self, current: Kept, named: int) -> None:
        self.current = current
        super().__init__(
            f"{current.title!r} was changed elsewhere: your change was made to revision {named}, it stands at "
            f"{current.revision}. Look at it as it stands, or save yours on top of it: both are kept."
        )


class Damaged(OvoloError):
    """What is kept under a name cannot be read any more; nothing was changed."""

    def __init__(self, name: str, title: str) -> None:
        says = f"what is kept of {title[:60]!r} cannot be read"
        remedy = "Show an older version from its history; the database stays as it is"
        self.faults = (Fault(name, None, "", says, remedy),)
        super().__init__(str(self.faults[0]))
