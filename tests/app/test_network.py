"""Each line of docs/threat-model.md: what somebody on the network tries, and what stops it."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx
import pytest
from sqlalchemy import text
from tests.app.live import PHONE, live

from ovolo.app import devices
from ovolo.app.door import COOKIE
from ovolo.app.network import HERE, Network, is_here, own_names
from ovolo.app.pairing import LASTS, Pairing
from ovolo.app.serving import listening
from ovolo.app.site import make_site
from ovolo.store import Store

MODEL = Path(__file__).parents[2] / "docs" / "threat-model.md"


class Clock:
    """Seconds that pass when they are told to."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


class Served:
    """A site on the network: `here` is this machine, `address` what a phone calls it."""

    def __init__(self, here: httpx.Client, network: Network, clock: Clock) -> None:
        self.here, self.network, self.clock = here, network, clock
        self.address = f"http://{PHONE}:{here.base_url.port}"

    def phone(self) -> httpx.Client:
        """Another device: a stranger as yet, that sends its origin as a browser does."""
        return httpx.Client(base_url=self.address, headers={"origin": self.address}, timeout=60)

    def code(self, **asked: Any) -> str:
        address = str(self.here.post("/api/pairing", json=asked).json()["address"])
        return address.split("#")[1].split(".")[0]

    @contextmanager
    def paired(self) -> Iterator[httpx.Client]:
        with self.phone() as phone:
            assert phone.post("/api/pair", json={"code": self.code()}).status_code == 201
            yield phone

    def later(self, seconds: float) -> None:
        self.clock.now += seconds


@pytest.fixture(scope="module")
def served(store: Store) -> Iterator[Served]:
    clock = Clock()
    network = Network(0, Pairing(clock), lambda: [PHONE])
    patch = pytest.MonkeyPatch()
    patch.setattr(devices, "HELD_BACK", 0.0)
    with live(make_site(store, workers=1, network=network), "0.0.0.0") as here:
        here.base_url = httpx.URL(f"http://{HERE}:{here.base_url.port}")
        network.port = here.base_url.port or 0
        yield Served(here, network, clock)
    patch.undo()


@pytest.fixture(autouse=True)
def waited(served: Served) -> None:
    """Nobody waits for what a test before has guessed."""
    served.later(10_000)


@pytest.fixture(scope="module")
def run(served: Served, pin: dict[str, Any]) -> str:
    return str(served.here.post("/api/runs", json={"job": pin}).json()["run"])


def test_each_line_of_the_model_has_its_test() -> None:
    lines = [line for line in MODEL.read_text(encoding="utf-8").splitlines() if line.startswith("| ")][1:]
    assert len(lines) > 12
    named = [re.findall(r"`(test_\w+)`", line) for line in lines]
    assert all(len(names) == 1 and names[0] in globals() for names in named), named


def test_off_by_default(store: Store) -> None:
    with listening(0) as one:
        assert one.getsockname()[0] == HERE
    with live(make_site(store, workers=1), "0.0.0.0") as here:
        outside = f"http://{PHONE}:{here.base_url.port}"
        assert httpx.get(f"{outside}/pair").status_code == 403
        assert httpx.post(f"{outside}/api/pair", json={"code": "x"}).status_code == 403
        inside = f"http://{HERE}:{here.base_url.port}"
        assert httpx.post(f"{inside}/api/pairing", json={}).status_code == 409
        assert "This computer only" in httpx.get(f"{inside}/devices").text


def test_a_stranger_sees_nothing(served: Served, run: str) -> None:
    with served.phone() as stranger:
        page = stranger.get(f"/run/{run}")
        assert page.status_code == 401
        assert "not paired" in page.text
        for path in ("/", "/runs", "/devices", "/api/jobs", "/api/runs", f"/api/runs/{run}", "/static/x/sheet.css"):
            assert stranger.get(path).status_code == 401, path
        assert stranger.put(f"/api/runs/{run}/ticks", json=[]).status_code == 401
        assert stranger.post("/api/pairing", json={}).status_code == 401
        assert stranger.get("/pair").status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"host": "127.0.0.1"},
        {"host": "localhost"},
        {"x-forwarded-for": "127.0.0.1"},
        {"forwarded": "for=127.0.0.1;host=127.0.0.1"},
        {"x-real-ip": "127.0.0.1"},
    ],
)
def test_nobody_can_pretend_to_be_this_computer(served: Served, headers: dict[str, str]) -> None:
    with served.phone() as stranger:
        assert stranger.get("/api/jobs", headers=headers).status_code == 401
    assert not is_here({"type": "http", "client": ("192.0.2.9", 1), "server": (HERE, 80)})
    assert not is_here({"type": "http", "client": (HERE, 1), "server": ("192.0.2.9", 80)})
    assert not is_here({"type": "http"})


