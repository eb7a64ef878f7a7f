"""The moves for a terminal: they line up, fit it, and say first things first."""

import pytest
from tests.documents.plans import plan
from tests.show.plans import planned

from ovolo.show.words.moves_text import moves_as_text, paragraph, with_returns
from ovolo.show.words.table import moves_table


def test_the_text_lines_up_and_says_first_things_first() -> None:
    lines = moves_as_text(moves_table(plan())).splitlines()
    assert lines[0].startswith("Moves, in mm")
    head = next(line for line in lines if line.startswith("no "))
    row = next(line for line in lines if line.lstrip().startswith("2 "))
    assert head.index("wind the") == row.index("saddle to chuck")
    assert "heavy" in row
    measure = next(i for i, line in enumerate(lines) if "Measure one diameter" in line)
    assert next(line for line in lines[measure + 1 :] if not line.startswith("    ")).split()[0] in ("4", ">")
    assert not any(line != line.rstrip() for line in lines)


@pytest.mark.parametrize("name", ["bridge-pin", "hinge-pin-dials", "winch-pin-inch", "bronze-bush"])
@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_no_line_is_wider_than_the_terminal(name: str, width: int) -> None:
    assert max(map(len, moves_as_text(moves_table(planned(name)), width).splitlines())) < width


def test_every_move_is_printed_a_return_on_the_line_of_its_cut() -> None:
    table = moves_table(planned("bridge-pin"))
    rows = [row for section in table.sections for row in section.rows]
    pairs = [pair for section in table.sections for pair in with_returns(section.rows)]
    printed = [row.n for pair in pairs for row in pair if row is not None]
    assert printed == [row.n for row in rows]
    returns = [(row, back) for row, back in pairs if back is not None]
    assert returns
    text = moves_as_text(table)
    for row, back in returns:
        assert row.cuts
        assert not back.cuts
        assert (row.slide, row.travel) == (back.slide, back.travel)
        assert f"back {back.figure}" in text


def test_a_pass_under_power_feed_says_where_to_knock_it_off_ahead_of_its_row() -> None:
    lines = moves_as_text(moves_table(plan()), legend=False).splitlines()
    at = next(i for i, line in enumerate(lines) if "knock it off" in line)
    assert lines[at] == "  > Power feed to -23.6: knock it off there, wind the last 1.0 mm by hand"
    assert lines[at + 1].split()[:2] == ["2", "-24.600"]
    without = moves_as_text(moves_table(plan({"lathe": {"power_feed": []}})))
    assert "power feed" not in without.lower()


def test_a_handwheel_and_what_is_wound_past_on_purpose_are_said() -> None:
    assert "cross slide in, clockwise" in moves_as_text(moves_table(plan({"slide.cross": {"clockwise": "in"}})), 100)
    text = moves_as_text(moves_table(planned("hinge-pin-dials")))
    assert "wound past on purpose" in text
    assert "division to stop at" in " ".join(text.split())


def test_a_figure_stays_with_its_sign_and_its_unit() -> None:
    lines = paragraph("Set it to Ø 18.40 mm and then to Ø -6.00 mm, or R 3.00 mm where it is round", 24)
    assert not any(line.endswith(("Ø", "R")) or line.strip().startswith("mm") for line in lines)
    assert max(map(len, lines)) < 24
