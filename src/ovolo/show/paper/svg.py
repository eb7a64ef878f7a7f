"""A small writer of SVG in millimetres: pieces are text, put together by `document`.

How a piece looks is said by its class; what the classes mean stands in `style`. Text stays text: it can be read aloud,
searched and copied.
"""

import math
import re
from collections.abc import Iterable, Sequence
from html import escape
from typing import Literal

from ovolo.show.paper.lettering import MIDDLE, breadth

__all__ = [
    "XY",
    "Anchor",
    "arrow",
    "circle",
    "clip",
    "closed",
    "document",
    "group",
    "line",
    "number",
    "path",
    "polyline",
    "rect",
    "scene",
    "text",
    "text_box",
    "typeset_minus",
]

XY = tuple[float, float]
Anchor = Literal["start", "middle", "end"]

ARROW = 2.6
"""Length of an arrowhead, mm; closed and filled, 15 degrees from flank to flank (ISO 129-1)."""


def number(value: float, digits: int = 3) -> str:
    """A coordinate to a micron on paper, or to so many decimals, without idle zeros.

    >>> number(12.3400), number(-0.0001)
    ('12.34', '0')
    """
    written = f"{value:z.{digits}f}"
    return written.rstrip("0").rstrip(".") if digits else written


def _tag(name: str, attributes: dict[str, str | float | None], inner: str | None = None) -> str:
    parts = [
        f' {key.rstrip("_").replace("_", "-")}="{escape(value) if isinstance(value, str) else number(value)}"'
        for key, value in attributes.items()
        if value is not None
    ]
    head = f"<{name}{''.join(parts)}"
    return f"{head}/>" if inner is None else f"{head}>{inner}</{name}>"


def line(a: XY, b: XY, cls: str) -> str:
    """A straight line.

    >>> line((0, 0), (10, 2.5), "thin")
    '<path class="thin" d="M0 0L10 2.5"/>'
    """
    return path(polyline([a, b]), cls)


def polyline(points: Iterable[XY], digits: int = 3) -> str:
    """The `d` of a path through points, to so many decimals.

    >>> polyline([(0, 0), (1, 0), (1, 2)])
    'M0 0L1 0L1 2'
    """
    return "M" + "L".join(f"{number(x, digits)} {number(y, digits)}" for x, y in points)


def closed(points: Iterable[XY], digits: int = 3) -> str:
    """The `d` of a closed path through points."""
    return polyline(points, digits) + "Z"


def path(d: str, cls: str, **more: str | float | None) -> str:
    """A path by its `d`."""
    return _tag("path", {"class": cls, **more, "d": d})


def rect(x: float, y: float, width: float, height: float, cls: str) -> str:
    """An upright rectangle."""
    return _tag("rect", {"class": cls, "x": x, "y": y, "width": width, "height": height})


def circle(centre: XY, radius: float, cls: str) -> str:
    """A circle."""
    return _tag("circle", {"class": cls, "cx": centre[0], "cy": centre[1], "r": radius})


def text(at: XY, words: str, size: float, *, cls: str = "", anchor: Anchor = "start", turn: float = 0.0) -> str:
    """One line of text, `size` mm of type; its height is centred on `at`, its breadth lies as `anchor` says.

    turn: degrees clockwise about `at`. cls: the class "halo" clears the ground behind the text.

    >>> text((5, 4), "R 9", 3.5)
    '<text x="5" y="5.155" font-size="3.5">R 9</text>'
    """
    x, y = at
    turned = f"rotate({number(turn)} {number(x)} {number(y)})" if turn else None
    classes = cls.split()
    written = _tag(
        "text",
        {
            "class": " ".join(name for name in classes if name != "halo") or None,
            "x": x,
            "y": y + MIDDLE * size,
            "font_size": size,
            "text_anchor": None if anchor == "start" else anchor,
            "transform": turned,
        },
        escape(typeset_minus(words), quote=False),
    )
    return (_cleared(at, words, size, anchor, turned) if "halo" in classes else "") + written


