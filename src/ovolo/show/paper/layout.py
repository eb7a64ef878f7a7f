"""Room on a drawing: what is taken already, and whether a line of text with its lines still finds a place."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from ovolo.show.paper.svg import XY

__all__ = ["Candidate", "Layout", "box_of"]

GAP = 0.5
"""Words keep this far from whatever else is drawn, mm."""

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Candidate:
    """One way to draw something: its pieces, the room that its words take, the lines that it adds.

    `in_column` says that it stands beside the part, so that the next one has to stand further out.
    """

    pieces: tuple[str, ...]
    words: BaseGeometry
    lines: tuple[tuple[XY, XY], ...] = ()
    in_column: bool = False


@dataclass
class Layout:
    """What is taken: words, which nothing may cross, lines, which words may not, and regions, which neither may."""

    area: Box
    words: list[BaseGeometry] = field(default_factory=list)
    lines: list[BaseGeometry] = field(default_factory=list)
    regions: list[BaseGeometry] = field(default_factory=list)

    def add_line(self, points: Sequence[XY]) -> None:
        """Lines that words have to keep off."""
        self.lines.append(shapely.LineString(points))

    def add_region(self, region: BaseGeometry) -> None:
        """A region that words and new lines have to keep off; lines may end on its border."""
        self.lines.append(region)
        self.regions.append(shapely.buffer(region, -GAP / 5))

    def add_words(self, box: BaseGeometry) -> None:
        """Words that stand where they stand."""
        self.words.append(box)

    def first_free(self, candidates: Iterable[Candidate]) -> Candidate | None:
        """The first candidate that touches nothing, entered as taken; None where there is none."""
        for candidate in candidates:
            if self._is_free(candidate):
                self.words.append(candidate.words)
                self.lines.extend(shapely.LineString(line) for line in candidate.lines)
                return candidate
        return None

    def _is_free(self, candidate: Candidate) -> bool:
        room = candidate.words.buffer(GAP, join_style="mitre")
        if not shapely.box(*self.area).contains(candidate.words):
            return False
        if any(room.intersects(taken) for taken in (*self.words, *self.lines)):
            return False
        lines = [shapely.LineString(line) for line in candidate.lines]
        return not any(line.intersects(taken) for line in lines for taken in (*self.words, *self.regions))


def box_of(box: Box, turn_about: XY | None = None) -> BaseGeometry:
    """The room of a line of text; turned a quarter to the left about a point where one is given."""
    shape = shapely.box(*box)
    if turn_about is None:
        return shape
    return affinity.rotate(shape, -90, origin=turn_about)
