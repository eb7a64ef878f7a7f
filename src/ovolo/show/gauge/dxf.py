"""The gauge as DXF of release 2010 in mm, for a laser or a router: true arcs where there is no kerf."""

import math
import re
from io import StringIO
from typing import Any

from ovolo.geometry.segments import Arc, Segment
from ovolo.show.gauge.shape import Plate, widened
from ovolo.show.gauge.template import BARS, GaugeView, bar_text

__all__ = ["gauge_as_dxf"]

_LAYERS = {"cut": 25, "witness": 13, "words": 13}
"""What to cut, and what to engrave or leave out, with its line weight in 1/100 mm."""

_GAP = 12.0


def gauge_as_dxf(view: GaugeView) -> str:
    """The plates one above the other, (z, r) as (x, y); bars, names and witness lines on layers of their own."""
    from ezdxf.filemanagement import new

    made = new("R2010", setup=False, units=4)
    made.header["$MEASUREMENT"] = 1
    for name, weight in _LAYERS.items():
        made.layers.add(name, lineweight=weight)
    space: Any = made.modelspace()
    up = 0.0
    for shape in view.plates:
        _, r0, _, r1 = shape.bounds
        _add_plate(space, view, shape, up - r0)
        up += r1 - r0 + _GAP
    _add_bar(space, view)
    out = StringIO()
    made.write(out)
    return _undated(out.getvalue())


def _add_plate(space: Any, view: GaugeView, shape: Plate, up: float) -> None:
    if view.kerf:
        for ring in _rings(widened(shape, view.kerf)):
            space.add_lwpolyline([(z, r + up) for z, r in ring], close=True, dxfattribs={"layer": "cut"})
    else:
        for segment in shape.segments:
            _add(space, segment, up)
    outward = -1 if view.bore else 1
    for witness in view.witnesses:
        foot, far = (witness.z, witness.r + up), (witness.z, witness.r + up + outward * 3.0)
        space.add_line(foot, far, dxfattribs={"layer": "witness"})
        words = space.add_text(witness.text.replace("Ø", "%%c"), height=1.8, rotation=90, dxfattribs={"layer": "words"})
        words.set_placement((witness.z + 0.9, far[1] + (0.8 if outward > 0 else -9.0)))


def _rings(region: Any) -> list[list[tuple[float, float]]]:
    return [[(x, y) for x, y in list(part.exterior.coords)[:-1]] for part in getattr(region, "geoms", [region])]


def _add(space: Any, segment: Segment, up: float) -> None:
    layer = {"layer": "cut"}
    if not isinstance(segment, Arc):
        space.add_line((segment.start.x, segment.start.y + up), (segment.end.x, segment.end.y + up), dxfattribs=layer)
        return
    first, last = (segment.start, segment.end) if segment.ccw else (segment.end, segment.start)
    centre = segment.centre
    angles = [math.degrees(math.atan2(p.y - centre.y, p.x - centre.x)) for p in (first, last)]
    space.add_arc((centre.x, centre.y + up), segment.radius, *angles, dxfattribs=layer)


def _add_bar(space: Any, view: GaugeView) -> None:
    """A bar of 50 mm or 2 in below the plates, with its ends marked, and what the gauge is for."""
    x, y, bar = min(shape.bounds[0] for shape in view.plates), -_GAP, BARS[view.unit]
    for a, b in (((x, y), (x + bar, y)), ((x, y - 1.5), (x, y + 1.5)), ((x + bar, y - 1.5), (x + bar, y + 1.5))):
        space.add_line(a, b, dxfattribs={"layer": "words"})
    for words, low in ((bar_text(view.unit), 2.0), (view.title, -5.5)):
        space.add_text(words, height=2.5, dxfattribs={"layer": "words"}).set_placement((x, y + low))


def _undated(words: str) -> str:
    """Without the day and the chance numbers that the library writes: the same gauge gives the same file."""
    lines = words.split("\n")
    for k, line in enumerate(lines[:-2]):
        if line.strip() in _CHANGING:
            lines[k + 2] = _CHANGING[line.strip()]
    return _STAMP.sub("1970-01-01T00:00:00+00:00", "\n".join(lines))


_STAMP = re.compile(r"\d{4}-\d{2}-\d{2}T[0-9:.]+\+00:00")


_GUID = "{00000000-0000-0000-0000-000000000000}"
_CHANGING = {
    "$TDCREATE": "0.0", "$TDUCREATE": "0.0", "$TDUPDATE": "0.0", "$TDUUPDATE": "0.0",
    "$FINGERPRINTGUID": _GUID, "$VERSIONGUID": _GUID,
}  # fmt: skip
