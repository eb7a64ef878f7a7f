"""How far long work has come: one line on standard error, only where a person looks on."""

import sys
from collections.abc import Callable

__all__ = ["told"]

_CLEAR = "\r\x1b[K"


def told(what: str) -> Callable[[int, int], None]:
    """To be called with how many of how many are done; writes nothing where standard error is no terminal."""

    def tell(done: int, of: int) -> None:
        if sys.stderr.isatty():
            sys.stderr.write(_CLEAR if done >= of else f"{_CLEAR}{what}: {done} of {of}. Ctrl-C stops it.")
            sys.stderr.flush()

    return tell
