"""The lathe, where the job says something of it and where not."""

from ovolo.shop.lathe import Cutter, Lathe


def test_a_lathe_of_which_nothing_is_known_holds_in_the_chuck() -> None:
    lathe = Lathe()
    assert (lathe.speeds, lathe.motor_w, lathe.chuck_max_rpm, lathe.holding) == ((), None, None, "chuck")


def test_nearly_every_lathe_feeds_its_saddle() -> None:
    assert Lathe().power_feed == ("saddle",)


def test_a_tool_of_which_nothing_is_said_is_high_speed_steel() -> None:
    lathe = Lathe(cutters=(Cutter("knife", "carbide"),))
    assert lathe.cutter("knife").material == "carbide"
    assert lathe.cutter("round nose").material == "high-speed steel"
    assert lathe.cutter("round nose").tool == "round nose"
