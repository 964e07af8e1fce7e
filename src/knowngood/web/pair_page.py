"""The page that pairs a phone: the code, and one button."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from knowngood.web.desk import Desk, form_of
from knowngood.web.pairing import COOKIE, SESSION_S, Pairing

WRONG = "This is not the code the program printed. Type its eight digits again."
SHUT = "Too many wrong codes were typed. Start the program again on its machine; it prints a new code."


class PairPage:
    """Routes of pairing."""

    def __init__(self, desk: Desk, pairing: Pairing) -> None:
        self.desk = desk
        self.pairing = pairing

    def routes(self) -> list[Route]:
        """What this page answers."""
        return [Route("/pair", self.ask, methods=["GET"]), Route("/pair", self.pair, methods=["POST"])]

    async def ask(self, request: Request) -> Response:
        """The code, filled in where the picture was read, and a button."""
        return self.desk.show("pair.html", code=request.query_params.get("code", "")[:20], problem="")

    async def pair(self, request: Request) -> Response:
        """A session for the right code."""
        form = await form_of(request)
        session = self.pairing.pair(form.get("code"))
        if not session:
            problem = SHUT if self.pairing.is_shut else WRONG
            return self.desk.show("pair.html", 403, code="", problem=problem)
        answer = RedirectResponse("/", 303)
        answer.set_cookie(COOKIE, session, max_age=int(SESSION_S), httponly=True, samesite="strict")
        return answer
