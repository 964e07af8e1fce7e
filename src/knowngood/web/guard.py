"""What every answer of the page carries, and who is answered at all."""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

HOSTS = ("127.0.0.1", "localhost")
HEADERS = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; connect-src 'self'; style-src 'self'; "
    "img-src 'self' data:; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cache-Control": "no-store",
}


class Guard:
    """Answers only requests that name this machine, so that no other site's name can lead here; sets the headers."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(HEADERS)
            await send(message)

        host = Headers(scope=scope).get("host", "")
        if host.rsplit(":", 1)[0] not in HOSTS:
            words = f"This page is not served under the name '{host}'. Open it under the address the program printed.\n"
            await PlainTextResponse(words, 421)(scope, receive, with_headers)
            return
        await self.app(scope, receive, with_headers)
