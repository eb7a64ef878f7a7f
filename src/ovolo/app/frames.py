"""The messages between the pages and their workers.

A frame is one letter, the length of what follows as eight bytes, and that. Tasks are JSON `[name, arguments]`. Answers:
`D` what the task gave, `F` a JSON list of faults, `M` a mistake of ours, in words.
"""

__all__ = ["DONE", "FAULTS", "HEAD", "MISTAKE", "frame"]

DONE, FAULTS, MISTAKE = b"D", b"F", b"M"

HEAD = 9
"""The bytes before the body."""


def frame(kind: bytes, body: bytes) -> bytes:
    """One message.

    >>> frame(b"D", b"hi")
    b'D\\x00\\x00\\x00\\x00\\x00\\x00\\x00\\x02hi'
    """
    return kind + len(body).to_bytes(HEAD - 1, "big") + body
