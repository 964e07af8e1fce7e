"""What every answer of the page carries, and who is answered at all."""

from __future__ import annotations

from collections.abc import Collection

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import cookie_parser
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from knowngood.web.pairing import COOKIE, Pairing

HOSTS = ("127.0.0.1", "localhost")  # names of this machine, as its own browser asks for them
HERE = "127.0.0.1"  # the address it asks from
OPEN_TO_ALL = ("/pair", "/static/")  # what a phone needs before it is paired
HEADERS = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; connect-src 'self'; style-src 'self'; "
    "img-src 'self' data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cache-Control": "no-store",
}


class Guard:
    """Answers only requests that name this machine, so that no other site's name can lead here.

    It stands around everything else and sets the headers of every answer, also of one to a crash.

    Parameters
    ----------
    app : ASGIApp
    hosts : collection of str, optional
        Names and addresses it is served under beside the loopback's.
    pairing : Pairing, optional
        Who may come from elsewhere; without it, whoever can reach the socket, which then is the loopback's.
    """

    def __init__(self, app: ASGIApp, hosts: Collection[str] = (), pairing: Pairing | None = None) -> None:
        self.app = app
        self.hosts = {*HOSTS, *hosts}
        self.pairing = pairing

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(HEADERS)
            await send(message)

        refusal = self._refusal(scope)
        if refusal is not None:
            await refusal(scope, receive, with_headers)
            return
        await self.app(scope, receive, with_headers)

    def _refusal(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if host.rsplit(":", 1)[0] not in self.hosts:
            words = f"This page is not served under the name '{host}'. Open it under the address the program printed.\n"
            return PlainTextResponse(words, 421)
        if self.pairing is None or _is_here(scope) or scope["path"].startswith(OPEN_TO_ALL):
            return None
        if self.pairing.knows(cookie_parser(headers.get("cookie", "")).get(COOKIE, "")):
            return None
        if scope["method"] == "GET" and "text/html" in headers.get("accept", ""):
            return RedirectResponse("/pair", 303)
        words = "This screen is not paired. Open /pair and type the code the program printed."
        if wants_json(headers):
            return JSONResponse({"problem": words, "pair": "/pair"}, 403)
        return PlainTextResponse(f"{words}\n", 403)


def wants_json(headers: Headers) -> bool:
    """Whether the page's own script asks, which reads an answer and shows it in its place."""
    return "application/json" in headers.get("accept", "")


def _is_here(scope: Scope) -> bool:
    client = scope.get("client")
    return client is not None and client[0] == HERE
