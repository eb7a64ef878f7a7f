"""Makes the drawing files of this folder: python tests/drawings/make.py

All are of one workshop that restores a lifting bridge; each is drawn in another way. The files are kept beside this
script, so that the tests read what a drawing office would send, byte for byte; run it again after a change here.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from io import StringIO
from pathlib import Path
from typing import Any

from ezdxf._options import options
from ezdxf.document import Drawing
from ezdxf.filemanagement import new

HERE = Path(__file__).parent
Build = Callable[[Any, Drawing], None]

PIN = [(0.0, 0.0), (-9.0, 9.0), (-24.0, 9.0)]
"""A bridge pin: a whole dome of R 9 on a shank of 15 mm."""

QUARTER = math.tan(math.pi / 8)  # the bulge of a quarter circle


def _dxf(build: Build, units: int = 4, release: str = "R2000") -> str:
    options.write_fixed_meta_data_for_testing = True
    document = new(release, units=units)
    document.linetypes.add("CENTER", [20, 12.5, -2.5, 2.5, -2.5], description="centre line")
    build(document.modelspace(), document)
    out = StringIO()
    document.write(out)
    return out.getvalue()


def _pin_half(space: Any, _: Drawing) -> None:
    """A closed half-section, one polyline with a bulge."""
    points = [(0, 0, QUARTER), (-9, 9, 0), (-24, 9, 0), (-24, 0, 0)]
    space.add_lwpolyline(points, format="xyb", close=True)


def _pin_r12() -> str:
    """The same pin as a hand-made file of release 12: no header, no units, loose pieces in any order and direction."""
    line = "0\nLINE\n8\n0\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n"
    arc = "0\nARC\n8\n0\n10\n-9.0\n20\n0.0\n40\n9.0\n50\n0.0\n51\n90.0\n"
    body = (
        line.format(-24.0, 0.0, -24.0, 9.0)
        + arc
        + line.format(-24.0, 9.0, -9.0, 9.0)
        + line.format(0.0, 0.0, -24.0, 0.0)
    )
    return f"0\nSECTION\n2\nENTITIES\n{body}0\nENDSEC\n0\nEOF\n"


def _lever_whole(space: Any, document: Drawing) -> None:
    """A ball lever as a whole section: the ball a full circle, a centre line, text, a frame on a layer of its own."""
    document.layers.add("centre", linetype="CENTER")
    document.layers.add("border")
    space.add_circle((100, 50), 12.5)
    for side in (1, -1):
        neck = 100 - math.sqrt(12.5**2 - 36)
        space.add_line((neck, 50 + 6 * side), (60, 50 + 8 * side))
        space.add_line((60, 50 + 8 * side), (60, 50 + 12 * side))
        space.add_line((60, 50 + 12 * side), (50, 50 + 12 * side))
    space.add_line((50, 38), (50, 62))
    space.add_line((45, 50), (120, 50), dxfattribs={"layer": "centre"})
    space.add_text("Winch lever", height=3).set_placement((60, 80))
    space.add_lwpolyline([(0, 0), (200, 0), (200, 140), (0, 140)], close=True, dxfattribs={"layer": "border"})


def _lever_loose(space: Any, _: Drawing) -> None:
    """The same lever as a half-section of loose pieces that miss each other by 5 µm."""
    neck, off = -12.5 - math.sqrt(12.5**2 - 36), 0.005
    end = math.degrees(math.atan2(6, neck + 12.5))
    space.add_line((-52.5, 8 + off), (-52.5, 12))
    space.add_line((-62.5, 12), (-52.5 - off, 12))
    space.add_arc((-12.5, 0), 12.5, 0, end)
    space.add_line((-52.5, 8), (neck, 6 + off))


def _finial_block(space: Any, document: Drawing) -> None:
    """A lamp finial drawn in a block for one half, put in twice, once mirrored; the axis upright, the ball on top."""
    block = document.blocks.new("HALF")
    block.add_arc((0, 10), 10, math.degrees(math.atan2(-8, 6)), 90)
    block.add_arc(
        (6 + 4.5, 2 - 4),
        math.hypot(4.5, 4),
        180 - math.degrees(math.atan2(4, 4.5)),
        180 + math.degrees(math.atan2(4, 4.5)),
    )
    block.add_line((6, -6), (12, -6))
    block.add_line((12, -6), (12, -20))
    for across in (1, -1):
        space.add_blockref("HALF", (40, 70), dxfattribs={"xscale": across})


def _bush(space: Any, document: Drawing) -> None:
    """A bronze bush in half-section: an elliptical bell mouth leads into its bore; the axis is a centre line."""
    document.layers.add("centre line", linetype="CENTER")
    space.add_ellipse((-6, 15), (6, 0), 5 / 6, -math.pi / 2, 0)
    space.add_lwpolyline([(-6, 10), (-40, 10), (-40, 18), (0, 18), (0, 15)])
    space.add_line((-50, 0), (10, 0), dxfattribs={"layer": "centre line"})


def _handle_spline(space: Any, _: Drawing) -> None:
    """A handle as a spline through five points, then a ferrule; drawn below the axis, the free end on the left."""
    space.add_spline(fit_points=[(10, 0, 0), (14, -7, 0), (40, -12, 0), (75, -8, 0), (95, -10, 0)])
    space.add_line((95, -10), (110, -10))


def _dowel_inch(space: Any, _: Drawing) -> None:
    """A tapered dowel in inches: lines drawn twice, in pieces, one over another."""
    space.add_lwpolyline([(0, 0), (0, 0.21), (-0.04, 0.25), (-1.5, 0.28), (-2, 0.28)])
    space.add_line((-2, 0.28), (-1.5, 0.28))
    space.add_line((0, 0), (0, 0.15))
    space.add_line((0, 0.1), (0, 0.21))
    space.add_line((-1.7, 0.28), (-2.2, 0.28))


def _pulley_turned(space: Any, document: Drawing) -> None:
    """A crowned pulley's rim, its whole drawing turned by 30 degrees."""
    document.layers.add("axis", linetype="CENTER")
    c, s = math.cos(math.radians(30)), math.sin(math.radians(30))

    def at(x: float, y: float) -> tuple[float, float]:
        return 20 + c * x - s * y, 35 + s * x + c * y

    half = math.degrees(math.asin(20 / 200))
    centre = at(-20, 40 - math.sqrt(200**2 - 20**2))
    space.add_arc(centre, 200, 90 - half + 30, 90 + half + 30)
    space.add_line(at(0, 40), at(0, 36))
    space.add_line(at(-40, 40), at(-60, 40))
    space.add_line(at(-70, 0), at(10, 0), dxfattribs={"layer": "axis"})


