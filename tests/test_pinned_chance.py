"""What Hypothesis draws in a test depends on that test alone, not on what else was loaded (see conftest.py)."""

import importlib.util
import os
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st


def _draws() -> list[tuple[int, float]]:
    drawn = []

    @settings(max_examples=200, derandomize=True, database=None)
    @given(whole=st.integers(), length=st.floats(0, 1e6))
    def draw(whole: int, length: float) -> None:
        drawn.append((whole, length))

    draw()
    return drawn


def test_a_loaded_module_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A module whose constants Hypothesis would otherwise offer in about one draw of twenty."""
    before = _draws()
    source = tmp_path / "of_the_project.py"
    source.write_text("LENGTHS = [271828.125, 314159.25]\nCOUNTS = [8675309, 24601077]\n", encoding="utf-8")
    spec = importlib.util.spec_from_file_location("of_the_project", source)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setitem(sys.modules, "of_the_project", module)
    spec.loader.exec_module(module)
    assert _draws() == before


@pytest.mark.skipif(bool(os.environ.get("OVOLO_SOAK")), reason="the long run looks for new cases")
def test_the_same_cases_every_time() -> None:
    assert settings.get_current_profile_name() == "everyday"
    assert settings().derandomize
