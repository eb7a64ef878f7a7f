"""The text of a file that somebody has named: a job, readings, a recorded run, a plan."""

from pathlib import Path

from ovolo.errors import Fault, JobFaults


def text_of(path: Path, what: str, most: int) -> str:
    """The text of a file in UTF-8, with or without a byte-order mark.

    what: what it should be, for the fault, such as "a job". most: its largest size, bytes. Raises JobFaults with one
    fault where there is no such file, it is larger or it cannot be read; nothing else for any path or content.
    """
    try:
        fault = _unusable(path, what, most)
        if fault is None:
            return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        fault = _fault(path, None, f"byte {wrong.start + 1} is not UTF-8 text", "Save it as UTF-8")
    except (OSError, ValueError) as wrong:
        says = f"it cannot be read: {getattr(wrong, 'strerror', None) or wrong}"
        fault = _fault(path, None, says, "Check its name and the rights of the file")
    raise JobFaults([fault])


def _unusable(path: Path, what: str, most: int) -> Fault | None:
    """Why a path cannot be that, seen from outside."""
    if not path.exists():
        return _fault(path, None, "there is no such file", "Check its name and folder")
    if not path.is_file():
        return _fault(path, None, "it is not a file", "Name the file itself")
    size = path.stat().st_size
    if size <= most:
        return None
    says, limit = f"{size / 1e6:.1f} MB are too much for {what}", f"{most // 1_000_000} MB"
    return _fault(path, f"{size / 1e6:.1f} MB", says, "Check the name and what is in it", limit)


def _fault(path: Path, value: str | None, says: str, remedy: str, limit: str = "") -> Fault:
    return Fault(str(path), value, limit, says, remedy)
