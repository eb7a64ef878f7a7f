"""The setting-up: every figure in it against the convention of the slides, by hand."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import chain

import pytest
from tests.documents.jobs import NOTHING, pin
from tests.documents.plans import plan
from tests.show.plans import planned

from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.show.words.setting_up import setting_up

PIVOTED = {
    "title": "Lever",
    "part": {
        "outline": [
            {"z": 0, "d": 0},
            {"z": -9, "d": 18, "convex": 9},
            {"z": -17, "d": 8, "convex": 9},
            {"z": -24, "d": 8},
        ],
        "curve": [0, -16],
    },
    "stock": {"diameter": 20, "proud": 0.5},
    "tool": [{"name": "right", "nose_radius": 0.4}, {"name": "left", "hand": "left", "nose_radius": 0.4}],
}


def _item(title: str, changes: Mapping[str, object] | None = None) -> str:
    items = [item for item in setting_up(plan(changes)).items if item.title.startswith(title)]
    assert len(items) == 1, title
    return " ".join(items[0].lines)


def test_the_bar_stands_out_by_what_is_proud_as_well() -> None:
    text = _item("The bar")
    assert "Ø 20.00 mm, with 35.50 mm projecting from the jaws, of which 0.50 mm are facing allowance" in text
    assert "support" not in text


def test_a_long_bar_wants_support_and_an_unknown_one_a_look_at_the_chuck() -> None:
    assert "3.5 times its diameter: support it" in _item("The bar", {"stock.stick_out": 70})
    unknown = plan()
    stock = replace(unknown.job.shop.stock, stick_out=None)
    unknown = replace(unknown, job=replace(unknown.job, shop=replace(unknown.job.shop, stock=stock)))
    text = " ".join(line for item in setting_up(unknown).items for line in item.lines)
    assert "so nothing is kept off the jaws" in text
    assert "24.50 mm" in text


def test_a_finished_end_is_said_to_be_one() -> None:
    text = _item("The bar", {"stock.proud": 0})
    assert "35.00 mm projecting from the jaws; its end face is the finished end (z = 0)." in text
    assert "proud" not in text


def test_on_a_centre_the_bar_is_supported_and_its_end_is_not_skimmed() -> None:
    held = {"lathe.holding": "chuck and centre", "stock.stick_out": 70}
    assert "support it" not in _item("The bar", held)
    assert "Bring the tailstock's centre into its hole" in _item("The bar", held)
    assert "the centre stands in the end face, so do not skim it" in _item("Touch off", held)


def test_a_hole_is_told_by_its_diameter() -> None:
    assert "with its hole of Ø 18.00 mm" in " ".join(setting_up(planned("bush")).items[0].lines)


def test_a_piece_already_shaped_is_chucked_as_it_is() -> None:
    shaped = {
        "stock.diameter": NOTHING,
        "stock.proud": NOTHING,
        "stock.outline": [{"z": 1, "d": 21}, {"z": -24, "d": 21}],
    }
    text = _item("The bar", shaped)
    assert "Chuck the piece as it is, shaped already, by its end of Ø 21.00 mm, with 36.00 mm projecting" in text
    assert "1.00 mm are facing allowance" in text
    touch = _item("Touch off", shaped)
    assert "paper between tool and the piece between z 1.00 and -24.00, spindle stopped" in touch
    assert "where Ø 21.00 mm is measured, enter Ø 21.00" in touch
    assert "the piece is shaped already, so do not skim it" in touch
    assert "enter 1.00 and the paper's" in touch


@pytest.mark.parametrize(
    ("tool", "says"),
    [
        ({"kind": "grooving", "width": 3}, "grooving blade 3.00 mm wide over both corners, corner radius 0.20 mm"),
        (
            {"kind": "round", "stem": 8, "shank": 12},
            "square to the axis, standing 8.00 mm out of a shank 12.00 mm wide.",
        ),
        ({"stands_out": 2.5}, "its nose 2.50 mm out of the side of the boring bar."),
    ],
)
def test_what_carries_the_nose_is_described(tool: dict[str, object], says: str) -> None:
    assert says in _item("The tool", {"tool.0": {"name": "tool", "nose_radius": 0.2, **tool}})


def test_a_left_hand_tool_and_a_boring_bar_find_their_height_without_a_pip() -> None:
    left = _item("The tool", {"tool.0": {"name": "knife", "nose_radius": 0.4, "hand": "left"}})
    assert "no pip" not in left
    assert "a centre's point in the tailstock" in left
    bush = " ".join(line for item in setting_up(planned("bush")).items for line in item.lines)
    assert "until a facing cut" not in bush
    assert "There is no pip in a hole" in bush


def test_the_tool_is_described_and_set_to_centre_height() -> None:
    assert "round nose, nose radius 3.00 mm" in _item("The tool")
    assert "no pip" in _item("The tool")
    knife = {"tool.0": {"name": "knife", "nose_radius": 0.4, "hand": "left"}}
    assert "left-hand, nose radius 0.40 mm, cutting edge angle 93°, included angle 55°" in _item("The tool", knife)


def test_the_nearest_position_to_the_chuck_is_named() -> None:
    """The nose centre goes to z -21.6: its side, R 3 further, to -24.6; the jaws stand at -35."""
    text = _item("Clearance")
    assert "reads -24.600" not in text
    assert "reads -24.60: round nose 6 comes to 10.40 mm from the jaws" in text


@pytest.mark.parametrize(
    ("cross", "check"),
    [
        ({"per_turn": 2.0}, "the figure must rise by 4.00."),
        ({"per_turn": 2.0, "reads": "radius", "grows": "in"}, "the figure must fall by 2.00."),
        ({}, "must rise by twice what a turn moves the slide, such as 4.00 for a turn of 2.00 mm."),
        ({"reads": "radius"}, "must rise by what a turn moves the slide, such as 2.00 for a turn of 2.00 mm."),
    ],
)
def test_one_turn_out_checks_the_cross_slide(cross: object, check: str) -> None:
    assert check in _item("How the cross", {"slide.cross": cross})


def test_one_turn_away_checks_the_saddle() -> None:
    assert "away from the chuck one turn: the figure must rise" in _item("How the saddle")
    assert "the figure must fall" in _item("How the saddle", {"slide.saddle": {"grows": "toward"}})


TOP = {
    "slide.top": {"travel": 60, "count": 0.02, "per_turn": 2.0, "grows": "toward"},
    "limits.slides": ["saddle", "cross", "top"],
}


def test_the_top_slide_is_checked_as_the_others_are_and_for_being_parallel() -> None:
    """One turn of 2 mm away from the chuck: a figure that grows toward it falls by just that, for it is a length."""
    text = _item("How the top slide", TOP)
    assert "a length in mm, grows toward the chuck, and can be set to 0.02" in text
    assert "wind the top slide away from the chuck one turn: the figure must fall by 2.00." in text
    assert "parallel to the axis" in text
    assert "parallel to the axis" not in _item("How the saddle", TOP)
    assert "one turn" in _item("How the saddle", TOP)


def test_where_the_saddle_is_not_moved_the_top_slide_is_told_the_length() -> None:
    """The end stands 0.5 mm proud, and the figure grows toward the chuck: -0.50. The saddle has nothing to read."""
    alone = {**TOP, "limits.slides": ["cross", "top"]}
    items = setting_up(make_plan(job_from_data(pin(alone)))).items
    said = {item.title: " ".join(item.lines) for item in items}
    assert "How the top slide must read" in said
    assert "How the saddle must read" not in said
    assert "Without moving the top slide enter -0.50: the distance" in said["Touch off"]
    assert "and the top slide that much more than here" in said["To leave extra metal on"]
    assert "Nearest to the chuck the top slide reads" in said["Clearance, spindle stopped"]
    assert not any("addle" in text for text in said.values())


def test_a_dial_with_lost_motion_is_approached_from_one_side() -> None:
    dial = {"slide.cross": {"per_turn": 2.0, "divisions": 100, "backlash": 0.15}}
    text = _item("How the cross", dial)
    assert "0.15 mm of lost motion" in text
    assert "100 divisions of 0.02 mm, 2.00 mm a turn" in text
    assert "One division is 0.04 mm of that figure" in text  # a diameter: twice the travel
    assert "of that figure" not in _item("How the cross", {"slide.cross": {**dial["slide.cross"], "reads": "radius"}})
    assert "whole turns have to be counted" in text
    assert "the slide must go 2.00 mm, and the dial counts up." in text
    inward = {"slide.cross": {"per_turn": 2.0, "divisions": 100, "grows": "in", "clockwise": "in"}}
    assert "the dial counts down." in _item("How the cross", inward)
    assert "turned clockwise winds it in" in _item("How the cross", inward)


@pytest.mark.parametrize(
    ("cross", "entered", "example", "paper"),
    [
        ({}, "enter the diameter as measured.", "Ø 19.60", "Ø 20.00 and twice the paper's measured thickness more"),
        ({"grows": "in"}, "with a minus sign", "Ø -19.60", "Ø -20.00 and twice the paper's measured thickness less"),
        ({"reads": "radius"}, "half the diameter as measured", "9.80", "10.00 and the paper's measured thickness more"),
    ],
)
def test_the_skimmed_diameter_is_entered_by_the_convention(
    cross: object, entered: str, example: str, paper: str
) -> None:
    text = _item("Touch off", {"slide.cross": cross})
    assert entered in text
    assert f"A cut that measures Ø 19.60 mm is entered as {example}." in text
    assert f"enter {paper}" in text


def test_a_bar_at_its_finished_size_is_not_skimmed() -> None:
    text = _item("Touch off", {"stock.diameter": 18})
    assert "do not skim it" in text
    assert "Instead: paper between tool and bar" in text


def test_the_end_face_is_entered_as_what_stands_proud() -> None:
    assert "enter 0.50: the distance" in _item("Touch off")
    assert "enter -0.50: the distance" in _item("Touch off", {"slide.saddle": {"grows": "toward"}})
    assert "the end face is finished already" in _item("Touch off", {"stock.proud": 0})


def test_a_left_hand_tool_is_set_against_a_parallel() -> None:
    knife = {"tool.0": {"name": "knife", "nose_radius": 0.4, "hand": "left"}}
    text = _item("Touch off", knife)
    assert "Hold a parallel flat against the end face" in text
    assert "Stop the spindle" in text
    assert "Take the parallel away before anything turns" in text
    assert "paper between tool and end face" not in text


def test_in_a_bore_paper_makes_the_figure_less() -> None:
    made = plan({"tool.0.nose_radius": 0.4})
    part, stock = replace(made.job.part, surface="bore"), replace(made.job.shop.stock, hole=10.0)
    bore = replace(made, job=replace(made.job, part=part, shop=replace(made.job.shop, stock=stock)))
    text = " ".join(line for item in setting_up(bore).items for line in item.lines)
    assert "twice the paper's measured thickness less" in text
    assert "past it" not in text


def test_a_nose_of_r_3_reads_minus_6_at_the_middle() -> None:
    assert "nose of R 3 on the axis, that line is 3 past the axis, and the cross slide reads Ø -6.00" in _item(
        "Figures past"
    )
    assert "reads -3.00" in _item("Figures past", {"slide.cross": {"reads": "radius"}})


def test_a_tool_that_leaves_nothing_to_measure_is_touched_off_twice() -> None:
    made = plan()
    assert "touch it off twice" not in " ".join(chain.from_iterable(item.lines for item in setting_up(made).items))
    none = setting_up(replace(made, before=made.before[:1]))
    assert "touch it off twice; both must agree" in " ".join(chain.from_iterable(item.lines for item in none.items))


def test_power_feed_is_tried_before_the_cautions_where_there_is_any() -> None:
    titles = [item.title for item in setting_up(plan()).items]
    assert titles[-2:] == ["Power feed", "Cautions"]
    none = setting_up(plan({"lathe": {"power_feed": []}})).items
    assert "Power feed" not in [item.title for item in none]


def test_cautions_come_with_every_setting_up() -> None:
    text = _item("Cautions")
    assert "Eye protection" in text
    assert "Your lathe's manual" in text


def test_the_hole_is_said_by_its_diameter() -> None:
    made = plan()
    stock = replace(made.job.shop.stock, hole=10.0)
    bored = replace(made, job=replace(made.job, shop=replace(made.job.shop, stock=stock)))
    assert "with its hole of Ø 10.00 mm" in setting_up(bored).items[0].lines[0]


FORM = {"name": "chamfer tool", "kind": "form", "outline": [{"z": 0, "r": 2}, {"z": 2, "r": 0}, {"z": 5, "r": 0}]}


def test_a_form_tool_is_described_by_what_its_figures_mean() -> None:
    text = _item("The tool", {"tool.0": FORM})
    assert "form tool 5.00 mm wide" in text
    assert "its left end and its lowest place" in text
    assert "nose radius" not in text


def test_past_the_middle_a_form_tool_reads_how_far_its_lowest_place_lies_beyond() -> None:
    """Its end toward the chuck stands 2 mm over its lowest place and, a corner, goes 0.05 mm past the axis."""
    text = _item("Figures past the middle", {"tool.0": FORM})
    assert "reads Ø -4.10" in text


def test_a_hole_already_shaped_is_chucked_by_its_outside() -> None:
    plan = planned("cored")
    text = " ".join(setting_up(plan).items[0].lines)
    assert "Chuck the piece as it is, its hole shaped already, by its outside (Ø 44.00 mm)" in text
    shop = replace(plan.job.shop, stock=replace(plan.job.shop.stock, assumed=True))
    taken = replace(plan, job=replace(plan.job, shop=shop))
    assert "taken to be Ø 44.00 mm, for stock.diameter is not in the job" in " ".join(setting_up(taken).items[0].lines)


def test_in_a_post_that_repeats_all_tools_are_touched_off_before_the_first_move() -> None:
    job = job_from_data({**PIVOTED, "lathe": {"post": "repeats"}})
    made = make_plan(job)
    items = {item.title: " ".join(item.lines) for item in setting_up(made).items}
    later = [text for title, text in items.items() if title.startswith("Touch off") and title.endswith("before move 1")]
    assert len(later) == len(made.tools) - 1 > 0
    for text in later:
        assert "leave the slides' figures as they are" in text
        assert text.count("________") == 2
    change = next(n for n, move in enumerate(made.moves[1:], 2) if move.tool != made.moves[n - 2].tool)
    (touch,) = [before.text for before in made.before if (before.move, before.kind) == (change, "touch")]
    assert "noted at the set-up" in touch
    assert job.shop.pace.tool_change == 20
    (noted,) = [before.text for before in made.before if before.move == 1 and before.kind == "say"]
    assert "left in its holder touch the same surfaces" in noted or "right in its holder touch the same" in noted
    told = job_from_data({**PIVOTED, "lathe": {"post": "repeats"}, "pace": {"tool_change": 60}})
    assert told.shop.pace.tool_change == 60


def test_between_centres_nothing_is_chucked() -> None:
    centres = {"lathe": {"holding": "between centres"}}
    text = _item("The work, between centres", centres)
    assert text.startswith("Set the bar of Ø 20.00 mm between centres, with 35.50 mm in front of the carrier")
    assert "Clamp the carrier" in text
    assert "Chuck" not in text
    assert "jaws" not in text


def test_in_a_bore_the_bar_is_the_boring_bar_only() -> None:
    made = planned("bronze-bush")
    items = {item.title: " ".join(item.lines) for item in setting_up(made).items}
    assert items["The workpiece"].startswith("Chuck the workpiece of Ø ")
    assert "The bar" not in items
    assert "boring bar" in items["Clearance, spindle stopped"]
    assert "No finger and no emery on a finger in a turning bore" in items["Cautions"]
    assert "larger" in items["Cautions"]
    assert items["Cautions"].endswith("come before this sheet.")
