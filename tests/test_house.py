"""How the house is kept: one-way imports, small functions and modules, docstrings, a light `--help`, one set of locks.

The limits are goals of the project, not of a library: a function longer than 60 lines, docstring aside, cannot be
followed at one sitting, a module longer than 500 cannot be kept in the head.
"""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from importlinter import cli as import_linter

ROOT = Path(__file__).parents[1]
SRC = ROOT / "src" / "ovolo"
MODULES = sorted(SRC.rglob("*.py"))
DOCUMENTED_ROOMS = ("geometry", "part", "shop", "cutting", "plan", "predict", "setup", "check")
HEAVY = ("numpy", "scipy", "shapely", "ezdxf", "svgelements", "typst", "PIL", "fontTools")
LONGEST_FUNCTION = 60
LONGEST_MODULE = 500

Function = ast.FunctionDef | ast.AsyncFunctionDef


def _functions(tree: ast.AST) -> Iterator[Function]:
    return (node for node in ast.walk(tree) if isinstance(node, Function))


def _public(tree: ast.Module | ast.ClassDef) -> Iterator[tuple[str, Function | ast.ClassDef]]:
    """Public functions and classes, and the public methods of public classes."""
    for node in tree.body:
        if isinstance(node, Function | ast.ClassDef) and not node.name.startswith("_"):
            yield node.name, node
            if isinstance(node, ast.ClassDef):
                yield from ((f"{node.name}.{name}", inner) for name, inner in _public(node))


def _lines(function: Function) -> int:
    """Lines of code, the docstring aside: a worked example never counts against a function."""
    body = function.body
    doc = body[0].end_lineno - body[0].lineno + 1 if ast.get_docstring(function) and body[0].end_lineno else 0
    return (function.end_lineno or 0) - function.lineno + 1 - doc


@cache
def _tree(module: Path) -> ast.Module:
    return ast.parse(module.read_text(encoding="utf-8"))


def _name(module: Path) -> str:
    return str(module.relative_to(SRC))


def test_there_is_a_house() -> None:
    assert SRC / "units.py" in MODULES
    assert {path.name for path in SRC.iterdir() if path.is_dir()} >= set(DOCUMENTED_ROOMS)


def test_imports_run_one_way_only(capfd: pytest.CaptureFixture[str]) -> None:
    """The layers stand in pyproject.toml; a module that belongs to none of them breaks the contract as well."""
    status = import_linter.lint_imports(config_filename=str(ROOT / "pyproject.toml"), cache_dir=None)
    assert status == import_linter.EXIT_STATUS_SUCCESS, capfd.readouterr().out


def test_modules_stay_small() -> None:
    long = {_name(module): lines for module in MODULES if (lines := _length(module)) > LONGEST_MODULE}
    assert not long


def _length(module: Path) -> int:
    return len(module.read_text(encoding="utf-8").splitlines())


def test_functions_stay_small() -> None:
    long = {
        f"{_name(module)}: {function.name} at line {function.lineno}": _lines(function)
        for module in MODULES
        for function in _functions(_tree(module))
        if _lines(function) > LONGEST_FUNCTION
    }
    assert not long


def test_modules_say_what_they_are() -> None:
    assert not [_name(module) for module in MODULES if not ast.get_docstring(_tree(module))]


def test_what_is_public_is_explained() -> None:
    silent = [
        f"{_name(module)}: {name}"
        for room in DOCUMENTED_ROOMS
        for module in sorted((SRC / room).rglob("*.py"))
        for name, node in _public(_tree(module))
        if not ast.get_docstring(node)
    ]
    assert not silent


def test_no_import_hides_in_a_function() -> None:
    """Only heavy libraries may be imported inside a function, to keep them out of `--help`."""
    hidden = [
        f"{_name(module)}:{inner.lineno}: {ast.unparse(inner)}"
        for module in MODULES
        for function in _functions(_tree(module))
        for inner in ast.walk(function)
        if isinstance(inner, ast.Import | ast.ImportFrom) and not _is_allowed_inside(inner)
    ]
    assert not hidden


def _is_allowed_inside(node: ast.Import | ast.ImportFrom) -> bool:
    names = [node.module or ""] if isinstance(node, ast.ImportFrom) else [alias.name for alias in node.names]
    return all(name.split(".")[0] in {*HEAVY, "OCP", "uvicorn"} for name in names)


def test_help_is_light() -> None:
    """`ovolo --help` answers without the libraries that take longer to import than to read the help."""
    script = (
        "import sys; from ovolo.cli import main\n"
        "try: main(['--help'])\n"
        "except SystemExit as end: assert not end.code, end.code\n"
        f"loaded = [name for name in {HEAVY!r} if name in sys.modules]\n"
        "sys.exit(f'--help has imported {loaded}' if loaded else 0)\n"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    assert "plan" in run.stdout


def test_every_module_has_its_twin_among_the_tests() -> None:
    """tests/<room>/test_<module>.py for 95 % of the modules."""
    modules = [module for module in MODULES if module.name != "__init__.py"]
    missing = [_name(module) for module in modules if not _twin(module).exists()]
    assert len(missing) <= 0.05 * len(modules), missing


def _twin(module: Path) -> Path:
    return (ROOT / "tests" / module.relative_to(SRC)).with_name(f"test_{module.stem.lstrip('_')}.py")


def _pins(lock: str) -> set[str]:
    """Each `name==version ; marker` of a lock, hashes aside."""
    return set(re.findall(r"^([a-z0-9._-]+==[^\\\n]+?) *\\?$", (ROOT / lock).read_text(encoding="utf-8"), re.MULTILINE))


def test_locks_agree_and_hold_no_address() -> None:
    assert len(_pins("requirements.lock")) > 20
    assert _pins("requirements.lock") <= _pins("requirements-dev.lock")
    for lock in ("requirements.lock", "requirements-dev.lock"):
        text = (ROOT / lock).read_text(encoding="utf-8")
        assert not re.search(r"https?:|file:|index-url|find-links|@", text)
        assert all("--hash=sha256:" in entry for entry in re.split(r"\n(?=[a-z])", text.strip()))


def test_the_build_backend_is_pinned_once() -> None:
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    pinned = set(re.findall(r'"hatchling==([0-9.]+)"', text))
    assert len(pinned) == 1
    assert f"hatchling=={pinned.pop()}" in _pins("requirements-dev.lock")
