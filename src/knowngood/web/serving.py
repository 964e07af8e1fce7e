"""Serve the page: on this machine only, or, when shared, to paired screens of the local network."""

from __future__ import annotations

import errno
import socket
from collections.abc import Callable
from pathlib import Path

import uvicorn

from knowngood.errors import Problem, Refused
from knowngood.library.load import load_for
from knowngood.web.page import Page
from knowngood.web.pairing import NO_NETWORK, Pairing, new_code, own_address

HOST = "127.0.0.1"
EVERYWHERE = "0.0.0.0"
FIRST_PORT = 8765
TRIES = 50  # programs of this kind that run at once on a workshop machine are fewer
LAST_PORT = 65535  # a port has 16 bits (RFC 9293, 3.1)


def free_socket(first: int = FIRST_PORT, host: str = HOST) -> socket.socket:
    """A listening socket on the first free port from ``first`` on; one that is in use is passed over.

    Raises
    ------
    Refused
        None of the ports tried (:data:`TRIES`, or as many as there are) is free, this user may not serve on ``first``,
        or this machine does not have the address.
    """
    ports = range(first, min(first + TRIES, LAST_PORT + 1))
    for port in ports:
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((host, port))
            listening.listen()  # from here on the address may be told: who asks too early waits
        except OSError as trouble:
            listening.close()
            if trouble.errno == errno.EADDRINUSE:
                continue
            raise Refused(_not_served(host, port, trouble)) from None
        return listening
    tried = f"No port from {first} to {ports[-1]} is free." if len(ports) > 1 else f"Port {first} is not free."
    raise Refused(Problem(tried, "Name another with --port."))


def _not_served(host: str, port: int, trouble: OSError) -> Problem:
    if trouble.errno in (errno.EACCES, errno.EPERM):
        return Problem(f"This user may not serve on port {port}.", "Name one from 1024 on with --port.")
    if trouble.errno == errno.EADDRNOTAVAIL:
        return Problem(
            f"This machine does not have the address {host} any more.", "Join the network, then start again."
        )
    return Problem(f"Port {port} at {host} cannot be served: {trouble.strerror}.", "Name another with --port.")


def serve(folder: Path, *, port: int = FIRST_PORT, share: bool = False, say: Callable[[str], None] = print) -> None:
    """Serve the workshop in a folder until stopped; the address is said once it answers.

    Raises
    ------
    Refused
        No port is free, or it is to be shared and there is no local network.
    """
    address = own_address() if share else HOST
    if share and address == NO_NETWORK:
        raise Refused(Problem("This machine is on no local network.", "Join one, or leave out --share."))
    library = load_for(folder)
    pairing = Pairing(new_code()) if share else None
    with free_socket(port, EVERYWHERE if share else HOST) as listening:
        number = listening.getsockname()[1]
        say(f"http://{HOST}:{number}/")
        if pairing is not None:
            say(shared_words(f"http://{address}:{number}/", pairing.code))
        app = Page(folder, library, hosts=(address,), pairing=pairing).app()
        config = uvicorn.Config(app, log_level="warning", lifespan="off", access_log=False)
        uvicorn.Server(config).run(sockets=[listening])


def shared_words(address: str, code: str) -> str:
    """What is printed when the page is shared: the address, the code, and both as a picture for the phone's camera."""
    import io

    import segno  # late: only a page that is shared needs it

    picture = io.StringIO()
    segno.make(f"{address}pair?code={code}", error="m").terminal(out=picture, compact=True)
    spaced = f"{code[:4]} {code[4:]}"
    return f"on the phone: {address}pair\ncode: {spaced}\n{picture.getvalue()}"
