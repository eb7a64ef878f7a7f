"""The group of commands: help, version, and what becomes of what goes wrong."""

import pytest

from ovolo.cli import main
from ovolo.cli import plan as plan_module
from ovolo.cli.commands import COMMANDS


def _run(*args: str) -> int:
    with pytest.raises(SystemExit) as end:
        main(args)
    assert isinstance(end.value.code, int)
    return end.value.code


def test_help_names_the_commands(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("--help") == 0
    out = capsys.readouterr().out
    assert "plan" in out
    assert "schema" in out


@pytest.mark.parametrize(("name", "summary"), COMMANDS.items())
def test_the_summary_of_a_command_is_its_own_first_sentence(
    name: str, summary: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """The group says it without loading the command; the two must not part."""
    assert _run(name, "--help") == 0
    assert summary in " ".join(capsys.readouterr().out.split())


def test_the_version_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("--version") == 0
    assert capsys.readouterr().out.startswith("ovolo 0.")


@pytest.mark.parametrize("args", [["paln"], ["plan"], ["plan", "a.toml", "--colour"], ["schema", "part"]])
def test_a_wrong_command_ends_with_2(args: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(*args) == 2
    captured = capsys.readouterr()
    assert captured.err
    assert not captured.out


def test_bad_input_ends_with_2_and_no_traceback(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("plan", "nowhere/pin.toml") == 2
    err = capsys.readouterr().err
    assert err.startswith("nowhere/pin.toml: there is no such file")
    assert "Traceback" not in err


def test_a_mistake_of_ours_is_one_plain_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def break_down(*_: object) -> None:
        raise KeyError("reach")

    monkeypatch.setattr(plan_module, "planned", break_down)
    monkeypatch.delenv("OVOLO_TRACEBACK", raising=False)
    assert _run("plan", "pin.toml") == 1
    err = capsys.readouterr().err
    assert "Ovolo itself has made a mistake (KeyError: 'reach')" in err
    assert "Traceback" not in err
    monkeypatch.setenv("OVOLO_TRACEBACK", "1")
    assert _run("plan", "pin.toml") == 1
    assert "break_down" in capsys.readouterr().err
