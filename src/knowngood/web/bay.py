"""A car's first screen: the next step with its answers, the line, what was said last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from knowngood.app.answer import NextStep
from knowngood.app.check_step import step_of_key
from knowngood.app.heard import heard
from knowngood.app.just_done import just_done
from knowngood.app.measuring_offer import worked_by
from knowngood.app.recent import recent_of
from knowngood.app.row_entry import spread_of
from knowngood.app.state import car_of
from knowngood.app.step_form import form_of as step_form
from knowngood.app.step_form import key_of, units_first
from knowngood.app.strike import take_back
from knowngood.app.taps import read_taps
from knowngood.app.told_gone import GONE, told_gone
from knowngood.app.waits_for import only_named
from knowngood.app.workshop import SaidLine, Workshop
from knowngood.car import layout_of
from knowngood.errors import KnownGoodError, Problem, Refused
from knowngood.evidence import Entry
from knowngood.library.own_branches import library_of
from knowngood.web.contents import page_after
from knowngood.web.desk import Desk, form_of
from knowngood.web.keeping import Kept, keep_once, saved
from knowngood.web.opened import open_car
from knowngood.web.thinking import Thought, ids_of

OTHER_STEPS = 5


class Bay:
    """Routes of one car's first screen."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What this page answers."""
        return [
            Route("/car/{code}", self.car, methods=["GET"]),
            Route("/car/{code}/say", self.say, methods=["POST"]),
            Route("/car/{code}/tap", self.tap, methods=["POST"]),
            Route("/car/{code}/enter", self.enter, methods=["GET"]),
            Route("/car/{code}/spread", self.spread, methods=["GET"]),
            Route("/car/{code}/heard", self.heard, methods=["GET"]),
            Route("/car/{code}/mark", self.mark, methods=["GET"]),
            Route("/car/{code}/longer", self.longer, methods=["POST"]),
            Route("/car/{code}/undo", self.undo, methods=["POST"]),
        ]

    async def car(self, request: Request) -> Response:
        """What next, and everything within one tap of it."""
        return await self._car(request, wanted=request.query_params.get("step", ""))

    async def _car(
        self, request: Request, *, wanted: str = "", typed: str = "", problem: str = "", status: int = 200
    ) -> Response:
        def read() -> dict[str, Any]:
            car = open_car(self.desk, request)
            thought = car.thought()
            return {
                **car.page_of(thought),
                "only_named": only_named(car.entries),
                "gone": GONE if told_gone(car.entries, self.desk.library) else "",
                "proved": thought.proved if thought is not None else "",
                "progress": self.desk.thinking.progress(car.job.code),
                **(self._steps(thought, car.entries, wanted) if thought is not None else {}),
            }

        values = await run_in_threadpool(read)
        return self.desk.show("car.html", status, typed=typed, problem=problem, here="next", wanted=wanted, **values)

    def _steps(self, thought: Thought, entries: list[Entry], wanted: str) -> dict[str, Any]:
        """The step to show with its answers, and those beside it."""
        if thought.answer is None:
            return {}
        steps = thought.answer.next
        new = [entry.body for entry in entries if entry.id not in set(thought.ids)]
        # What was answered a moment ago is not asked again while the answer to it is being worked out.
        done = [step for step in steps if just_done(step, new)]
        asked = next((step for step in steps if key_of(step) == wanted), None)
        step = asked or (steps[0] if steps else None)
        units = units_first(self.desk.library, self.desk.settings, recent_of(entries).units)
        own = library_of(self.desk.library, car_of(entries))
        form = step_form(own, step, units) if step is not None and step not in done else None
        others = [other for other in steps if other is not step and other not in done][:OTHER_STEPS]
        return {
            "played": thought.played,
            "form": form,
            "by": worked_by(form) if form is not None else None,
            "others": [(key_of(other), other) for other in others],
            "skip_to": _behind(steps, step),
            "gone_step": bool(wanted) and asked is None,
            "first": step is not None and step is steps[0],
        }

    async def enter(self, request: Request) -> Response:
        """The readings of one step on a page of their own, with keys for the numbers."""
        wanted = request.query_params.get("step", "")

        def read() -> dict[str, Any]:
            opened = open_car(self.desk, request)
            thought = self.desk.thinking.last(opened.job.code)
            steps = thought.answer.next if thought is not None and thought.answer is not None else []
            car = car_of(opened.entries)
            own = library_of(self.desk.library, car)
            step = next((step for step in steps if key_of(step) == wanted), None)
            step = step or step_of_key(own, layout_of(car), wanted)
            if step is None:
                fact = "This step is not among the next ones any more."
                raise Refused(Problem(fact, "Go back to the car; what was typed can be said as a line."))
            units = units_first(self.desk.library, self.desk.settings, recent_of(opened.entries).units)
            form = step_form(own, step, units)
            return {**opened.page(), "form": form, "by": worked_by(form)}

        return self.desk.show("enter.html", here="enter", **await run_in_threadpool(read))

    async def spread(self, request: Request) -> Response:
        """How the numbers typed so far stand to each other; nothing is kept."""
        try:
            words = spread_of(self.desk.library, request.query_params.multi_items())
        except KnownGoodError as error:
            words = str(error)
        return JSONResponse({"words": words})

    async def heard(self, request: Request) -> Response:
        """How a line would be understood; nothing is kept."""
        code, line = request.path_params["code"], request.query_params.get("line", "")

        def read() -> str:
            with self.desk.open_workshop() as workshop:
                return heard(workshop, code, line)

        return JSONResponse({"words": await run_in_threadpool(read)})

    async def mark(self, request: Request) -> Response:
        """Changes when something was entered anywhere, or an answer was worked out."""

        def read() -> dict[str, str]:
            with self.desk.open_workshop() as workshop:
                job = workshop.job(request.path_params["code"])
                ids = ids_of(workshop, job.code)
            thinking = self.desk.thinking
            thinking.want_newer(job.code, ids)
            return {"mark": thinking.mark(job.code, ids), "progress": thinking.progress(job.code)}

        return JSONResponse(await run_in_threadpool(read))

    async def say(self, request: Request) -> Response:
        """Keep one line; the page then shows what was understood, with undo beside it."""
        code = request.path_params["code"]
        form = await form_of(request)
        text = form.get("line")

        def keep(workshop: Workshop, job: str, at: str) -> SaidLine:
            return workshop.say(job, text, typed=at)

        async def refused(problem: str) -> Response:
            return await self._car(request, typed=text, problem=problem, status=400)

        return await saved(
            request, lambda: keep_once(self.desk, code, form, keep), page_after(code, form.get("back")), refused
        )

    async def tap(self, request: Request) -> Response:
        """Keep what was tapped."""
        code = request.path_params["code"]
        form = await form_of(request)

        def keep(workshop: Workshop, job: str, at: str) -> SaidLine:
            own = library_of(self.desk.library, car_of(workshop.entries(job)))
            tapped = read_taps(own, form.fields)
            said = workshop.keep(job, tapped.line, tapped.bodies, at=at)
            odd = f"Kept, but is it really so? {tapped.odd}" if tapped.odd else ""
            return replace(said, warning=" ".join(filter(None, (odd, said.warning))))

        return await saved(request, lambda: keep_once(self.desk, code, form, keep), page_after(code, form.get("back")))

    async def longer(self, request: Request) -> Response:
        """Have the leading steps played through; nothing is entered by it."""
        code = request.path_params["code"]
        await form_of(request)

        def begin() -> Kept:
            with self.desk.open_workshop() as workshop:
                self.desk.thinking.longer(workshop.job(code).code)
            return Kept("")

        return await saved(request, begin, f"/car/{quote(code)}")

    async def undo(self, request: Request) -> Response:
        """Take back the lines that the form names, and no other."""
        code = request.path_params["code"]
        form = await form_of(request)
        of = [value for name, value in form.fields if name == "of"]

        def keep(workshop: Workshop, job: str, at: str) -> Kept:
            return Kept(take_back(workshop, job, of))

        return await saved(request, lambda: keep_once(self.desk, code, form, keep), page_after(code, form.get("back")))


def _behind(steps: Sequence[NextStep], step: NextStep | None) -> str:
    """Key of the step to go on to without an answer, behind the last the first again; empty where there is no other."""
    if step is None or len(steps) < 2:
        return ""
    return key_of(steps[(steps.index(step) + 1) % len(steps)])
