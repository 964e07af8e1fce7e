"""Sharing on the local network: only paired screens are answered, sessions run out, guessing ends."""

from __future__ import annotations

import socket
from ipaddress import ip_address
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from knowngood.library.load import load
from knowngood.web.page import Page
from knowngood.web.pairing import MOST_WRONG, NO_NETWORK, SESSION_S, Pairing, new_code, own_address
from knowngood.web.serving import shared_words

CODE = "12345678"
LAN = "192.0.2.7"  # an address of documentation (RFC 5737)
BROWSER = {"accept": "text/html"}


class Clock:
    """Goes on when told to."""

    now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    """The sessions' clock."""
    return Clock()


@pytest.fixture
def phone(tmp_path: Path, clock: Clock) -> TestClient:
    """A phone on the local network."""
    app = Page(tmp_path / "home", load(), hosts=(LAN,), pairing=Pairing(CODE, clock)).app()
    return TestClient(app, base_url=f"http://{LAN}:8765", client=("192.0.2.20", 50000), follow_redirects=False)


def test_unpaired_phone_is_led_to_the_code(phone: TestClient) -> None:
    """Nothing of the workshop is shown or taken before."""
    answer = phone.get("/", headers=BROWSER)
    assert (answer.status_code, answer.headers["location"]) == (303, "/pair")
    assert phone.get("/pair", headers=BROWSER).status_code == 200
    assert phone.get("/static/notebook.css").status_code == 200
    refused = phone.post("/new", data={"nickname": "x"})
    assert refused.status_code == 403
    assert refused.text == "This screen is not paired. Open /pair and type the code the program printed.\n"


def test_page_already_open_is_told_that_its_session_is_over(phone: TestClient) -> None:
    """Its own script reads the way to the code, and what waits there is no refusal."""
    refused = phone.post("/car/van/say", data={"line": "x"}, headers={"accept": "application/json"})
    assert refused.status_code == 403
    assert refused.json() == {
        "problem": "This screen is not paired. Open /pair and type the code the program printed.",
        "pair": "/pair",
    }


def test_paired_phone_works_until_its_session_runs_out(phone: TestClient, clock: Clock) -> None:
    """The cookie is for this site only and for no script."""
    answer = phone.post("/pair", data={"code": "1234 5678"})
    assert answer.status_code == 303
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert phone.get("/", headers=BROWSER).status_code == 200
    assert phone.post("/new", data={"nickname": "x"}).status_code == 303
    clock.now += SESSION_S
    assert phone.get("/", headers=BROWSER).status_code == 303


def test_guessing_ends(phone: TestClient) -> None:
    """After ten wrong codes the right one pairs nobody either."""
    for _ in range(MOST_WRONG):
        answer = phone.post("/pair", data={"code": "00000000"})
        assert answer.status_code == 403
    assert "Too many wrong codes were typed." in answer.text
    assert phone.post("/pair", data={"code": CODE}).status_code == 403


def test_this_machine_needs_no_code(tmp_path: Path) -> None:
    """Loopback is the machine itself."""
    app = Page(tmp_path / "home", load(), hosts=(LAN,), pairing=Pairing(CODE)).app()
    here = TestClient(app, base_url="http://127.0.0.1:8765", client=("127.0.0.1", 50000))
    assert here.get("/", headers=BROWSER).status_code == 200


def test_other_name_is_refused_when_shared(phone: TestClient) -> None:
    """Some other site's name for this machine leads nowhere."""
    assert phone.get("/pair", headers={"host": "evil.example"}).status_code == 421


def test_codes_are_eight_digits_and_differ() -> None:
    """Ten tries in a hundred million."""
    codes = {new_code() for _ in range(50)}
    assert all(len(code) == 8 and code.isdigit() for code in codes)
    assert len(codes) > 40


def test_shared_words_hold_address_code_and_picture() -> None:
    """The picture is drawn in letters; the code is spaced for reading."""
    text = shared_words(f"http://{LAN}:8765/", CODE)
    assert text.startswith(f"on the phone: http://{LAN}:8765/pair\ncode: 1234 5678\n")
    assert len(text.splitlines()) > 15


def test_own_address_is_one_this_machine_answers_under() -> None:
    """A socket can be bound to it, which is refused under any other; without a network it is the loopback's."""
    address = ip_address(own_address())
    with socket.socket() as bound:
        bound.bind((str(address), 0))


def test_without_a_network_it_is_this_machine_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no packet could go out there is no other address."""

    def unreachable(*_: object) -> None:
        raise OSError("Network is unreachable")

    monkeypatch.setattr(socket.socket, "connect", unreachable)
    assert own_address() == NO_NETWORK
