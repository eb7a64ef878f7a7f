"""Touching off: what is entered or dialled, by hand from the convention of the slides."""

from collections.abc import Mapping
from dataclasses import replace

import pytest
from tests.documents.plans import plan
from tests.show.plans import planned

from ovolo.show.words.touching_off import standing_off, touching_off


def _text(changes: Mapping[str, object] | None = None) -> str:
    ((title, lines),) = touching_off(plan(changes))
    assert title == "Touch off"
    return " ".join(lines)


DIAL = {"reads": "radius", "count": 0.025, "per_turn": 2.0, "divisions": 40}


def test_a_dial_is_not_told_but_turned() -> None:
    """Ø 19.60 is 9.80 of radius: four turns of 2.00 and 1.80, which is 36 divisions of 0.05."""
    text = _text({"slide.cross": DIAL})
    assert (
        "turn the loose collar of its dial to 36 (9.800: the figure 0 lies 4 turns and 36 divisions further in)" in text
    )
    assert "enter 9" not in text
    assert "count whole turns" in text


def test_a_dial_of_the_saddle_too() -> None:
    """0.50 in front of the finished end is 5 divisions of 0.1 before the figure 0."""
    text = _text({"slide.saddle": {"per_turn": 20.0, "divisions": 200, "count": 0.05}})
    assert "turn the loose collar of its dial to 5 (0.50: the figure 0 lies 5 divisions toward the chuck)" in text


@pytest.mark.parametrize(("grows", "figure"), [("in", "-19.6"), ("out", "19.6")])
def test_an_example_is_a_figure_that_can_be_read(grows: str, figure: str) -> None:
    text = _text({"slide.cross": {"grows": grows, "count": 0.1}})
    assert f"Ø 19.60 mm is entered as Ø {figure}." in text


def test_the_example_lies_on_the_grid() -> None:
    """A quarter of 2 mm to spare is more than 0.2, so Ø 19.60; where only 0.25 can be set, the next one, Ø 19.50."""
    assert "measures Ø 19.50 mm is entered as Ø 19.50." in _text({"slide.cross": {"count": 0.25}, "finish.ridge": 0.2})


def test_a_blade_is_told_its_corner_by_paper() -> None:
    blade = {"tool.0": {"name": "blade", "kind": "grooving", "nose_radius": 0.2, "width": 3}}
    text = _text(blade)
    assert "plunge a shallow groove into the bar" in text
    assert "paper between the blade's corner toward the chuck and end face, spindle stopped; enter 0.50" in text
    assert "skim the end face" not in text


def test_a_later_tool_is_touched_off_on_what_stands_then() -> None:
    """A knife comes when the round nose has roughed the bar to Ø 18.40 as far as z -21.60."""
    made = plan({"tool.1": {"name": "knife", "nose_radius": 0.4}})
    moves = (*made.moves[:3], *(replace(move, tool="knife") for move in made.moves[3:]))
    both = replace(made, tools=made.job.shop.tools, moves=moves)
    (first, _), (title, lines) = touching_off(both)
    assert first == "Touch off with round nose 6"
    assert title == "Touch off with knife, before move 4"
    diameter, *length = lines
    assert "the piece between z 0.50 and -21.60, as move 2 has left it, spindle stopped" in diameter
    assert "where Ø 18.40 mm is measured, enter Ø 18.40 and twice the paper's measured thickness more" in diameter
    assert length[0] == "Length: the end face stands as it was, so do not skim it."
    assert "enter 0.50 and the paper's" in length[1]


def test_standing_off_is_further_from_the_axis_and_from_the_chuck() -> None:
    """The figures have to be less than the truth where they grow outward and away."""
    assert "show twice that much less and the saddle that much less than here" in standing_off(plan())
    inward = plan({"slide.cross": {"grows": "in", "reads": "radius"}, "slide.saddle": {"grows": "toward"}})
    assert "show that much more and the saddle that much more" in standing_off(inward)


def test_the_top_slide_stands_off_too_where_it_finishes() -> None:
    """Its figures start anew when it is told them, here growing toward the chuck."""
    text = standing_off(
        plan({"slide.top": {"travel": 60, "grows": "toward"}, "limits.slides": ["saddle", "cross", "top"]})
    )
    assert "and the saddle that much less than here, the top slide that much more once its length is measured." in text


def test_in_a_hole_standing_off_is_toward_the_axis() -> None:
    """Whatever way the figures of that job grow: outward and away."""
    made = planned("bush")
    assert made.job.shop.cross.grows == "out"
    assert "twice that much more" in standing_off(made)


def test_where_the_outline_faces_the_chuck_too_the_saddle_stays() -> None:
    """Further from the chuck, the back of a crown would be cut into."""
    assert "leave the saddle as it is" in standing_off(planned("belt-pulley"))


def test_a_form_tool_is_told_by_its_end_and_its_lowest_place() -> None:
    """It is no tool to face with, and a groove shows its lowest place."""
    outline = [{"z": 0, "r": 1}, {"z": 1, "r": 0}, {"z": 4, "r": 0}, {"z": 5, "r": 1, "convex": 1}]
    text = _text({"tool.0": {"name": "chamfer tool", "kind": "form", "outline": outline}})
    assert "plunge a shallow groove" in text
    assert "a form tool is not made to cut with its side" in text
    assert "paper between the tool's end toward the chuck and end face" in text


def test_under_a_lip_the_saddle_stands_off_the_way_the_hollow_opens() -> None:
    lip, dish = standing_off(planned("lip")), standing_off(planned("dish"))
    assert "Between z -5.17 and -6.00 the outline leans over" in lip
    assert "opens toward the chuck" in lip
    assert "the saddle that much more." in lip  # it reads more away from the chuck: so the tool stays nearer
    assert "opens toward the free end" in dish
    assert "the saddle that much less." in dish
    assert "leans over" not in standing_off(planned("bridge-pin"))


def test_in_inches_a_place_has_three_decimals() -> None:
    """The hollow ends at z -6.00 mm, which is -0.236 in."""
    made = planned("lip")
    inches = replace(made, job=replace(made.job, shop=replace(made.job.shop, unit=25.4)))
    assert "and -0.236 the outline leans over" in standing_off(inches)
