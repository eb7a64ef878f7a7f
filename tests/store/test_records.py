"""What the store refuses is said in words."""

from ovolo.errors import OvoloError
from ovolo.store.records import Changed, Kept, NotKept


def test_refusals_are_reported_on_purpose() -> None:
    kept = Kept("a", "job", "Pin", 4, 2, {}, True, False, None)
    assert isinstance(NotKept("x"), OvoloError)
    text = str(Changed(kept, 3))
    assert "'Pin'" in text
    assert "revision 3" in text
    assert "at 4" in text