def test_guesses_are_slowed_and_logged(served: Served, caplog: pytest.LogCaptureFixture) -> None:
    good = served.code()
    with served.phone() as stranger:
        assert stranger.post("/api/pair", json={"code": "guessed"}).status_code == 403
        slowed = stranger.post("/api/pair", json={"code": good})
        assert slowed.status_code == 429  # the right code is not even looked at
        assert int(slowed.headers["retry-after"]) == 1
        for n in range(1, 9):
            served.later(min(2.0 ** (n - 1), 60.0) + 0.01)
            assert stranger.post("/api/pair", json={"code": "guessed"}).status_code == 403
        assert int(stranger.post("/api/pair", json={"code": good}).headers["retry-after"]) == 60
        served.later(60.01)
        assert stranger.post("/api/pair", json={"code": good}).status_code == 201
    refused = served.here.get("/api/devices").json()["refused"]
    assert refused[0]["says"] == "a pairing code that does not count"
    assert sum("pairing code" in record.getMessage() for record in caplog.records) == 9
    assert "guessed" not in caplog.text


def test_a_guessed_secret_is_slowed_and_logged(served: Served, caplog: pytest.LogCaptureFixture) -> None:
    with served.phone() as stranger:
        guess = {"cookie": f"{COOKIE}=guessed"}
        answer = stranger.get("/runs", headers=guess)
        assert answer.status_code == 401
        assert f'{COOKIE}=""' in answer.headers["set-cookie"]  # who was struck off forgets what no longer counts
        assert stranger.get("/runs", headers=guess).status_code == 429
    assert "a secret that no paired device has" in caplog.text
    assert "guessed" not in caplog.text


def test_who_was_let_in_before_does_not_wait_for_others(served: Served) -> None:
    with served.phone() as stranger, served.paired() as friend:
        assert friend.get("/runs").status_code == 200
        assert stranger.get("/runs", headers={"cookie": f"{COOKIE}=guessed"}).status_code == 401
        assert friend.get("/runs").status_code == 200


def test_a_code_counts_once_and_not_for_long(served: Served) -> None:
    code = served.code()
    with served.phone() as first, served.phone() as second:
        assert first.post("/api/pair", json={"code": code}).status_code == 201
        assert second.post("/api/pair", json={"code": code}).status_code == 403
        late = served.code()
        served.later(LASTS + 1)
        assert second.post("/api/pair", json={"code": late}).status_code == 403
    assert len(code) * 6 >= 128  # base 64
    assert len({Pairing().new() for _ in range(100)}) == 100


def test_nothing_secret_stays_in_an_address(served: Served, run: str) -> None:
    made = served.here.post("/api/pairing", json={"run": run}).json()
    path, fragment = made["address"].removeprefix(served.address).split("#")
    assert path == "/pair"
    assert fragment.endswith(f".{run}")
    page = httpx.get(f"{served.address}/pair")
    script = page.text.split('<script id="script">')[1]
    assert script.index("history.replaceState") < script.index("fetch(")
    assert page.headers["referrer-policy"] == "no-referrer"
    assert page.headers["cache-control"] == "no-store"
    with served.phone() as phone:
        answer = phone.post("/api/pair", json={"code": fragment.split(".")[0]})
        assert set(answer.json()) == {"device"}
        assert phone.cookies[COOKIE] not in answer.text


def test_the_database_holds_digests_only(served: Served, store: Store) -> None:
    with served.paired() as phone:
        secret = phone.cookies[COOKIE]
    with store._engine.connect() as connection:
        rows = connection.execute(text("select * from ovolo_device")).all()
    assert rows
    assert secret not in str(rows)


def test_the_cookie_is_out_of_reach_of_scripts(served: Served, run: str) -> None:
    with served.phone() as phone:
        answer = phone.post("/api/pair", json={"code": served.code()})
        cookie = answer.headers["set-cookie"].lower()
        assert "httponly" in cookie
        assert "samesite=lax" in cookie
        for path in ("/pair", "/runs", f"/run/{run}"):
            policy = phone.get(path, follow_redirects=True).headers["content-security-policy"]
            assert "unsafe" not in policy
            assert "default-src 'none'" in policy