def _crossing(space: Any, _: Drawing) -> None:
    """An outline that crosses itself."""
    space.add_lwpolyline([(0, 0), (0, 8), (-20, 8), (-20, 14), (-10, 14), (-10, 4), (-30, 4)])


def _touching(space: Any, _: Drawing) -> None:
    """An outline that comes down to the axis between its ends."""
    space.add_lwpolyline([(0, 0), (-10, 9), (-12, 0), (-14, 9), (-24, 9)])


def _tilted(space: Any, _: Drawing) -> None:
    """A line that leaves the plane."""
    space.add_line((0, 9, 0), (-24, 9, 3))


def _cyclic(space: Any, document: Drawing) -> None:
    """A block that holds itself, by way of another."""
    one, two = document.blocks.new("ONE"), document.blocks.new("TWO")
    one.add_blockref("TWO", (0, 0))
    two.add_blockref("ONE", (1, 0))
    space.add_blockref("ONE", (0, 0))


def _unfolding(space: Any, document: Drawing) -> None:
    """Blocks in blocks: a hundred lines of file that unfold into ten thousand million lines."""
    block = document.blocks.new("B0")
    block.add_line((0, 0), (1, 1))
    for k in range(1, 11):
        block = document.blocks.new(f"B{k}")
        for j in range(10):
            block.add_blockref(f"B{k - 1}", (j, 0))
    space.add_blockref("B10", (0, 0))


def _not_a_number() -> str:
    return _pin_r12().replace("-24.0", "nan", 1)


_SVG = '<svg xmlns="http://www.w3.org/2000/svg" {}>\n{}\n</svg>\n'
_A4 = 'width="60mm" height="40mm" viewBox="0 0 60 40"'


def _pin_svg() -> str:
    """The pin as one closed path with an arc, y down."""
    return _SVG.format(_A4, '<path fill="none" stroke="black" d="M 50 20 A 9 9 0 0 0 41 11 H 26 V 20 Z"/>')


