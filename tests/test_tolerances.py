"""One set of tolerances for all rooms."""

import re
from pathlib import Path

from ovolo import tolerances
from ovolo.shop.slides import Slide

SRC = Path(__file__).parents[1] / "src" / "ovolo"


def test_each_is_finer_than_what_it_must_not_hide() -> None:
    assert tolerances.ROUNDING < tolerances.SAME_PLACE < tolerances.WRITTEN < tolerances.SEEN
    assert Slide("cross", "diameter", "out", 0.001).step > tolerances.SEEN


def test_no_module_has_its_own_idea_of_what_is_the_same() -> None:
    own = [
        str(path.relative_to(SRC))
        for path in sorted(SRC.rglob("*.py"))
        if re.search(r"^_?SAME\w* = [0-9]", path.read_text(encoding="utf-8"), re.MULTILINE)
    ]
    assert own == ["documents/resolved.py", "tolerances.py"]  # arcs whose curvature is the same, not places
