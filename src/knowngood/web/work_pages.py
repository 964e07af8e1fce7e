"""What was done, what is apart, what it has cost; what is left; tools; sheets to print."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import Route

from knowngood.app.answer import Answer
from knowngood.app.bay_time import today_of
from knowngood.app.handover import hand_over
from knowngood.app.photo import photos_in
from knowngood.app.proof import NOTHING, UPKEEP, proofs_of, proved_words
from knowngood.app.read_again import not_yet_read, to_read_again
from knowngood.app.repair_order import order_words, repair_order
from knowngood.app.road_drive import road_view
from knowngood.app.sheets import SHEETS, sheet_of
from knowngood.app.state import State
from knowngood.app.story_view import story_view
from knowngood.app.todo import todo_of
from knowngood.app.tools_view import tools_of
from knowngood.app.work_view import work_view
from knowngood.app.workshop import Workshop
from knowngood.planner.remains import DANGER, grouped
from knowngood.sheets.as_html import as_html
from knowngood.sheets.as_pdf import as_pdf
from knowngood.sheets.as_text import as_text
from knowngood.web.desk import Desk
from knowngood.web.opened import open_car
from knowngood.web.thinking import ids_of


class WorkPages:
    """Routes of work, what is left, tools and sheets."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What these pages answer."""
        return [
            Route("/car/{code}/work", self.work, methods=["GET"]),
            Route("/car/{code}/todo", self.todo, methods=["GET"]),
            Route("/car/{code}/proof", self.proof, methods=["GET"]),
            Route("/car/{code}/story", self.story, methods=["GET"]),
            Route("/car/{code}/hand-over.zip", self.hand_over, methods=["GET"]),
            Route("/car/{code}/tools", self.tools, methods=["GET"]),
            Route("/car/{code}/road", self.road, methods=["GET"]),
            Route("/car/{code}/sheets", self.sheets, methods=["GET"]),
            Route("/car/{code}/sheet/{name}", self.sheet, methods=["GET"]),
        ]

    def _read(self, request: Request, view: Callable[[State, Answer], Any]) -> dict[str, Any]:
        """What is made from the last thought; what that does not know of is said."""
        car = open_car(self.desk, request)
        thought = car.thought()
        shown = car.page_of(thought)
        if thought is None or (state := thought.state) is None or (answer := thought.answer) is None:
            return shown
        return {**shown, "view": self.desk.worded(lambda: view(state, answer))}

    async def _shown(self, request: Request, here: str, view: Callable[[State, Answer], Any]) -> Response:
        return self.desk.show(f"{here}.html", here=here, **await run_in_threadpool(self._read, request, view))

    def _all(self, workshop: Workshop, job: str) -> tuple[State, Answer]:
        """The state and the whole answer to all that stands, worked out now where they are not there: for paper.

        Raises
        ------
        Refused, ImpossibleEvidence
            They cannot be worked out.
        """
        thought = self.desk.thinking.last(job)
        if thought is not None and thought.whole and thought.ids == ids_of(workshop, job):
            state, answer = thought.state, thought.answer
            if state is not None and answer is not None:
                return state, answer
        return workshop.state(job), workshop.answer(job)

    async def work(self, request: Request) -> Response:
        """What was done, what is apart, minutes and money so far; parts as they stand now: none is tapped twice."""
        car = await run_in_threadpool(open_car, self.desk, request)
        return await self._shown(request, "work", lambda state, answer: work_view(state, answer, car.entries))

    async def todo(self, request: Request) -> Response:
        """What is left, in the order to work it off; what is decided, in the order with the fewest minutes."""
        return await self._shown(
            request,
            "todo",
            lambda state, _: {
                "groups": grouped(todo_of(state)),
                "order": order_words(repair_order(state)),
                "danger": DANGER,
            },
        )

    async def proof(self, request: Request) -> Response:
        """Whether each repair is proved, and what is still to be read."""
        car = await run_in_threadpool(open_car, self.desk, request)
        return await self._shown(
            request,
            "proof",
            lambda state, _: {
                "proofs": (proofs := proofs_of(state)),
                "proved": proved_words(proofs),
                "again": not_yet_read(to_read_again(state), state, car.entries),
                "nothing_to_prove": (UPKEEP, NOTHING),
            },
        )

    async def story(self, request: Request) -> Response:
        """Fault by fault, day by day, how readings moved, the next visit."""
        return await self._shown(request, "story", lambda state, _: story_view(state))

    async def hand_over(self, request: Request) -> Response:
        """The copy that goes with the car: its record, its readings, its journal."""
        code = request.path_params["code"]

        def made() -> bytes:
            with self.desk.open_workshop() as workshop:
                job = workshop.job(code).code
                state, answer = self._all(workshop, job)
                day = today_of(workshop.now()).isoformat()
                return hand_over(state, answer, workshop.export(job), day, photos_in(self.desk.folder))

        headers = {"Content-Disposition": 'attachment; filename="hand-over.zip"'}
        return Response(await run_in_threadpool(made), media_type="application/zip", headers=headers)

    async def tools(self, request: Request) -> Response:
        """Every tool, and whether it is on hand, missing or lent out."""

        def read() -> dict[str, Any]:
            car = open_car(self.desk, request)
            return {
                **car.page(),
                "mark": car.mark(),
                "fresh": True,
                "view": tools_of(self.desk.library, car.entries),
            }

        return self.desk.show("tools.html", here="tools", **await run_in_threadpool(read))

    async def road(self, request: Request) -> Response:
        """The road test as a page: opened beforehand by every screen, so that it is there away from the machine."""
        return await self._shown(request, "road", road_view)

    async def sheets(self, request: Request) -> Response:
        """Sheets that can be printed."""
        car = await run_in_threadpool(open_car, self.desk, request)
        return self.desk.show("sheets.html", here="sheets", sheets=SHEETS, **car.page())

    async def sheet(self, request: Request) -> Response:
        """One sheet, ready to print: as PDF, or as a page or plain text where ``form`` asks for it."""
        name = request.path_params["name"]
        form = request.query_params.get("form", "")

        def made() -> Response:
            with self.desk.open_workshop() as workshop:
                job = workshop.job(request.path_params["code"]).code
                state, answer = self._all(workshop, job)
                date = today_of(workshop.now()).isoformat()
            sheet = sheet_of(name, state, answer, date, photos_in(self.desk.folder))
            if form == "html":
                # saved rather than shown: its own style would stand here against the policy of the page
                return HTMLResponse(as_html(sheet), headers={"Content-Disposition": "attachment"})
            if form == "txt":
                return PlainTextResponse(as_text(sheet))
            return Response(as_pdf(sheet), media_type="application/pdf")

        return await run_in_threadpool(self.desk.worded, made)
