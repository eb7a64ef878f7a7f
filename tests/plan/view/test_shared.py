"""What frames of one job share is worked out once."""

from dataclasses import dataclass, field, replace
from typing import Any

from ovolo.plan.view.shared import shared


@dataclass(frozen=True)
class Counted:
    """Counts how often its area is worked out."""

    side: float
    shade: float = 0.0
    times: list[float] = field(default_factory=list, compare=False)
    kept: dict[str, Any] = field(default_factory=dict, compare=False)

    @shared
    def area(self) -> float:
        """Of a square."""
        self.times.append(self.side)
        return self.side**2


def test_a_copy_knows_what_was_worked_out_before() -> None:
    one = Counted(3.0)
    assert one.area == one.area == 9.0
    other = replace(one, shade=1.0)
    assert other.area == 9.0
    assert one.times == [3.0]


def test_another_one_works_it_out_anew() -> None:
    assert (Counted(3.0).area, Counted(2.0).area) == (9.0, 4.0)
    assert Counted.area.__doc__ == "Of a square."
