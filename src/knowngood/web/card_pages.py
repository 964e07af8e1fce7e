"""The card of a car: names, plates and numbers of people, beside the journal, erased for good when asked.

What stands on it goes neither through the outbox of a screen nor into the pages a screen keeps, so that erasing it
here leaves nothing there.
"""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from knowngood.app.card import USUAL, card_of, erase_everywhere, erased_words, put_on_card
from knowngood.errors import KnownGoodError
from knowngood.web.desk import Desk, form_of
from knowngood.web.keeping import short
from knowngood.web.opened import open_car


class CardPages:
    """Routes of the card of one car."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What is answered."""
        return [
            Route("/car/{code}/card", self.card, methods=["GET"]),
            Route("/car/{code}/card", self.write, methods=["POST"]),
            Route("/car/{code}/card/erase", self.erase, methods=["POST"]),
        ]

    async def card(self, request: Request) -> Response:
        """What stands on the card, each field to be written anew."""
        return await self._card(request)

    async def _card(self, request: Request, field: str = "", typed: str = "", problem: str = "") -> Response:
        def read() -> dict[str, Any]:
            car = open_car(self.desk, request)
            with self.desk.open_workshop() as workshop:
                there = card_of(workshop, car.job.code)
            fields = {**dict.fromkeys(USUAL, ""), **there}
            return {**car.page(), "fields": fields, "written": bool(there)}

        values = await run_in_threadpool(read)
        status = 400 if problem else 200
        return self.desk.show("card.html", status, here="card", wrong=field, typed=typed, problem=problem, **values)

    async def write(self, request: Request) -> Response:
        """Write one field; an empty text erases it."""
        form = await form_of(request)
        field, text = form.get("field").strip(), form.get("text").strip()

        def keep() -> None:
            with self.desk.saving, self.desk.open_workshop() as workshop:
                put_on_card(workshop, request.path_params["code"], field, text)

        try:
            await run_in_threadpool(keep)
        except KnownGoodError as error:
            return await self._card(request, field, text, str(error))
        return self._back(request, f"On the card: {field}." if text else f"Off the card: {field}.")

    async def erase(self, request: Request) -> Response:
        """Erase the whole card, in the daily copies too."""
        await form_of(request)

        def erase() -> str:
            with self.desk.saving, self.desk.open_workshop() as workshop:
                return erased_words(erase_everywhere(workshop, request.path_params["code"]))

        return self._back(request, await run_in_threadpool(erase))

    def _back(self, request: Request, echo: str) -> Response:
        return RedirectResponse(f"/car/{quote(request.path_params['code'])}/card?echo={quote(short(echo))}", 303)
