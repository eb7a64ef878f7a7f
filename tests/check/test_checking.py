"""Check as a whole: simulated parts, swept by the oracle, and what is said of them."""

import os

import pytest
from tests.check.parts import SHAPES
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
