"""What drawings of the pages share: mm as they are, z to the right, r upward, fine enough to look at a micron."""

from shapely.geometry.base import BaseGeometry

from ovolo.show.paper.section import Section
from ovolo.show.paper.shapes import Place, exact_path
from ovolo.show.paper.svg import line, path

__all__ = ["FAR", "HALVES", "METAL", "SCENE", "TO_GO", "axis", "fine", "section_lines"]

SCENE = Place(0.0, 0.0, 1.0, digits=5)
"""The half that is cut open, as a page draws it."""

HALVES = (SCENE, SCENE.other_half)

FAR = 300.0
"""How far bar and axis go on beyond what is looked at, mm."""

KEEP = 2e-5
"""A region's border may move by so much, mm, to keep pages small."""

METAL = (
    '<pattern id="metal" width="1" height="1" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<line class="hatch" x1="0.5" y1="0" x2="0.5" y2="1"/></pattern>'
)
TO_GO = (
    '<pattern id="to-go" width="1" height="1" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">'
    '<rect class="to-go" width="1" height="1"/><line class="to-go-hatch" x1="0.5" y1="0" x2="0.5" y2="1"/></pattern>'
)
"""Hatchings; the page keeps their lines as far apart as the eye wants at each scale."""


def fine(region: BaseGeometry, half: Place = SCENE, keep: float = KEEP) -> str:
    """The `d` of a region of (z, r)."""
    return exact_path(region, half, keep)


def section_lines(section: Section, *, blank: bool = True) -> list[str]:
    """The lines of a half-section in both halves."""
    pieces = []
    for half in HALVES:
        pieces += [path(section.blank(half), "stock")] if blank else []
        pieces += [path(d, "edge") for d in section.edges(half)]
        pieces += [path(d, "unseen") for d in section.unseen(half)]
    return pieces


def axis(left: float, width: float) -> str:
    """The axis across what is looked at and beyond."""
    return line((left - FAR, 0), (left + width + FAR, 0), "axis")
