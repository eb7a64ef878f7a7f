"""Files are written whole or not at all: each to a temporary file first, all renamed once every one is complete."""

import contextlib
import os
import stat
import sys
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path

import click

from ovolo.errors import Fault, OutputError

__all__ = ["STANDARD_OUTPUT", "Content", "check_targets", "say", "unwritable", "write_all"]

STANDARD_OUTPUT = "-"


def check_targets(targets: Mapping[str, str], source: Path) -> None:
    """Refuse, before any work is done, targets (option -> file) that cannot all be written.

    Raises click.UsageError where two options name one place or the job itself, OutputError for a folder that is not
    there.
    """
    taken = {_real(source): "the job itself"}
    for option, target in targets.items():
        place = target if target == STANDARD_OUTPUT else _real(Path(target))
        if place in taken:
            raise click.UsageError(f"{option} {target}: that is {taken[place]} already. Name another file.")
        taken[place] = f"where {option} goes"
        if target != STANDARD_OUTPUT:
            _check_place(Path(target))


Content = str | bytes


def write_all(texts: Mapping[str, Content]) -> None:
    """Write each text or bytes to its file (`-`: standard output). Raises OutputError, and then changes no file.

    What goes to standard output goes first, so that a full device or a closed pipe leaves no file behind.
    """
    files = {Path(_real(Path(target))): text for target, text in texts.items() if target != STANDARD_OUTPUT}
    devices = {target: text for target, text in files.items() if _is_device(target)}
    staged: dict[Path, Path] = {}
    try:
        for target, text in files.items():
            if target not in devices:
                staged[target] = _stage(target, text)
        if STANDARD_OUTPUT in texts:
            say(texts[STANDARD_OUTPUT])
        for target, temporary in staged.items():
            with _naming(target):
                temporary.replace(target)
    finally:
        for temporary in staged.values():
            temporary.unlink(missing_ok=True)
    for target, text in devices.items():
        with _naming(target):
            target.write_bytes(_as_bytes(text))


def say(text: Content) -> None:
    """Write to standard output, all of it, at once.

    Raises OutputError where that is closed or full; a reader that has gone away (a broken pipe) ends the command.
    """
    if sys.stdout is None or sys.stdout.closed:
        raise OutputError(Fault("standard output", None, "", "it is closed", "Leave it open, or name files to write"))
    try:
        click.echo(text, nl=False)
        sys.stdout.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        raise OutputError(unwritable("standard output", error)) from None


def unwritable(where: str, error: OSError) -> Fault:
    """The fault for what the system refuses to write."""
    reason = (error.strerror or str(error)).lower()
    remedy = "Choose another place, or make room and give the right to write there"
    return Fault(where, None, "", f"it cannot be written: {reason}", remedy)


def _as_bytes(text: Content) -> bytes:
    return text.encode("utf-8") if isinstance(text, str) else text


def _stage(target: Path, text: Content) -> Path:
    """The text in a temporary file next to its target, with the rights that the target has or would get."""
    with _naming(target):
        handle, name = tempfile.mkstemp(prefix=f".{target.name[:40]}.", dir=target.parent)
        temporary = Path(name)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(_as_bytes(text))
                file.flush()
                os.fsync(file.fileno())
            temporary.chmod(_rights(target))
        except BaseException:
            temporary.unlink(missing_ok=True)
            raise
        return temporary


def _rights(target: Path) -> int:
    if target.exists():
        return stat.S_IMODE(target.stat().st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


@contextlib.contextmanager
def _naming(target: Path) -> Iterator[None]:
    """What the system refuses becomes a fault that names the file."""
    try:
        yield
    except OSError as error:
        raise OutputError(unwritable(str(target), error)) from None


def _real(path: Path) -> str:
    return os.path.realpath(path)


def _check_place(target: Path) -> None:
    if target.is_dir():
        raise OutputError(Fault(str(target), None, "", "it is a folder", "Name a file in it"))
    if not target.absolute().parent.is_dir():
        raise OutputError(Fault(str(target), None, "", "its folder does not exist", "Make the folder first"))
    if target.is_file() and not _rights(target) & stat.S_IWUSR:
        raise OutputError(
            Fault(str(target), None, "", "it is write-protected", "Name another file, or give that right")
        )


def _is_device(target: Path) -> bool:
    """Whether it is there and is no plain file: a pipe or /dev/null is written to, never replaced."""
    return target.exists() and not target.is_file()
