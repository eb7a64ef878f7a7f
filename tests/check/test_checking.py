"""Check as a whole: simulated parts, swept by the oracle, and what is said of them."""

import os

import pytest
from tests.check.parts import SHAPES
from tests.check.soak import Told, shortfalls, told
from tests.check.trial import CASES, tried

PARTS = int(os.environ.get("OVOLO_SOAK") or 0) // 10 or 1
"""So many parts of each shape and each case: `make soak` tries 1,000 a shape."""


@pytest.mark.parametrize("name", SHAPES)
def test_what_is_said_of_parts_holds_for_them(name: str) -> None:
    told = [tried(name, case, seed) for case in CASES for seed in range(PARTS)]
    named = [trial for trial in told if trial.named]
    assert sum(not trial.covered for trial in named) <= 1 + 0.07 * len(named)
    nothing = [trial for trial in told if not trial.wrong]
    assert sum(trial.named for trial in nothing) <= 0.05 * len(nothing) + (PARTS < 40)
    assert sum(trial.verdict_false for trial in told) <= 1 + 0.05 * len(told)
    cut = [trial for trial in told if trial.cut]
    assert sum(not trial.mended for trial in cut) <= 1 + 0.05 * len(cut)


FURTHER = [
    ("dome", "counts", "counts_", 4),
    ("dome", "backlash", "backlash", 4),
    ("dials", "cross", "cross_offset", 4),
    ("cove", "nose", "nose_radius", 3),
    ("fillet", "taper", "taper", 4),
    ("handle", "cross", "cross_offset", 4),
]
"""Shape, what is wrong, how it is named, and the seed: `make soak` tries all, 1,000 parts a shape."""


@pytest.mark.parametrize(("name", "case", "cause", "seed"), FURTHER)
def test_further_causes_are_named_with_their_size(name: str, case: str, cause: str, seed: int) -> None:
    found = told(name, case, seed)
    assert found.named, found.said
    assert found.right, found.said
    assert cause in found.said.split(": ")[1]
    assert found.mended or not found.cut


def test_a_figure_set_wrong_is_named_by_its_move() -> None:
    found = next(one for one in (told("dome", "setting", seed) for seed in range(9)) if one.named)
    assert found.right, found.said


def test_rates_are_held_against_what_chance_takes() -> None:
    good = Told("cross", True, True, False, False, True, True, "")
    assert not shortfalls([good] * 19 + [good._replace(right=False)])
    assert shortfalls([good] * 10 + [good._replace(right=False)] * 4)
    assert shortfalls([good._replace(cause="nothing", cut=False)] * 3)
