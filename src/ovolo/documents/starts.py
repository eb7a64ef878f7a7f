"""Forms to start a job from: their sizes with usual values, and the outline that they make.

Each ends in a plain cylinder where the part is cut off or gripped, and rounds the corner of a neck so that the round
nose of the usual drawer fits in. The values are of the scenario of the examples; common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from ovolo.part.part import Surface
from ovolo.units import Unit, parse_length

__all__ = ["STARTS", "Start", "usual_size"]

Form = dict[str, Any]
Sizes = Mapping[str, float]


@dataclass(frozen=True)
class Start:
    """A form to start from: its sizes with their usual values (mm, in), and the forms that they make, sizes in mm.

    material: what such a part is usually made of.
    """

    says: str
    sizes: Mapping[str, tuple[str, str]]
    forms: Callable[[Sizes], list[Form]]
    surface: Surface = "outside"
    material: str = "mild steel"


def usual_size(start: Start, name: str, unit: Unit, told: Mapping[str, str]) -> str:
    """The usual value of a size as text; a dome is whole unless its height is given.

    >>> usual_size(STARTS["dome"], "height", "mm", {"diameter": "5/8 in"})
    '7.937500 mm'
    """
    if name == "height":
        return f"{parse_length(told['diameter'], unit) / 2:.6f} mm"
    return start.sizes[name][unit == "in"]


def _dome(s: Sizes) -> list[Form]:
    dome = {"form": "dome", "diameter": s["diameter"], "height": s["height"]}
    return [dome, {"form": "cylinder", "to": -s["length"]}]


def _end_radius(s: Sizes) -> list[Form]:
    bar = {"form": "cylinder", "diameter": s["diameter"], "length": s["length"]}
    return [{"form": "end radius", "radius": s["radius"]}, bar]


def _ball(s: Sizes) -> list[Form]:
    ball = {"form": "ball", "diameter": s["diameter"], "neck": s["neck"]}
    return [ball, {"form": "fillet", "radius": s["fillet"]}, {"form": "cylinder", "length": s["length"]}]


def _taper(s: Sizes) -> list[Form]:
    taper = {"form": "taper", "diameter": s["diameter"], "to_diameter": s["to_diameter"], "length": s["length"]}
    return [taper, {"form": "cylinder", "length": s["end"]}]


def _crown(s: Sizes) -> list[Form]:
    crown = {"form": "crown", "diameter": s["diameter"], "rise": s["rise"], "length": s["length"]}
    return [crown, {"form": "cylinder", "length": s["end"]}]


def _handle(s: Sizes) -> list[Form]:
    """A domed end, then a smooth curve: belly a third of the way along, waist at four fifths, as thick again behind."""
    along = s["length"]
    places = (0.0, s["end"]), (along / 3, s["belly"]), (0.8 * along, s["waist"]), (along, s["end"])
    through = [[z, d] for z, d in places]
    last = {"form": "cylinder", "length": s["shank"]}
    return [{"form": "dome", "diameter": s["end"]}, {"form": "handle", "through": through}, last]


def _bell_mouth(s: Sizes) -> list[Form]:
    mouth = {"form": "bell mouth", "diameter": s["diameter"], "radius": s["radius"]}
    return [mouth, {"form": "cylinder", "to": -s["length"]}]


def _groove(s: Sizes) -> list[Form]:
    cove = {"form": "cove", "length": s["width"], "depth": s["depth"]}
    first = {"form": "cylinder", "diameter": s["diameter"], "length": s["length"]}
    return [first, cove, {"form": "cylinder", "length": s["length"]}]


def _fillet(s: Sizes) -> list[Form]:
    neck = {"form": "cylinder", "diameter": s["diameter"], "length": s["length"]}
    shoulder = {"form": "face", "diameter": s["shoulder"]}
    return [neck, {"form": "fillet", "radius": s["radius"]}, shoulder, {"form": "cylinder", "length": s["end"]}]


STARTS: dict[str, Start] = {
    "dome": Start(
        "a domed end on a pin",
        {"diameter": ("18", "0.75"), "height": ("9", "0.375"), "length": ("24", "1")},
        _dome,
    ),
    "end radius": Start(
        "a rounded corner at the end of a bar",
        {"diameter": ("20", "0.75"), "radius": ("4", "0.125"), "length": ("24", "1")},
        _end_radius,
    ),
    "ball": Start(
        "a ball on the end of a lever",
        {"diameter": ("25", "0.9375"), "neck": ("12", "0.5"), "fillet": ("3", "0.125"), "length": ("10", "0.375")},
        _ball,
    ),
    "taper": Start(
        "a tapered dowel",
        {
            "diameter": ("12", "0.5"),
            "to_diameter": ("14", "0.5625"),
            "length": ("40", "1.5"),
            "end": ("5", "0.1875"),
        },
        _taper,
    ),
    "crown": Start(
        "the crown of a belt pulley",
        {"diameter": ("80", "3"), "rise": ("0.5", "0.02"), "length": ("40", "1.5"), "end": ("5", "0.1875")},
        _crown,
        material="cast iron",
    ),
    "handle": Start(
        "a handle, smooth through three diameters",
        {
            "end": ("14", "0.5625"),
            "belly": ("20", "0.8125"),
            "waist": ("12", "0.5"),
            "length": ("60", "2.375"),
            "shank": ("5", "0.1875"),
        },
        _handle,
    ),
    "bell mouth": Start(
        "the mouth of a bush",
        {"diameter": ("20", "0.75"), "radius": ("4", "0.125"), "length": ("30", "1.25")},
        _bell_mouth,
        "bore",
        "bronze",
    ),
    "groove": Start(
        "a hollow groove round a pin",
        {"diameter": ("20", "0.75"), "width": ("10", "0.375"), "depth": ("2.5", "0.09375"), "length": ("15", "0.625")},
        _groove,
    ),
    "fillet": Start(
        "a fillet at a shoulder",
        {
            "diameter": ("16", "0.625"),
            "shoulder": ("26", "1"),
            "radius": ("4", "0.1875"),
            "length": ("20", "0.75"),
            "end": ("8", "0.3125"),
        },
        _fillet,
    ),
}
"""The forms by their names."""
