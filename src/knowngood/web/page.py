"""The page of one workshop as an application: its routes, its guard, its errors.

A form that cannot be done comes back with the same words and what was typed
still in it; every answer to a form is a redirect, so that a reload repeats
nothing.
"""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path
from urllib.parse import quote

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles

from knowngood.app.unexpected import log_of
from knowngood.errors import KnownGoodError
from knowngood.library.records import Library
from knowngood.web.bay import Bay
from knowngood.web.card_pages import CardPages
from knowngood.web.cars import Cars
from knowngood.web.desk import Desk
from knowngood.web.evidence_pages import EvidencePages
from knowngood.web.gate_pages import GatePages
from knowngood.web.guard import Guard, wants_json
from knowngood.web.measure_pages import MeasurePages
from knowngood.web.pair_page import PairPage
from knowngood.web.pairing import Pairing
from knowngood.web.photo_pages import PhotoPages
from knowngood.web.shop_pages import ShopPages
from knowngood.web.thinking import PATIENCE_S
from knowngood.web.told import Told
from knowngood.web.work_pages import WorkPages

FACTS = {
    400: "The form could not be read. Go back and send it again.",
    403: "This form was sent from another page. Open it here and type it again.",
    404: "There is no such page. Go back to the cars.",
    405: "This page is not asked in this way. Go back to the cars.",
    411: "The photo came without its size. Send it from the journal of its car.",
    413: "The photo is too large. Take it smaller.",
}


class Page:
    """The page of one workshop.

    Parameters
    ----------
    folder : Path
    library : Library
    patience_s : float [s]
        How long a page waits for an answer before it shows the one before.
    hosts : collection of str, optional
        Addresses it is served under beside the loopback's.
    pairing : Pairing, optional
        Who may come from elsewhere than this machine.
    """

    def __init__(
        self,
        folder: Path,
        library: Library,
        *,
        patience_s: float = PATIENCE_S,
        hosts: Collection[str] = (),
        pairing: Pairing | None = None,
    ) -> None:
        self.desk = Desk(folder, library, patience_s)
        self.hosts = hosts
        self.pairing = pairing

    def app(self) -> Guard:
        """The page as an ASGI application."""
        static = Path(__file__).parent / "static"
        desk = self.desk
        rooms = (
            Cars(desk),
            Bay(desk),
            Told(desk),
            MeasurePages(desk),
            GatePages(desk),
            EvidencePages(desk),
            WorkPages(desk),
            PhotoPages(desk),
            CardPages(desk),
            ShopPages(desk),
        )
        pair = PairPage(desk, self.pairing).routes() if self.pairing is not None else []
        answers = Starlette(
            routes=[
                *(route for room in rooms for route in room.routes()),
                *pair,
                Mount("/static", StaticFiles(directory=static)),
            ],
            exception_handlers={KnownGoodError: self.refused, HTTPException: self.not_there, 500: self.unexpected},
        )
        return Guard(answers, hosts=self.hosts, pairing=self.pairing)  # around all of it: an answer to a crash, too

    async def refused(self, request: Request, error: Exception) -> Response:
        """An error of ours, in its own words."""
        return self._trouble(request, 400, *str(error).splitlines())

    async def not_there(self, request: Request, error: Exception) -> Response:
        """An address that is none, or a way of asking that is none."""
        status = error.status_code if isinstance(error, HTTPException) else 404
        return self._trouble(request, status, FACTS.get(status, f"The page answers {status}. Go back to the cars."))

    async def unexpected(self, request: Request, error: Exception) -> Response:
        """Anything else: what was said is on disk; what happened is in a log of its own."""
        fact = f"Something went wrong that should not have ({type(error).__name__}). What was said before is on disk."
        way = "Look in the journal whether this line is there; if not, send it again, or say it in other words."
        log = await run_in_threadpool(log_of, error)
        return self._trouble(request, 500, fact, way, f"Log, on the workshop machine: {log}")

    def _trouble(self, request: Request, status: int, *problems: str) -> Response:
        """A page of its own, with what was typed on it; the page's own script gets the words alone."""
        if wants_json(request.headers):
            return JSONResponse({"problem": " ".join(problems)}, status)
        typed = getattr(request.state, "typed", "")
        return self.desk.show("trouble.html", status, problems=problems, typed=typed, back=_own_path(request))


def _own_path(request: Request) -> str:
    code = request.path_params.get("code")
    return f"/car/{quote(code)}" if code and request.method == "POST" else "/"
