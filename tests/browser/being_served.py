"""A page served in a thread of its own."""

from __future__ import annotations

import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import uvicorn


@contextmanager
def being_served(app: Any, listening: socket.socket) -> Iterator[None]:
    """Answer on a listening socket while the block runs."""
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", lifespan="off", access_log=False))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
    thread.start()
    try:
        yield
    finally:
        server.should_exit = True
        thread.join()
