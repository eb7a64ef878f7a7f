"""What `ovolo plan` prints: in the order of need, short unless more is asked for, as wide as the terminal."""

import pytest
from tests.show.plans import planned

from ovolo.show.words.printout import printout

HEADS = ["Speeds", "Set-up", "Moves, in mm", "What will be left", "Watch for"]


def test_it_begins_with_what_comes_out_and_goes_on_in_the_order_of_need() -> None:
    plan = planned("bridge-pin")
    text = printout(plan)
    lines = text.splitlines()
    assert lines[0] == plan.job.title
    assert f"{plan.stations} settings leave ridges of at most" in lines[2]
    assert f"{len(plan.moves)} moves" in " ".join(lines[2:4])
    places = [next(i for i, line in enumerate(lines) if line.startswith(head)) for head in HEADS]
    assert places == sorted(places)
    assert len(lines) < 90
    assert "What to expect" not in text
    assert "Touch off" not in text.split("Moves, in mm")[0]


def test_set_up_and_details_are_printed_where_they_are_asked_for() -> None:
    plan = planned("bridge-pin")
    assert " 1. The bar" in printout(plan, setup=True)
    full = printout(plan, details=True)
    for head in ("What to expect", "How even the cuts are", "Load of each cut", "Where the time goes"):
        assert f"\n{head}\n" in full


@pytest.mark.parametrize("width", [40, 80])
def test_it_fits_the_terminal(width: int) -> None:
    text = printout(planned("windlass-handle"), setup=True, details=width == 80, width=width)
    assert max(map(len, text.splitlines())) <= width


def test_several_tools_are_all_named() -> None:
    plan = planned("pawl-knob")
    head = " ".join(printout(plan).split("Speeds")[0].split())
    assert all(tool.name in head for tool in plan.tools)
