"""The user's own pace as found from a recorded run: the table to paste into a job, and how well it fits."""

from textwrap import wrap

from ovolo.cutting.pace import Fit
from ovolo.show.words.outlook import about

__all__ = ["fit_as_toml"]

_WIDTH = 96

_SAYS = {
    "turn": "s to wind a handwheel once",
    "setting": "s to come to a figure and read it",
    "lock": "s to lock or free a slide",
    "tool_change": "s to change a tool",
    "measuring": "s to stop and measure",
    "filing": "mm³ filed off in a minute",
}


def fit_as_toml(fit: Fit, moves: int) -> str:
    """The table [pace], ready to paste, under remarks that say how well it fits; `moves`: of the whole plan."""
    lines = [f"# {line}" for sentence in _sentences(fit, moves) for line in wrap(sentence, _WIDTH)]
    return "\n".join([*lines, "[pace]", *(_row(fit, name) for name in _SAYS), ""])


def _row(fit: Fit, name: str) -> str:
    field = "filing_mm3" if name == "filing" else name
    value = about(getattr(fit.pace, name), 3)
    told = "" if name in fit.told else ", as before: the run does not show it"
    return f"{field:<11} = {value:<6} # {_SAYS[name]}{told}"


def _sentences(fit: Fit, moves: int) -> list[str]:
    return [
        f"From {fit.moves} of {moves} moves, {_minutes(fit.recorded)} in all.",
        f"The pace before foresaw {_minutes(fit.foreseen)} for them, each move off by {about(fit.off_before)} s (root "
        f"mean square); this one {_minutes(fit.found)}, each off by {about(fit.off)} s.",
        *_doubts(fit),
    ]


def _doubts(fit: Fit) -> list[str]:
    """What is not to be believed of it."""
    doubts = []
    if fit.moves < 3 * len(fit.told):
        doubts.append(f"These moves are too few for {len(fit.told)} figures: record {3 * len(fit.told)} or more.")
    nothing = [name for name in fit.told if not getattr(fit.pace, name)]
    if nothing:
        doubts.append(f"{', '.join(nothing)} came out as 0: the run does not show that they take time.")
    return doubts


def _minutes(seconds: float) -> str:
    """Seconds to what they deserve.

    >>> _minutes(48.3), _minutes(851)
    ('48 s', '14.2 min')
    """
    return f"{seconds:.0f} s" if seconds < 120 else f"{seconds / 60:.1f} min"
