"""The port the page is served on."""

from __future__ import annotations

import errno
import socket

import pytest

from knowngood.errors import Refused
from knowngood.web import serving


def test_next_free_port_is_taken() -> None:
    """One that is in use is passed over; the page is served to this machine only."""
    with serving.free_socket(20000) as first, serving.free_socket(first.getsockname()[1]) as second:
        assert first.getsockname()[0] == second.getsockname()[0] == "127.0.0.1"
        assert second.getsockname()[1] > first.getsockname()[1]


def refused(monkeypatch: pytest.MonkeyPatch, trouble: OSError, first: int = 20000) -> str:
    """What is said when the machine does not give a port for that reason."""

    def not_given(*_: object) -> None:
        raise trouble

    monkeypatch.setattr(socket.socket, "bind", not_given)
    with pytest.raises(Refused) as caught:
        serving.free_socket(first)
    return str(caught.value)


IN_USE = OSError(errno.EADDRINUSE, "Address already in use")


@pytest.mark.parametrize(
    ("first", "trouble", "words"),
    [
        (20000, IN_USE, "No port from 20000 to 20049 is free. Name another with --port."),
        (65500, IN_USE, "No port from 65500 to 65535 is free. Name another with --port."),
        (65535, IN_USE, "Port 65535 is not free. Name another with --port."),
        (
            80,
            PermissionError(errno.EACCES, "Permission denied"),
            "This user may not serve on port 80. Name one from 1024 on with --port.",
        ),
        (
            20000,
            OSError(errno.EADDRNOTAVAIL, "Cannot assign requested address"),
            "This machine does not have the address 127.0.0.1 any more. Join the network, then start again.",
        ),
        (
            20000,
            OSError(errno.ENOBUFS, "No buffer space available"),
            "Port 20000 at 127.0.0.1 cannot be served: No buffer space available. Name another with --port.",
        ),
    ],
)
def test_port_that_is_not_given_is_said(
    monkeypatch: pytest.MonkeyPatch, first: int, trouble: OSError, words: str
) -> None:
    """What was tried is named, and each reason has its own way on."""
    assert refused(monkeypatch, trouble, first) == words


def test_address_that_is_not_this_machines_is_told_by_the_machine_itself() -> None:
    """An address of documentation (RFC 5737) is nobody's."""
    with pytest.raises(Refused, match=r"does not have the address 192\.0\.2\.1 any more"):
        serving.free_socket(20000, "192.0.2.1")
