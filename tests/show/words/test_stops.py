"""Where to stop and measure: only on what still stands, and only on what the tool itself has cut."""

import re
from dataclasses import replace

import pytest
from tests.documents.plans import plan
from tests.show.plans import NAMES, planned

from ovolo.plan.model import Plan
from ovolo.show.paper.cuts import Cuts
from ovolo.show.words.stops import stops
from ovolo.show.words.table import moves_table

NAMED = re.compile(r"the diameter between z (-?[0-9.]+) and (-?[0-9.]+), as move ([0-9]+) has left it: .* Ø ([0-9.]+) ")


@pytest.mark.parametrize("name", NAMES)
def test_what_is_to_be_measured_stands_when_it_is_to_be_measured(name: str) -> None:
    """Looked up in the other sweep, the one that the drawings are made from, in the middle of the cylinder named."""
    made = planned(name)
    unit = made.job.shop.unit
    for title, lines in stops(made):
        found = NAMED.search(" ".join(lines))
        if found is None:
            continue
        near, far, size = (float(found[k]) * unit for k in (1, 2, 4))
        after = _until(made, title, int(found[3]))
        for share in (0.2, 0.5, 0.8):
            assert _border(made, after, near + share * (far - near), size / 2) < 0.005 * unit


def _until(made: Plan, title: str, move: int) -> int:
    before = re.search(r"before move ([0-9]+)", title)
    return int(before[1]) - 1 if before else move


def _border(made: Plan, n: int, z: float, r: float) -> float:
    import shapely

    return float(shapely.distance(shapely.boundary(Cuts(made).after(n)), shapely.Point(z, r)))


@pytest.mark.parametrize("name", NAMES)
def test_the_table_and_the_stops_name_the_same_moves(name: str) -> None:
    made = planned(name)
    titles = [title for title, _ in stops(made) if title.startswith("Stop")]
    rows = [row for section in moves_table(made).sections for row in section.rows]
    measured = [row.n for row in rows if any("measure what the setting-up names" in text for text in row.before)]
    assert titles == [f"Stop after roughing, before move {n}" for n in measured]


def _lines(made: Plan) -> str:
    ((_, lines),) = stops(made)
    return " ".join(lines)


def test_on_a_dial_the_collar_is_turned() -> None:
    dial = {"slide.cross": {"reads": "radius", "count": 0.025, "per_turn": 2.0, "divisions": 40}}
    text = _lines(plan(dial))
    assert "turn the collar of the cross slide, where it stands, until it shows half of that more" in text
    assert "a division is 0.05 mm of travel" in text


def test_without_a_shoulder_the_length_stays_as_it_was() -> None:
    assert "No shoulder stands yet" in _lines(plan())


def test_a_tool_that_cut_the_end_face_needs_no_length() -> None:
    ((_, lines),) = stops(planned("bridge-pin"))
    assert "The length needs no correction" in lines[-1]


def test_where_the_top_slide_finishes_its_figures_are_corrected_and_not_those_of_the_saddle() -> None:
    """It is told its figure only after the stop: so its length is measured then, whatever the saddle has cut."""
    ((title, lines),) = stops(planned("hasp-pin"))
    assert title.startswith("Stop after roughing")
    assert "when the top slide has been told its figure beside the locked saddle" in lines[-1]
    assert lines[-1].endswith("corrects the figures of the top slide.")
    alone = _lines(plan({"slide.top": {"travel": 60}, "limits.slides": ["cross", "top"]}))
    assert "leave the figures of the top slide as they were touched off" in alone


def test_a_tool_that_only_finishes_is_measured_by_its_own_first_pass() -> None:
    made = plan()
    passes = tuple(replace(move, stage="finish", station=1) for move in made.moves[:3])
    only = replace(made, moves=passes, before=made.before[:1])
    ((title, lines),) = stops(only)
    assert title == "Measure what round nose 6 cuts first"
    assert "Stop the spindle after move 2." in lines
    assert "Ø 18.40 mm" in lines[-1]
    none = replace(made, moves=made.moves[3:], before=made.before[:1])
    assert "touch it off twice" in " ".join(next(stops(none))[1])
