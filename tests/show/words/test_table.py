"""The moves as a table, as CSV, and what is left."""

import csv
import io
from dataclasses import replace

from tests.documents.plans import plan
from tests.show.plans import planned

from ovolo.plan.model import Plan
from ovolo.show.words.table import Row, left, moves_as_csv, moves_table


def test_moves_are_grouped_by_stage_and_tool() -> None:
    table = moves_table(plan())
    assert [section.heading for section in table.sections] == ["Rough with round nose 6", "Finish with round nose 6"]
    assert [row.n for section in table.sections for row in section.rows] == [1, 2, 3, 4, 5]


def test_a_row_says_one_slide_one_figure_which_way_and_how_far() -> None:
    first, second, _ = moves_table(plan()).sections[0].rows
    assert (first.figure, first.slide, first.direction, first.travel) == ("Ø 18.40", "cross slide", "in", "1.800")
    assert (second.figure, second.slide, second.direction, second.travel) == (
        "-24.600",
        "saddle",
        "toward the chuck",
        "26.10",
    )


def test_the_idle_slide_is_locked_only_under_a_finishing_cut_and_only_where_it_can_be() -> None:
    rows = [row for section in moves_table(plan()).sections for row in section.rows]
    assert [row.lock for row in rows] == [None, None, None, None, "cross slide"]
    loose = [row for section in moves_table(plan({"slide.cross": {"lock": False}})).sections for row in section.rows]
    assert not any(row.lock for row in loose)


def test_roughing_says_once_when_to_lock() -> None:
    rough, finish = moves_table(plan()).sections
    assert [len([text for text in row.before if "lock" in text]) for row in rough.rows] == [1, 0, 0]
    assert not any("Roughing" in text for row in finish.rows for text in row.before)
    loose = moves_table(plan({"slide.cross": {"lock": False}, "slide.saddle": {"lock": False}}))
    assert not any("lock" in text for row in loose.sections[0].rows for text in row.before)


def test_the_handwheel_is_said_where_the_job_tells() -> None:
    rows = _rows(plan({"slide.cross": {"clockwise": "in"}, "slide.saddle": {"clockwise": "away"}}))
    assert [rows[n].handwheel for n in (1, 2, 3)] == ["clockwise", "anticlockwise", "clockwise"]
    assert not any(row.handwheel for row in _rows(plan()).values())


def test_wound_past_on_purpose_is_said_to_be() -> None:
    """On the dials of the hinge pin, each such move is brought back by the next, by the backlash and a little more."""
    made = planned("hinge-pin-dials")
    rows = _rows(made)
    past = [move for move in made.moves if rows[move.n].past]
    assert past
    for move in past:
        back = made.moves[move.n]
        assert back.slide == move.slide
        assert back.toward != move.toward
        backlash = made.job.shop.cross.backlash if move.slide == "cross" else made.job.shop.saddle.backlash
        assert backlash is not None
        assert backlash < back.travel < 2 * backlash + 0.2
    assert not any(row.past for row in _rows(planned("bridge-pin")).values())


def test_a_legend_says_what_the_columns_mean() -> None:
    legend = dict(moves_table(plan()).legend)
    assert list(legend) == ["cut", "feed off", "lock", "within", "setting"]
    dials = dict(moves_table(planned("hinge-pin-dials")).legend)
    assert "the division to stop at" in dials["stop at"]
    assert "wound past" in dials["past"]


def test_heavy_is_a_roughing_cut_near_the_widest_allowed() -> None:
    made = plan()
    assert [move.n for move in made.moves if _rows(made)[move.n].heavy] == [2]
    gentle = plan({"limits.bite": 2})
    assert not any(row.heavy for row in _rows(gentle).values())
    wide = replace(made, moves=(*made.moves[:-1], replace(made.moves[-1], bite=1.4)))
    assert not _rows(wide)[5].heavy


def test_without_roughing_a_wide_finishing_cut_is_heavy() -> None:
    made = plan()
    only = replace(made, moves=(replace(made.moves[-1], bite=1.0),))
    assert _rows(only)[5].heavy


