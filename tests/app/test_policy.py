"""A page that stands alone may run what is written in it, and nothing else."""

import base64
import hashlib

from ovolo.app.policy import policy_of


def test_style_and_script_are_allowed_by_their_digests_alone() -> None:
    page = b'<style>p { color: red }</style><script id="script">go()</script>'
    policy = policy_of(page)
    for text in ("p { color: red }", "go()"):
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in policy
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "script-src 'none'" in policy_of(b"<p>nothing</p>")
