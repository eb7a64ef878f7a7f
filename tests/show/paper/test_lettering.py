"""How wide lines of text are, and how they are broken."""

from importlib import import_module
from importlib.resources import files

import pytest

from ovolo.show.paper.lettering import SPARE, breadth, wrapped


@pytest.mark.parametrize("words", ["Ø 18.40", "−3.375", "highest ridge 0.044 mm", "Metal still to go", "1 1/4 in ×2"])
def test_a_line_is_never_wider_in_the_font_than_is_thought(words: str) -> None:
    font = import_module("fontTools.ttLib").TTFont(
        str(files("font_source_sans_pro") / "files" / "SourceSansPro-Regular.ttf")
    )
    names, widths = font.getBestCmap(), font["hmtx"]
    true = sum(widths[names[ord(letter)]][0] for letter in words) / 1000
    assert true <= breadth(words, 1.0) <= 1.12 * SPARE * true


def test_lines_fit_and_figures_stay_with_their_units() -> None:
    lines = wrapped("It is skimmed to Ø 19.60 and measured, 0.050 mm at a time", 3.5, 32)
    assert all(breadth(line, 3.5) <= 32 for line in lines)
    assert any("Ø\N{NO-BREAK SPACE}19.60" in line for line in lines)
    assert any("0.050\N{NO-BREAK SPACE}mm" in line for line in lines)


def test_a_word_too_long_is_broken_rather_than_lost() -> None:
    assert "".join(wrapped("x" * 300, 3.5, 30)) == "x" * 300
