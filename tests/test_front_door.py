"""`import ovolo`: few names, each loaded when it is used; what README and docs/scripting.md show runs."""

import doctest
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import ovolo

ROOT = Path(__file__).parents[1]
NAMES_AT_MOST = 12
LINES_IN_README = 8


@pytest.fixture
def workshop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the example that the documents use, entered."""
    (tmp_path / "examples").mkdir()
    shutil.copy(ROOT / "examples" / "bridge-pin.toml", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_front_door_is_narrow() -> None:
    assert 0 < len(ovolo.__all__) <= NAMES_AT_MOST
    assert sorted(ovolo.__all__) == ovolo.__all__ == dir(ovolo)
    for name in ovolo.__all__:
        assert getattr(ovolo, name).__doc__


def test_no_other_name_is_given() -> None:
    with pytest.raises(AttributeError, match="no attribute 'make_plans'"):
        _ = ovolo.make_plans


def test_nothing_is_loaded_before_it_is_used() -> None:
    script = "import sys, ovolo; print(sorted(n for n in sys.modules if n.startswith('ovolo') or n == 'numpy'))"
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "['ovolo', 'ovolo.errors']"


def test_the_lines_of_the_readme_run(workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (block,) = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
    assert len([line for line in block.splitlines() if line]) == LINES_IN_README
    exec(compile(block, "README.md", "exec"), {})
    printed = capsys.readouterr().out
    assert re.search(r"^1 (saddle|cross) \S+", printed, re.MULTILINE)
    assert re.search(r"^\d+ settings leave ridges of 0\.0\d+ mm at most\nabout \d+ minutes", printed, re.MULTILINE)
    assert (workshop / "bridge-pin.svg").read_text(encoding="utf-8").startswith("<svg")
    assert (workshop / "bridge-pin.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.usefixtures("workshop")
def test_the_page_on_scripting_runs() -> None:
    failed, tried = doctest.testfile(str(ROOT / "docs" / "scripting.md"), module_relative=False, encoding="utf-8")
    assert (failed, tried > 15) == (0, True)


def test_the_page_on_scripting_names_them_all() -> None:
    text = (ROOT / "docs" / "scripting.md").read_text(encoding="utf-8")
    assert all(f"`{name}" in text for name in ovolo.__all__)
