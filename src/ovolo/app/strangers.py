"""Pages that stand alone: those for a device that is not paired, or sees runs only. Style and script are in them."""

from __future__ import annotations

import math
from functools import lru_cache
from pathlib import Path
from typing import Any

import jinja2
from starlette.responses import HTMLResponse, Response

from ovolo.app.guard import refused
from ovolo.app.policy import policy_of

__all__ = ["not_paired", "standing_alone", "too_soon"]

HERE = Path(__file__).parent


@lru_cache(maxsize=1)
def _templates() -> jinja2.Environment:
    loader = jinja2.FileSystemLoader(HERE / "templates")
    return jinja2.Environment(loader=loader, autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True)


def standing_alone(template: str, status: int = 200, **shown: Any) -> Response:
    """A page that loads nothing, runs its own script alone, and sends no address on to the next page."""
    text = _templates().get_template(template).render(**shown)
    headers = {
        "cache-control": "no-store",
        "content-security-policy": policy_of(text.encode()),
        "referrer-policy": "no-referrer",
    }
    return HTMLResponse(text, status, headers=headers)


def not_paired(*, api: bool) -> Response:
    """What a stranger is answered."""
    says = "this device is not paired"
    remedy = "At the computer, open the page Devices or the tab Turn, and scan the code"
    if api:
        return refused(401, "device", None, "a paired device", says, remedy)
    return standing_alone("stranger.html", 401)


def too_soon(wait: float) -> Response:
    """What somebody is answered who has guessed wrongly and tries again at once. wait: s."""
    seconds = max(1, math.ceil(wait))
    answer = refused(
        429, "device", None, f"after {seconds} s", "too many wrong tries came from here", "Wait, then scan"
    )
    answer.headers["retry-after"] = str(seconds)
    return answer
