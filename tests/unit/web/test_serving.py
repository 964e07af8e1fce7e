"""The port the page is served on."""

from __future__ import annotations

import socket

import pytest

from knowngood.errors import Refused
from knowngood.web import serving


def test_next_free_port_is_taken() -> None:
    """One that is in use is passed over; the page is served to this machine only."""
    with serving.free_socket(20000) as first, serving.free_socket(first.getsockname()[1]) as second:
        assert first.getsockname()[0] == second.getsockname()[0] == "127.0.0.1"
        assert second.getsockname()[1] > first.getsockname()[1]


def test_no_port_is_free(monkeypatch: pytest.MonkeyPatch) -> None:
    """The range that was tried is named."""

    def taken(*_: object) -> None:
        raise OSError("in use")

    monkeypatch.setattr(socket.socket, "bind", taken)
    with pytest.raises(Refused) as caught:
        serving.free_socket(20000)
    assert str(caught.value) == "No port from 20000 to 20049 is free. Name another with --port."
