"""Ports: any, the one asked for, one that is taken."""

import socket

import pytest

from ovolo.app import serving
from ovolo.app.network import HERE, Network
from ovolo.app.serving import listening, network_lines
from ovolo.errors import JobFaults


def test_any_port_is_found_on_this_machine_only() -> None:
    with listening(0) as one:
        assert one.getsockname()[0] == HERE == "127.0.0.1"
        assert one.getsockname()[1] > 0


@pytest.mark.parametrize(
    ("platform", "screen", "can"), [("linux", "", False), ("linux", ":0", True), ("darwin", "", True)]
)
def test_a_browser_is_opened_only_where_there_is_a_screen(
    monkeypatch: pytest.MonkeyPatch, platform: str, screen: str, can: bool
) -> None:
    monkeypatch.setattr("sys.platform", platform)
    monkeypatch.setenv("DISPLAY", screen)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    assert serving._has_screen() is can


def test_an_answer_is_sent_at_once() -> None:
    """The loop only does that for a connection that says it is TCP; else each answer waits for a receipt, 40 ms."""
    with listening(0) as one:
        assert one.proto == socket.IPPROTO_TCP


def test_a_port_that_is_taken_is_said() -> None:
    with listening(0) as one, pytest.raises(JobFaults, match="cannot be had"):
        listening(one.getsockname()[1])


def test_without_a_wish_another_is_found() -> None:
    with listening(None) as one, listening(None) as other:
        assert one.getsockname()[1] != other.getsockname()[1]


def test_what_the_network_means_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Network, "addresses", lambda _: ["http://192.0.2.7:8451"])
    said = "\n".join(network_lines(Network(8451), "http://127.0.0.1:8451/"))
    assert "On the network: http://192.0.2.7:8451/" in said
    assert "Nothing is encrypted" in said
    assert "http://127.0.0.1:8451/devices" in said
    monkeypatch.setattr(Network, "addresses", lambda _: [])
    assert "no address" in "\n".join(network_lines(Network(8451), "http://127.0.0.1:8451/"))