@pytest.mark.parametrize("origin", ["http://evil.example", "null", None])
def test_another_sites_page_changes_nothing(served: Served, run: str, origin: str | None) -> None:
    with served.paired() as phone:
        before = phone.get(f"/api/runs/{run}?since=0").json()
        del phone.headers["origin"]
        headers = {} if origin is None else {"origin": origin}
        tick = {"key": "evil-0123456789ab", "move": 1, "at": "2026-03-01T10:20:30.123Z"}
        assert phone.put(f"/api/runs/{run}/ticks", json=[tick], headers=headers).status_code == 403
        assert phone.get(f"/api/runs/{run}?since=0").json() == before


def test_a_foreign_name_is_not_answered(served: Served) -> None:
    with served.paired() as phone:
        for host in ("evil.example", f"{PHONE}.evil.example", "192.0.2.1"):
            assert phone.get("/runs", headers={"host": host}).status_code == 421
        assert phone.get("/runs").status_code == 200  # the address that it came to
    assert all(re.fullmatch(r"[a-z0-9._-]+", name) for name in own_names())


def test_a_paired_device_sees_runs_and_nothing_else(served: Served, run: str) -> None:
    with served.paired() as phone:
        assert run in phone.get("/runs").text
        assert phone.get("/", follow_redirects=True).url.path == "/runs"
        assert phone.get(f"/run/{run}", follow_redirects=True).status_code == 200
        assert phone.get(f"/api/runs/{run}").status_code == 200
        assert phone.put(f"/api/runs/{run}/ticks", json=[]).status_code == 200
        for path in ("/api/jobs", "/api/shops", "/api/catalogue", "/api/runs", "/static/x/sheet.css"):
            assert phone.get(path).status_code == 403, path
        for path in ("/api/jobs", "/api/plan", "/api/runs", "/new"):
            assert phone.post(path, json={}).status_code == 403, path
        device = served.here.get("/api/devices").json()["items"][0]["id"]
        assert served.here.put(f"/api/devices/{device}", json={"everything": True}).status_code == 200
        assert phone.get("/api/jobs").status_code == 200
        assert served.here.put(f"/api/devices/{device}", json={"everything": False}).status_code == 200
        assert phone.get("/api/jobs").status_code == 403


def test_who_may_look_on_is_decided_at_this_computer(served: Served) -> None:
    with served.paired() as phone:
        device = served.here.get("/api/devices").json()["items"][0]["id"]
        served.here.put(f"/api/devices/{device}", json={"everything": True})
        assert phone.get("/devices").status_code == 403
        assert phone.get("/api/devices").status_code == 403
        assert phone.post("/api/pairing", json={}).status_code == 403
        assert phone.put(f"/api/devices/{device}", json={"everything": True}).status_code == 403
        assert phone.delete(f"/api/devices/{device}").status_code == 403
    assert served.here.put(f"/api/devices/{device}", json={"everything": 1}).status_code == 422
    assert served.here.delete("/api/devices/none").status_code == 404


def test_a_device_that_is_struck_off_is_a_stranger(served: Served, run: str) -> None:
    with served.paired() as phone:
        assert phone.get("/runs").status_code == 200
        device = served.here.get("/api/devices").json()["items"][0]["id"]
        left = served.here.delete(f"/api/devices/{device}").json()["items"]
        assert device not in [item["id"] for item in left]
        assert phone.get(f"/api/runs/{run}").status_code == 401
        assert COOKIE not in phone.cookies


def test_a_stranger_sends_little(served: Served) -> None:
    with served.phone() as stranger:
        assert stranger.post("/api/pair", json={"code": "x" * 2000}).status_code == 413
        pieces = (b'{"code": "' + b"x" * 10 for _ in range(3))
        headers = {"content-type": "application/json"}
        assert stranger.post("/api/pair", content=pieces, headers=headers).status_code == 413


def test_no_page_stands_in_a_frame(served: Served, run: str) -> None:
    with served.paired() as phone:
        for path in ("/pair", "/runs", f"/run/{run}"):
            headers = phone.get(path, follow_redirects=True).headers
            assert headers["x-frame-options"] == "DENY"
            assert "frame-ancestors 'none'" in headers["content-security-policy"]


def test_a_device_that_is_paired_is_not_paired_twice(served: Served) -> None:
    with served.paired() as phone:
        many = len(served.here.get("/api/devices").json()["items"])
        assert phone.post("/api/pair", json={"code": served.code()}).status_code == 201
        assert phone.post("/api/pair", json={"code": "an old one"}).status_code == 201
        assert len(served.here.get("/api/devices").json()["items"]) == many


def test_a_code_for_a_run_that_is_none_is_refused(served: Served) -> None:
    assert served.here.post("/api/pairing", json={"run": "none"}).status_code == 404
    served.network.own = list
    try:
        assert served.here.post("/api/pairing", json={}).status_code == 409
    finally:
        served.network.own = lambda: [PHONE]
