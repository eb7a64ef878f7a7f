"""How far long work has come."""

import io
import sys

import pytest

from ovolo.cli.progress import told


class _Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_person_sees_how_far_it_is_and_at_the_end_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = _Terminal()
    monkeypatch.setattr(sys, "stderr", screen)
    tell = told("Drawing, image")
    tell(1, 2)
    assert screen.getvalue().endswith("Drawing, image: 1 of 2. Ctrl-C stops it.")
    tell(2, 2)
    assert screen.getvalue().endswith("\r\x1b[K")


def test_a_file_is_not_littered(capsys: pytest.CaptureFixture[str]) -> None:
    told("Drawing, image")(1, 2)
    captured = capsys.readouterr()
    assert captured.out == captured.err == ""