def _rows(made: Plan) -> dict[int, Row]:
    return {row.n: row for section in moves_table(made).sections for row in section.rows}


def test_a_pass_that_can_run_under_power_feed_says_where_to_knock_it_off() -> None:
    assert {n: (row.feed_off, row.by_hand) for n, row in _rows(plan()).items() if row.feed_off} == {
        2: ("-23.6", "1.0 mm")  # the pass along the bar, which ends at -24.600
    }


def test_csv_tells_power_feed_in_figures_of_its_own() -> None:
    rows = list(csv.DictReader(io.StringIO(moves_as_csv(plan()))))
    told = [[row[name] for name in ("feed_off", "feed_off_shown", "by_hand")] for row in rows]
    assert told[1] == ["-23.6", "-23.6", "1.0"]
    assert [each for n, each in enumerate(told, 1) if n != 2] == [["", "", ""]] * 4


def test_inches_are_told_in_inches() -> None:
    made = plan({"units": "in", "stock.diameter": 40, "sure": ["inches"]})
    table = moves_table(made)
    assert table.unit == "in"
    assert table.sections[0].rows[0].travel == "0.07087"


def test_csv_carries_every_move() -> None:
    rows = list(csv.DictReader(io.StringIO(moves_as_csv(plan()), newline="")))
    assert [row["move"] for row in rows] == ["1", "2", "3", "4", "5"]
    assert rows[1]["set"] == "-24.6"
    assert rows[1]["shown"] == "-24.600"
    assert (rows[4]["setting"], rows[3]["setting"]) == ("1", "")
    assert rows[1]["removes_mm2"] == "18.8"
    assert (rows[1]["handwheel"], rows[1]["past"]) == ("", "no")


def test_no_spreadsheet_takes_a_tool_for_a_formula() -> None:
    text = moves_as_csv(plan({"tool.0.name": "=1+1"}))
    assert "'=1+1" in text
    assert ",=1+1" not in text


def test_what_is_left_is_said_in_sentences() -> None:
    made = plan()
    said = left(made).sentences
    assert said[0] == ("Highest ridge: 0.049 mm at z 0.00, Ø 6.80 (0.050 mm specified).")
    assert said[1:] == (
        "1 setting.",
        "If every figure is set exactly, nothing is cut below the outline.",
        "A word more",
    )


def test_one_setting_fewer_is_told_apart_from_what_was_asked() -> None:
    made = plan()
    many = replace(made, stations=16, proof=replace(made.proof, fewer=15, leaves=0.05004))
    so_many = "16 settings, one on the axis"
    assert left(many).sentences[1] == f"{so_many}; the best such plan with 15 leaves 0.05004 mm."
    none = replace(many, proof=replace(many.proof, leaves=None))
    assert left(none).sentences[1] == f"{so_many}; with 15 there is no such plan."


def test_a_curve_that_begins_off_the_axis_needs_no_setting_there() -> None:
    made = plan()
    beside = replace(made.job, part=replace(made.job.part, curve=(-1.0, -9.0)))
    many = replace(made, job=beside, stations=16, proof=replace(made.proof, fewer=15, leaves=0.05004))
    assert left(many).sentences[1] == "16 settings; the best plan with 15 leaves 0.05004 mm."


def test_it_is_compared_with_as_many_equal_steps_of_a_pointed_tool() -> None:
    """R 9 in 13 settings, as an independent sweep has it: 0.565 mm by a point, 0.079 by a nose of R 3 allowed for."""
    many = replace(plan(), stations=13)
    assert left(many).compared == (
        "13 equal steps along the curve, calculated for a sharp tool, leave 0.565 mm; with the nose allowed for, "
        "0.079 mm."
    )


def test_a_gouge_is_said_in_words() -> None:
    made = plan()
    deep = replace(made, prediction=replace(made.prediction, gouge_max=0.0012))
    assert left(deep).sentences[2] == "The deepest cut goes 0.001 mm below the outline."
