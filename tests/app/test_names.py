"""Names in addresses."""

import re

from ovolo.app.names import _Kept, _Name


def test_a_name_is_no_path() -> None:
    name = re.compile(_Name.regex)
    assert name.fullmatch("4f1c09ab12cd")
    for bad in ("", "..", "a/b", "a.b", "a%2fb", "x" * 41, "ä"):
        assert not name.fullmatch(bad)


def test_two_kinds_are_kept() -> None:
    assert [bool(re.fullmatch(_Kept.regex, kind)) for kind in ("jobs", "shops", "boats")] == [True, True, False]
