"""Pairing: a phone on the local network shows once that it may, by a code that stands on this machine's screen."""

from __future__ import annotations

import hmac
import secrets
import socket
import time
from collections.abc import Callable

DIGITS = 8
MOST_WRONG = 10
SESSION_S = 12 * 3600.0  # a working day
COOKIE = "knowngood"
NO_NETWORK = "127.0.0.1"


def new_code() -> str:
    """A code nobody guesses in ten tries."""
    return f"{secrets.randbelow(10**DIGITS):0{DIGITS}d}"


class Pairing:
    """Which sessions may talk to this machine from elsewhere.

    Parameters
    ----------
    code : str
        What is typed on the phone.
    clock : callable, optional
        Seconds that only go on.
    """

    def __init__(self, code: str, clock: Callable[[], float] = time.monotonic) -> None:
        self.code = code
        self.clock = clock
        self.wrong = 0
        self._until: dict[str, float] = {}

    @property
    def is_shut(self) -> bool:
        """Too many wrong codes: nobody is paired any more until the program is started anew."""
        return self.wrong >= MOST_WRONG

    def pair(self, typed: str) -> str:
        """A session for the right code; empty for a wrong one."""
        if self.is_shut:
            return ""
        if not hmac.compare_digest(typed.replace(" ", "").encode(), self.code.encode()):
            self.wrong += 1
            return ""
        self._until = {known: until for known, until in self._until.items() if until > self.clock()}
        session = secrets.token_urlsafe(24)
        self._until[session] = self.clock() + SESSION_S
        return session

    def knows(self, session: str) -> bool:
        """Whether a session was paired here and has not run out."""
        return self._until.get(session, 0.0) > self.clock()


def own_address() -> str:
    """This machine's address on the local network; the loopback where there is none.

    The socket is pointed at a private address to see which way packets would go; none is sent.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("10.255.255.255", 9))
        except OSError:
            return NO_NETWORK
        return str(probe.getsockname()[0])
