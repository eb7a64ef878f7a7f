"""The long run: stopped and taken up again it tries each seed once, and it notices what falls short."""

import json
from collections import Counter
from pathlib import Path

import pytest
from tests.properties import soak
from tests.properties.trial import Trial


def test_it_goes_on_where_it_stopped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[int] = []

    def stop_once(seed: int) -> tuple[int, str, str]:
        if seed == 13 and 13 not in tried:
            tried.append(seed)
            raise KeyboardInterrupt
        tried.append(seed)
        return seed, "planned", ""

    monkeypatch.setattr(soak, "one", stop_once)
    with pytest.raises(KeyboardInterrupt):
        soak.run(10, 8, 1, tmp_path)
    fared = soak.run(10, 8, 1, tmp_path)
    assert fared == {"planned": 8}
    assert tried == [10, 11, 12, 13, 13, 14, 15, 16, 17]
    assert json.loads((tmp_path / "soak-10.json").read_text())["next"] == 18


def test_findings_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(soak, "attempt", lambda job: Trial(job, "wrong", ["gouges 0.2"]))
    assert soak.bad(soak.run(4, 1, 1, tmp_path))
    words = (tmp_path / "soak-4-wrong.txt").read_text()
    assert "gouges 0.2" in words
    assert "nose_radius" in words


def test_a_crash_is_a_finding(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def crash(job: object) -> Trial:
        raise ZeroDivisionError("nose")

    monkeypatch.setattr(soak, "attempt", crash)
    assert soak.one(3) == (3, "crashed", "ZeroDivisionError: nose\n")


@pytest.mark.parametrize(
    ("fared", "short"),
    [({"planned": 99, "bite": 1}, False), ({"planned": 50, "bite": 10}, True), ({"planned": 99, "crashed": 1}, True)],
)
def test_what_counts_as_falling_short(fared: dict[str, int], short: bool) -> None:
    assert soak.bad(Counter(fared)) == short


def test_two_processes_find_what_one_does() -> None:
    with soak.results(range(2), 1) as one, soak.results(range(2), 2) as two:
        assert list(one) == list(two)
