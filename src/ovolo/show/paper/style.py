"""What the classes of a drawing look like: line weights, two pencils, paper or blueprint.

Lines are those of ISO 128-2: thick for edges, thin (half of it) for all else; long-dashed dotted for the axis,
long-dashed double-dotted for the piece as it was, dashed for edges that are not seen. Blue pencil is the tool, red
pencil metal still to go; each also has a line or fill of its own, so that nothing is lost in black and white.
"""

from typing import Literal, NamedTuple

from ovolo.show.paper.lettering import FAMILY

__all__ = ["INKS", "THICK", "THIN", "Ink", "Mode", "style"]

Mode = Literal["paper", "dark", "print", "page"]
"""On warm paper; as a blueprint by lamplight; black on white; or in the colours that a page sets."""

THICK = 0.5
"""Visible edges, mm (ISO 128-2, line group 0.5)."""

THIN = 0.25
"""All other lines, mm."""


class Ink(NamedTuple):
    """The colours of a mode: ground, ink, fainter ink, the two pencils and their tints."""

    ground: str
    ink: str
    faint: str
    blue: str
    blue_tint: str
    red: str
    red_tint: str


INKS: dict[Mode, Ink] = {
    "paper": Ink("#faf8f1", "#1c2023", "#5b6166", "#1b56a4", "#dde6ee", "#b92d1b", "#f0cdc4"),
    "dark": Ink("#15212c", "#e8ecee", "#9fb0bb", "#8fc1f7", "#22405c", "#ff9c88", "#5d3434"),
    "print": Ink("#ffffff", "#000000", "#444444", "#000000", "#e9e9e9", "#000000", "#d4d4d4"),
}


def style(mode: Mode) -> str:
    """The style sheet of a mode, to stand in the drawing itself.

    "page" names custom properties (--ground, --ink, --faint, --blue, --blue-tint, --red, --red-tint), with the colours
    of paper where the page sets none.
    """
    ink = INKS[mode] if mode != "page" else _of_the_page()
    dash = "stroke-dasharray"
    rules = {
        "text": f"font-family:{FAMILY};fill:{ink.ink};font-weight:400",
        ".ground": f"fill:{ink.ground}",
        ".edge": f"fill:none;stroke:{ink.ink};stroke-width:{THICK};stroke-linejoin:round;stroke-linecap:round",
        ".cut": f"fill:none;stroke:{ink.ink};stroke-width:0.2;stroke-linejoin:round",
        ".thin": f"fill:none;stroke:{ink.ink};stroke-width:{THIN}",
        ".hair": f"fill:none;stroke:{ink.faint};stroke-width:0.13",
        ".hatch": f"fill:none;stroke:{ink.faint};stroke-width:0.16",
        ".axis": f"fill:none;stroke:{ink.ink};stroke-width:{THIN};{dash}:6 0.8 0.4 0.8",
        ".stock": f"fill:none;stroke:{ink.ink};stroke-width:{THIN};{dash}:6 0.8 0.4 0.8 0.4 0.8",
        ".unseen": f"fill:none;stroke:{ink.ink};stroke-width:{THIN};{dash}:2.4 1",
        ".left-out": f"fill:none;stroke:{ink.faint};stroke-width:{THIN};{dash}:1.4 0.9",
        ".arrow": f"fill:{ink.ink}",
        ".mark": f"fill:{ink.ground};stroke:{ink.ink};stroke-width:0.2",
        ".tool-fill": f"fill:{ink.blue_tint};fill-opacity:0.72",
        ".tool": f"fill:none;stroke:{ink.blue};stroke-width:0.4",
        ".tool-thin": f"fill:none;stroke:{ink.blue};stroke-width:0.2",
        ".way": f"fill:{ink.blue}",
        ".ghost": f"fill:none;stroke:{ink.blue};stroke-width:0.25;{dash}:1.6 0.9",
        ".to-go": f"fill:{ink.red_tint};fill-rule:evenodd",
        ".to-go-hatch": f"fill:none;stroke:{ink.red};stroke-width:0.16",
        ".red": f"fill:none;stroke:{ink.red};stroke-width:0.3",
        ".limit": f"fill:none;stroke:{ink.red};stroke-width:0.2;{dash}:2 1.2",
        ".unreached": f"fill:none;stroke:{ink.red};stroke-width:1.1",
        ".red-dot": f"fill:{ink.red}",
        "text.strong": "font-weight:600",
        "text.faint": f"fill:{ink.faint}",
        "text.red": f"fill:{ink.red};stroke:none",
        "text.blue": f"fill:{ink.blue};stroke:none",
    }
    return "".join(f"{_scoped(name)}{{{rule}}}" for name, rule in rules.items())


def _scoped(name: str) -> str:
    return f".ovolo {name}"


def _of_the_page() -> Ink:
    return Ink(*(f"var(--{name.replace('_', '-')},{colour})" for name, colour in INKS["paper"]._asdict().items()))
