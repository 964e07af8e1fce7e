"""Serve the page on this machine only, on the next free port."""

from __future__ import annotations

import socket
from collections.abc import Callable
from pathlib import Path

import uvicorn

from knowngood.errors import Problem, Refused
from knowngood.library.load import load
from knowngood.web.page import Page

HOST = "127.0.0.1"
FIRST_PORT = 8765
TRIES = 50


def free_socket(first: int = FIRST_PORT) -> socket.socket:
    """A listening socket on the first free port from ``first`` on.

    Raises
    ------
    Refused
        None of the next fifty is free.
    """
    for port in range(first, first + TRIES):
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((HOST, port))
            listening.listen()  # from here on the address may be told: who asks too early waits
        except OSError:
            listening.close()
            continue
        return listening
    raise Refused(Problem(f"No port from {first} to {first + TRIES - 1} is free.", "Name another with --port."))


def serve(folder: Path, *, port: int = FIRST_PORT, say: Callable[[str], None] = print) -> None:
    """Serve the workshop in a folder until stopped; the address is said once it answers."""
    library = load()
    with free_socket(port) as listening:
        say(f"http://{HOST}:{listening.getsockname()[1]}/")
        config = uvicorn.Config(Page(folder, library).app(), log_level="warning", lifespan="off", access_log=False)
        uvicorn.Server(config).run(sockets=[listening])