def _finial_svg() -> str:
    """A finial whose bulb is drawn with Béziers, upright, scaled and shifted by transforms, with an axis in a group."""
    path = '<path d="M 0 0 C 4 0 8 4 8 9 S 3 15 3 18 L 3 20 Q 3 22 6 22 L 6 30"/>'
    axis = '<g id="axis"><path d="M 0 -5 V 35"/></g>'
    body = f'<g transform="translate(30 2) scale(1.2)"><g id="profile">{path}</g>{axis}</g>'
    return _SVG.format('width="60mm" height="40mm" viewBox="0 0 60 40"', body)


def _lever_svg() -> str:
    """A lever in inches: basic shapes, one half used twice, a whole section."""
    half = '<path id="half" d="M 1 0.5 A 0.5 0.5 0 0 1 0.1 0.8 L 0.1 0.8 V 0.7 L -1 0.75"/>'
    body = f'<defs>{half}</defs><use href="#half"/><use href="#half" transform="matrix(1 0 0 -1 0 1)"/>'
    body += '<line class="centre" x1="-1.2" y1="0.5" x2="1.2" y2="0.5"/>'
    return _SVG.format('width="3in" height="2in" viewBox="-1.5 -0.5 3 2"', body)


def _entities_svg() -> str:
    levels = "".join(f'<!ENTITY e{k} "{f"&e{k - 1};" * 10}">' for k in range(1, 10))
    return f'<!DOCTYPE svg [<!ENTITY e0 "M0 0">{levels}]>\n' + _SVG.format(_A4, '<path d="&e9;"/>')


def _clones_svg() -> str:
    groups = "".join(f'<g id="g{k}">{f"""<use href="#g{k - 1}"/>""" * 10}</g>' for k in range(1, 10))
    return _SVG.format(_A4, f'<defs><path id="g0" d="M0 0 L1 1"/>{groups}</defs><use href="#g9"/>')


def _pin_csv() -> str:
    """The pin as points, exact to 1 nm."""
    arc = [(-9 + 9 * math.cos(a), 18 * math.sin(a)) for a in (k * math.pi / 80 for k in range(41))]
    return "\n".join(["z,d", *(f"{z:z.6f},{d:z.6f}" for z, d in arc), "-24,18", ""])


def _measured_csv() -> str:
    """A handle as measured: points 0.5 mm apart that scatter by 0.02 mm, with semicolons and decimal commas."""
    chance = random.Random(7)
    rows = []
    for k in range(161):
        z = -0.5 * k
        d = 20 + 4 * math.cos(z / 14) + chance.gauss(0, 0.02)
        rows.append(f"{z:.3f};{d:.3f}".replace(".", ","))
    return "\n".join(["z;d", *rows, ""])


FILES: dict[str, Callable[[], str]] = {
    "bridge-pin-half.dxf": lambda: _dxf(_pin_half),
    "bridge-pin-r12.dxf": _pin_r12,
    "winch-lever-whole.dxf": lambda: _dxf(_lever_whole),
    "winch-lever-loose.dxf": lambda: _dxf(_lever_loose),
    "lamp-finial-block.dxf": lambda: _dxf(_finial_block),
    "bronze-bush.dxf": lambda: _dxf(_bush),
    "handle-spline.dxf": lambda: _dxf(_handle_spline),
    "dowel-inch.dxf": lambda: _dxf(_dowel_inch, units=1),
    "pulley-turned.dxf": lambda: _dxf(_pulley_turned),
    "bridge-pin.svg": _pin_svg,
    "lamp-finial.svg": _finial_svg,
    "winch-lever-inch.svg": _lever_svg,
    "bridge-pin.csv": _pin_csv,
    "handle-measured.csv": _measured_csv,
    "bad-crossing.dxf": lambda: _dxf(_crossing),
    "bad-touching.dxf": lambda: _dxf(_touching),
    "bad-tilted.dxf": lambda: _dxf(_tilted),
    "bad-cyclic-blocks.dxf": lambda: _dxf(_cyclic),
    "bad-unfolding-blocks.dxf": lambda: _dxf(_unfolding),
    "bad-not-a-number.dxf": _not_a_number,
    "bad-entities.svg": _entities_svg,
    "bad-clones.svg": _clones_svg,
}
"""Each file's name and what is in it."""


def main() -> None:
    """Write every file beside this script."""
    for name, made in FILES.items():
        (HERE / name).write_text(made(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
