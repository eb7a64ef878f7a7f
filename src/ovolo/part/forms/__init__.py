"""Forms: ready shapes, chained from the free end toward the chuck, as plain functions and as data.

As functions, in mm, each takes the chain drawn so far and returns a longer one::

    chain = dome(Chain(), diameter=18)
    chain = cylinder(chain, length=15)
    outline = chain.outline()

As data, `outline_from_forms` takes what a job's `[[part.form]]` holds.
"""

from ovolo.part.forms.chain import Chain
from ovolo.part.forms.corners import chamfer, end_radius, fillet, undercut
from ovolo.part.forms.curves import bead, cove, crown, handle, ogee
from ovolo.part.forms.document import chain_from_forms, outline_from_forms
from ovolo.part.forms.ends import ball, bell_mouth, dome, ellipse
from ovolo.part.forms.fields import AnyForm
from ovolo.part.forms.standard import ball_knob, centre_hole_r, morse_taper, standard_undercut
from ovolo.part.forms.straight import cylinder, face, taper

__all__ = [
    "AnyForm",
    "Chain",
    "ball",
    "ball_knob",
    "bead",
    "bell_mouth",
    "centre_hole_r",
    "chain_from_forms",
    "chamfer",
    "cove",
    "crown",
    "cylinder",
    "dome",
    "ellipse",
    "end_radius",
    "face",
    "fillet",
    "handle",
    "morse_taper",
    "ogee",
    "outline_from_forms",
    "standard_undercut",
    "taper",
    "undercut",
]
