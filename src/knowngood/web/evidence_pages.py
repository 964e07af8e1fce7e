"""What speaks for what: suspects, the plan of the engine, the story of a cylinder, the journal."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from knowngood.app.journal_view import journal_of, places_in
from knowngood.app.plan_view import plan_of_engine, story_of_cylinder
from knowngood.app.separating import what_separates
from knowngood.app.state import State, car_of
from knowngood.app.strike import REASONS, strike_line, to_take_back
from knowngood.app.suspect_view import suspect_view
from knowngood.app.workshop import Workshop, line_numbers
from knowngood.car import layout_of
from knowngood.jobs.photos import MOST_BYTES
from knowngood.sheets.words import capital
from knowngood.web.desk import Desk, form_of
from knowngood.web.keeping import Kept, keep_once, saved
from knowngood.web.opened import open_car


class EvidencePages:
    """Routes of what speaks for what, and of everything that was said."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What these pages answer."""
        return [
            Route("/car/{code}/suspects", self.suspects, methods=["GET"]),
            Route("/car/{code}/suspect/{fault}", self.suspect, methods=["GET"]),
            Route("/car/{code}/engine", self.engine, methods=["GET"]),
            Route("/car/{code}/cylinder/{number}", self.cylinder, methods=["GET"]),
            Route("/car/{code}/journal", self.journal, methods=["GET"]),
            Route("/car/{code}/strike", self.strike, methods=["POST"]),
        ]

    async def _shown(
        self, request: Request, template: str, here: str, view: Callable[[State], Any], **more: str | int
    ) -> Response:
        """A page made from the last thought; it says what that does not know of."""

        def read() -> dict[str, Any]:
            car = open_car(self.desk, request)
            thought = car.thought()
            shown = {**car.page_of(thought), **more}
            if thought is None or (state := thought.state) is None:
                return shown
            return {**shown, "view": self.desk.worded(lambda: view(state))}

        return self.desk.show(template, here=here, **await run_in_threadpool(read))

    async def suspects(self, request: Request) -> Response:
        """Suspects by kind and part, and what moved them."""
        return await self._shown(request, "suspects.html", "suspects", what_separates)

    async def suspect(self, request: Request) -> Response:
        """One suspect in full."""
        fault = request.path_params["fault"]

        def view(state: State) -> Any:
            return suspect_view(state, fault, line_numbers(list(state.entries)))

        record = self.desk.library.faults.get(fault)
        name = record.name if record is not None else "suspect"
        return await self._shown(request, "suspect.html", "suspects", view, name=name)

    async def engine(self, request: Request) -> Response:
        """The plan of the engine."""
        return await self._shown(request, "engine.html", "engine", plan_of_engine)

    async def cylinder(self, request: Request) -> Response:
        """The story of one cylinder."""
        digits = request.path_params["number"]
        if len(digits) > 3 or not digits.isdecimal():
            raise HTTPException(404)
        number = int(digits)
        return await self._shown(
            request, "cylinder.html", "engine", lambda state: story_of_cylinder(state, number), number=number
        )

    async def journal(self, request: Request) -> Response:
        """Everything that was said, the last first; of one place only where one is named."""
        return await self._journal(request)

    async def _journal(self, request: Request, *, wrong: str = "", typed: str = "", problem: str = "") -> Response:
        place = request.query_params.get("place", "")

        def read() -> dict[str, Any]:
            car = open_car(self.desk, request)
            layout = layout_of(car_of(car.entries))
            return {
                **car.page(),
                "mark": car.mark(),
                "said": journal_of(car.entries, layout, place),
                "last": self._last(car.job.code),
                "places": places_in(car.entries, layout),
            }

        values = await run_in_threadpool(read)
        return self.desk.show(
            "journal.html",
            400 if problem else 200,
            here="journal",
            place=place,
            reasons=REASONS,
            most_bytes=MOST_BYTES,
            wrong=wrong,
            own=typed,
            refused=problem,
            **values,
        )

    def _last(self, job: str) -> str:
        with self.desk.open_workshop() as workshop:
            left = to_take_back(workshop, job)
        return left[-1] if left else ""

    async def strike(self, request: Request) -> Response:
        """Strike a line, with the reason."""
        code = request.path_params["code"]
        form = await form_of(request)
        entry, why = form.get("entry"), form.get("own") or form.get("why")
        if not entry:
            raise HTTPException(400)

        def keep(workshop: Workshop, job: str, at: str) -> Kept:
            struck = strike_line(workshop, job, entry, why, at=at)
            return Kept(capital(struck.text), struck.entries[:1])

        async def refused(problem: str) -> Response:
            return await self._journal(request, wrong=entry, typed=form.get("own"), problem=problem)

        where = f"/car/{quote(code)}/journal"
        return await saved(request, lambda: keep_once(self.desk, code, form, keep), where, refused)
