"""The list of cars, and a new one."""

from __future__ import annotations

import hashlib

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from knowngood.app.put_away import is_away
from knowngood.app.sent import begun_by, ids_from
from knowngood.app.waits_for import waits_at_once, waits_for
from knowngood.app.workshop import random_id
from knowngood.evidence import Entry
from knowngood.web.desk import Desk, form_of

Listed = tuple[str, str, str]
"""Code of a car, its nickname, and what it waits for."""


class Cars:
    """Routes of the list of cars."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What this page answers."""
        return [
            Route("/", self.cars, methods=["GET"]),
            Route("/mark", self.mark, methods=["GET"]),
            Route("/new", self.new, methods=["POST"]),
        ]

    async def cars(self, request: Request) -> Response:
        """Every car with the step it waits for."""

        here, away = await run_in_threadpool(self._listed)
        return self.desk.show("cars.html", cars=here, away=away, mark=_mark_of(here, away))

    async def mark(self, request: Request) -> Response:
        """Changes when a car waits for something else, or there is another car."""
        return JSONResponse({"mark": _mark_of(*await run_in_threadpool(self._listed)), "progress": ""})

    def _listed(self) -> tuple[list[Listed], list[Listed]]:
        """The cars that are worked on, and those put away."""
        here: list[Listed] = []
        put_away: list[Listed] = []
        with self.desk.open_workshop() as workshop:
            for job in workshop.jobs():
                entries = workshop.entries(job.code)
                away = is_away(entries)
                waits = self._waits_for(job.code, entries, workshop.stands(entries), away)
                (put_away if away else here).append((job.code, job.nickname, waits))
        return here, put_away

    def _waits_for(self, job: str, entries: list[Entry], ids: tuple[str, ...], away: bool) -> str:
        """What a car waits for, in one sentence, as far as it is worked out; for one put away nothing is worked out."""
        if at_once := waits_at_once(entries):
            return at_once
        if not away:
            self.desk.thinking.want_newer(job, ids)
        thought = self.desk.thinking.last(job)
        if thought is None:
            return "Not worked out while it is put away." if away else "Being worked out."
        if thought.answer is None:
            return thought.trouble.splitlines()[0]
        return waits_for(entries, self.desk.library, thought.answer.next, proved=bool(thought.proved))

    async def new(self, request: Request) -> Response:
        """Begin a car; one whose form is sent again because its answer was lost was begun before."""
        form = await form_of(request)

        def begin() -> str:
            with self.desk.saving, self.desk.open_workshop(ids_from(form.sent) if form.sent else random_id) as workshop:
                before = begun_by(workshop, form.sent) if form.sent else None
                return (before or workshop.new(form.get("nickname"))).code

        return RedirectResponse(f"/car/{await run_in_threadpool(begin)}", 303)


def _mark_of(here: list[Listed], away: list[Listed]) -> str:
    """Another text for another list."""
    return hashlib.sha256(repr((here, away)).encode()).hexdigest()[:16]
