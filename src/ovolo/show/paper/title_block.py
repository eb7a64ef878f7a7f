"""The title block of a drawing (ISO 7200): job, material, scale, the plan by its checksum, what wrote it."""

from dataclasses import dataclass
from importlib.metadata import version

from ovolo.documents.plan.document import plan_as_data
from ovolo.plan.model import Plan
from ovolo.show.paper.lettering import breadth
from ovolo.show.paper.svg import line, text

__all__ = ["TitleBlock", "draw_title_block", "shortened", "title_block"]

SIZE = 3.5
_LABEL = 2.5


@dataclass(frozen=True)
class TitleBlock:
    """What identifies a sheet."""

    title: str
    material: str
    tools: str
    unit: str
    plan: str
    written_by: str


def title_block(plan: Plan) -> TitleBlock:
    """The title block of a plan."""
    return TitleBlock(
        title=plan.job.title,
        material=plan.job.part.material,
        tools=", ".join(tool.name for tool in plan.tools),
        unit="millimetres" if plan.job.units == "mm" else "inches",
        plan=str(plan_as_data(plan)["checksum"]),
        written_by=f"Ovolo {version('ovolo')}",
    )


def draw_title_block(block: TitleBlock, x: float, y: float, width: float, height: float, scale: str) -> list[str]:
    """The block in a rectangle of paper: two broad fields above, a row of small ones below."""
    row = height / 3
    rows = (
        [("Title", block.title, 1.0)],
        [("Material", block.material, 0.4), ("Tools", block.tools, 0.6)],
        [
            ("Scale", scale, 0.2),
            ("Unit", block.unit, 0.25),
            ("Plan", block.plan, 0.25),
            ("Written by", block.written_by, 0.3),
        ],
    )
    pieces = [line((x, y), (x, y + height), "edge")]
    for k, fields in enumerate(rows):
        top, left = y + k * row, x
        if k:
            pieces.append(line((x, top), (x + width, top), "thin"))
        for label, words, share in fields:
            pieces += _field(label, words, left, top, share * width, row, strong=k == 0)
            left += share * width
            if left < x + width - 1:
                pieces.append(line((left, top), (left, top + row), "thin"))
    return pieces


def _field(label: str, words: str, x: float, y: float, width: float, height: float, *, strong: bool) -> list[str]:
    """A label, small, and what it says; smaller type where it is long, cut with an ellipsis where that does not do."""
    size = 5.0 if strong else SIZE
    room = width - 4.0
    while size > _LABEL and breadth(words, size, strong=strong) > room:
        size -= 0.25
    words = shortened(words, size, room, strong=strong)
    return [
        text((x + 2, y + 2.3), label, _LABEL, cls="faint"),
        text((x + 2, y + 0.64 * height), words, size, cls="strong" if strong else ""),
    ]


def shortened(words: str, size: float, room: float, *, strong: bool = False) -> str:
    """The words that fit, the rest as an ellipsis.

    >>> shortened("A very long title indeed", 3.5, 21.5)
    'A very long…'
    """
    if breadth(words, size, strong=strong) <= room:
        return words
    while words and breadth(words + "…", size, strong=strong) > room:
        words = words[:-1]
    return words.rstrip() + "…"
