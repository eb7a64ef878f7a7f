"""What the classes of a drawing mean."""

import re

import pytest

from ovolo.show.paper.style import INKS, THICK, THIN, Mode, style


def _light(colour: str) -> float:
    """Relative luminance (WCAG 2.2)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _contrast(one: str, other: str) -> float:
    high, low = sorted((_light(one), _light(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("mode", INKS)
def test_every_ink_can_be_read_on_its_ground(mode: Mode) -> None:
    """4.5 to 1 for text (WCAG 2.2, 1.4.3)."""
    ink = INKS[mode]
    for colour in (ink.ink, ink.faint, ink.blue, ink.red):
        assert _contrast(colour, ink.ground) >= 4.5


def test_thick_lines_are_twice_as_thick_as_thin_ones() -> None:
    assert THICK == 2 * THIN


def test_print_has_no_colour() -> None:
    for colour in re.findall("#[0-9a-f]{6}", style("print")):
        assert colour[1:3] == colour[3:5] == colour[5:7]


def test_a_page_may_set_the_colours() -> None:
    assert "var(--blue-tint,#dde6ee)" in style("page")
    assert "var(" not in style("paper")
