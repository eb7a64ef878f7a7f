"""A message says what it is and how long it is."""

import pytest

from ovolo.app.frames import DONE, FAULTS, HEAD, MISTAKE, frame


@pytest.mark.parametrize("kind", [DONE, FAULTS, MISTAKE])
@pytest.mark.parametrize("body", [b"", b"x" * 100_000])
def test_a_frame_can_be_taken_apart(kind: bytes, body: bytes) -> None:
    made = frame(kind, body)
    assert made[:1] == kind
    assert int.from_bytes(made[1:HEAD], "big") == len(body)
    assert made[HEAD:] == body
