"""Drawing files as outlines, and outlines as drawing files.

`read_drawing` reads any of them by its name; each format has a reader of its own.
"""

from ovolo.part.files.drawing import Asked, Drawing, Dropped, Placement
from ovolo.part.files.dxf import read_dxf
from ovolo.part.files.open import read_drawing
from ovolo.part.files.points import read_points
from ovolo.part.files.step import read_step
from ovolo.part.files.svg import read_svg
from ovolo.part.files.write import counted, outline_csv, outline_dxf, outline_points, outline_svg

__all__ = [
    "Asked",
    "Drawing",
    "Dropped",
    "Placement",
    "counted",
    "outline_csv",
    "outline_dxf",
    "outline_points",
    "outline_svg",
    "read_drawing",
    "read_dxf",
    "read_points",
    "read_step",
    "read_svg",
]
