"""What a page that stands alone may load: nothing but what is written in it, each piece by its digest."""

from __future__ import annotations

import base64
import hashlib
import re

__all__ = ["policy_of"]


def policy_of(page: bytes) -> str:
    """What a run's page may load and run: its own style and script, by their digests, and nothing else."""
    text = page.decode()
    style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)
    script = re.search(r'<script id="script">(.*?)</script>', text, re.DOTALL)
    digests = [_digest(found[1]) if found else "'none'" for found in (script, style)]
    return (
        f"default-src 'none'; script-src {digests[0]}; style-src {digests[1]}; img-src data: blob:; font-src data:; "
        "connect-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'"
    )


def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"