def _cleared(at: XY, words: str, size: float, anchor: Anchor, turned: str | None) -> str:
    """A patch of the ground as large as the text: hatching stops short of it (ISO 129-1)."""
    left, _, right, _ = text_box(at, words, size, anchor)
    high = 0.84 * size
    box = {"x": left - 0.3, "y": at[1] - high / 2, "width": right - left + 0.6, "height": high}
    return _tag("rect", {"class": "ground", **box, "transform": turned})


def typeset_minus(words: str) -> str:
    """Words with true minus signs before figures, as wide as a figure is.

    >>> typeset_minus("to -4.80, half-section, Ø -6")
    'to −4.80, half-section, Ø −6'
    """
    return _MINUS.sub("−", words)


_MINUS = re.compile(r"(?<![\w.])-(?=[0-9.])")


def text_box(
    at: XY, words: str, size: float, anchor: Anchor, *, strong: bool = False
) -> tuple[float, float, float, float]:
    """(left, top, right, bottom) of such a line of text, unturned."""
    wide, (x, y) = breadth(words, size, strong=strong), at
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * wide
    return left, y - 0.5 * size, left + wide, y + 0.5 * size


def arrow(tip: XY, toward: XY, length: float = ARROW) -> str:
    """A filled arrowhead with its tip at `tip`, pointing the way that `toward` (a direction) does."""
    size = math.hypot(*toward) or 1.0
    ux, uy = toward[0] / size, toward[1] / size
    half = length * math.tan(math.radians(7.5))
    (x, y), back = tip, (tip[0] - ux * length, tip[1] - uy * length)
    return path(
        closed([(x, y), (back[0] - uy * half, back[1] + ux * half), (back[0] + uy * half, back[1] - ux * half)]),
        "arrow",
    )


def group(
    items: Sequence[str],
    cls: str | None = None,
    *,
    clip_to: str | None = None,
    label: str | None = None,
    **more: str | float | None,
) -> str:
    """Pieces that belong together; `clip_to` names a `clip`, `label` says what they are to a screen reader."""
    inner = "\n".join(items)
    if label:
        inner = f"<title>{escape(label, quote=False)}</title>\n{inner}"
    return _tag("g", {"class": cls, "clip_path": f"url(#{clip_to})" if clip_to else None, **more}, f"\n{inner}\n")


def clip(name: str, shape: str) -> str:
    """Something to clip by, under a name that the page has once."""
    return f'<clipPath id="{escape(name)}">{shape}</clipPath>'


def document(width: float, height: float, title: str, description: str, body: Sequence[str], style: str) -> str:
    """A whole SVG of so many mm, with what a screen reader says of it; without a style where the page around has it."""
    size = f'width="{number(width)}mm" height="{number(height)}mm" viewBox="0 0 {number(width)} {number(height)}"'
    inner = "\n".join(part for part in body if part)
    said = [escape(_clean(words), quote=False) for words in (title, description)]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="ovolo" {size} role="img">\n'
        f"<title>{said[0]}</title>\n<desc>{said[1]}</desc>\n"
        f"{f'<style>{style}</style>' if style else ''}\n{inner}\n</svg>\n"
    )


def scene(box: Sequence[float], cls: str, title: str, body: Sequence[str], description: str = "") -> str:
    """A drawing for a page, which brings the style: what is looked at is `box` (left, top, width, height)."""
    said = [
        f"<{tag}>{escape(_clean(words), quote=False)}</{tag}>"
        for tag, words in (("title", title), ("desc", description))
        if words
    ]
    view = " ".join(number(value, 5) for value in box)
    head = f'<svg xmlns="http://www.w3.org/2000/svg" class="{cls}" role="img" viewBox="{view}">'
    return "\n".join([head, *said, *(part for part in body if part), "</svg>"])


def _clean(words: str) -> str:
    """Without the control characters that XML 1.0 has no way to write."""
    return "".join(letter for letter in words if letter >= " " or letter in "\t\n")
