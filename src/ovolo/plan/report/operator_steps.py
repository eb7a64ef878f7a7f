"""What has to happen ahead of certain moves: tools set, a stop to measure, slides locked, a word of warning."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence

from ovolo.geometry.segments import Point
from ovolo.plan.move import Before, Measured, Move
from ovolo.plan.report.machine_limits import about_jaws
from ovolo.plan.report.measuring_stop import BLANK, stop, stop_after
from ovolo.plan.report.notes import ending
from ovolo.plan.report.stands import stand_before
from ovolo.plan.toolpath.taper_passes import about_slants
from ovolo.plan.toolpath.top_slide import about_top
from ovolo.plan.view.frame import Frame


def ahead(
    frame: Frame,
    moves: Sequence[Move],
    entries: Sequence[int],
    trials: Sequence[int],
    border_after: Callable[[int], Sequence[Point]],
) -> tuple[Before, ...]:
    """What has to happen ahead of certain moves; `entries` are those with which a tool goes in under a lip, `trials`
    those that turn what is measured, `border_after` gives the border of the metal after a move."""
    out: list[Before] = [*about_top(frame, moves), *about_slants(frame, moves)]
    out += [Before(n, "say", _INTO_A_BAY) for n in entries]
    out += about_jaws(frame, moves)
    out += _stops(frame, moves, trials, border_after)
    stops = {before.move for before in out if before.kind == "stand"}
    out += _noted(frame, moves)
    tool, stage = None, None
    for move in moves:
        out += _new_tool(frame, move, first=tool is None) if move.tool != tool else []
        stand = stand_before(frame, move) if move.tool != tool and move.n not in stops else None
        out += [stand] if stand is not None else []
        if move.stage != stage and move.stage == "finish":
            out.append(Before(move.n, "lock", _LOCK))
        tool, stage = move.tool, move.stage
    if frame.centre is not None and moves:
        out.append(Before(moves[-1].n, "say", f"With this move the turning is done. {ending(frame)}"))
    return tuple(sorted(out, key=lambda b: (b.move, _LAST.index(b.kind) if b.kind in _LAST else -1)))


def _stops(
    frame: Frame, moves: Sequence[Move], trials: Sequence[int], border_after: Callable[[int], Sequence[Point]]
) -> list[Before]:
    """A stop after each trial that leaves something to measure, and where the tool is brought back to after it."""
    out: list[Before] = []
    for n in trials:
        border = border_after(n + 1)
        found = stop_after(frame, moves, n, border)
        if found is None:
            continue
        measured, first = found
        out += _stop_at(frame, moves[first - 1 :], measured, border)
    return out


def _stop_at(frame: Frame, coming: Sequence[Move], measured: Measured, border: Sequence[Point]) -> Iterator[Before]:
    """The stop, ahead of the first of the coming moves that begins clear of the metal; nothing where a cut comes
    before that."""
    tool = coming[0].tool if coming else ""
    for move in itertools.takewhile(lambda m: m.tool == tool, coming):
        stand = stand_before(frame, move, border)
        if stand is not None:
            yield from (stop(frame, move.n, measured), stand)
        if stand is not None or move.cuts:
            return


_LAST = ("say", "stand")
"""What comes last ahead of a move, in this order."""

_INTO_A_BAY = (
    "From here on the knife cuts under an overhang: with the spindle stopped wind it through the next figures once, "
    "and see that its back and the holder clear"
)
_LOCK = "From here on lock the idle slide before each cut; read it again afterwards"


def _new_tool(frame: Frame, move: Move, first: bool) -> list[Before]:
    if frame.job.shop.lathe.post == "repeats" and not first:
        return _changed(move)
    again = "" if first else ", so that it leaves a trace of metal on the finished surface rather than cutting into it"
    return [
        Before(move.n, "tool", f"{move.tool[:1].upper()}{move.tool[1:]}, on centre height"),
        Before(move.n, "touch", f"Touch off diameter and length with {move.tool}{again}"),
    ]


def _noted(frame: Frame, moves: Sequence[Move]) -> list[Before]:
    """In a post that repeats, what is noted of every later tool before the first move."""
    later = list(dict.fromkeys(move.tool for move in moves))[1:] if frame.job.shop.lathe.post == "repeats" else []
    return [
        Before(
            1,
            "say",
            f"With {tool} in its holder touch the same surfaces, and note by how much each slide shows less than it "
            f"should: cross {BLANK}, along {BLANK}",
        )
        for tool in later
    ]


def _changed(move: Move) -> list[Before]:
    """A tool whose differences were noted before the first move, in a post that brings it back to its place."""
    noted = f"Correct both figures by what was noted at the set-up for {move.tool}: cross {BLANK}, along {BLANK}"
    return [
        Before(move.n, "tool", f"{move.tool[:1].upper()}{move.tool[1:]}, in its holder"),
        Before(move.n, "touch", noted),
    ]
