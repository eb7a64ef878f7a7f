"""The frames between a worker and its parent."""

import io
import json

from ovolo.app.frames import DONE, FAULTS, MISTAKE, frame
from ovolo.app.worker import answer, serve


def test_frames_are_answered_in_turn() -> None:
    tasks = frame(DONE, json.dumps(["plan", [{}]]).encode()) + frame(DONE, b"nonsense")
    sink = io.BytesIO()
    serve(io.BytesIO(tasks), sink)
    first, rest = sink.getvalue(), []
    while first:
        size = int.from_bytes(first[1:9], "big")
        rest.append((first[:1], first[9 : 9 + size]))
        first = first[9 + size :]
    assert [kind for kind, _ in rest] == [FAULTS, MISTAKE]
    assert all(fault["says"] for fault in json.loads(rest[0][1]))


def test_a_mistake_tells_no_path() -> None:
    kind, text = answer(json.dumps(["part_view", []]).encode())
    assert kind == MISTAKE
    assert b"/" not in text
