"""Drawing files as outlines, and outlines as drawing files."""

from ovolo.part.files.drawing import Asked, Drawing, Dropped, Placement
from ovolo.part.files.dxf import read_dxf

__all__ = ["Asked", "Drawing", "Dropped", "Placement", "read_dxf"]
