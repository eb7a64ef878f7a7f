"""How near is the same: the few tolerances that all rooms share, each with its reason.

A module that needs another one names it for what it decides there and says why.
"""

__all__ = ["LEVEL", "ROUNDING", "SAME_PLACE", "SEEN", "WRITTEN"]

ROUNDING = 1e-9
"""What the rounding of a computation may be off, mm or radians: a millionth of what any count of a slide is."""

SAME_PLACE = 1e-6
"""Places nearer than this are one, mm: a nanometre decides nothing, and figures that differ by less are the same."""

WRITTEN = 1e-5
"""Places are written to this, mm: what is read back may be off by as much, and so may what was worked out from it."""

SEEN = 1e-4
"""What is lower or shorter than this is not there for anyone at a lathe, mm."""

LEVEL = 1e-6
"""What leans by less than this is a cylinder or a face, sine of the angle: over a metre it comes to a micrometre."""
