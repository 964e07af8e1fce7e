"""A car's first screen: the next step with its answers, the line, what was said last."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from knowngood.app.check_step import step_of_key
from knowngood.app.heard import heard
from knowngood.app.just_done import just_done
from knowngood.app.measuring_offer import worked_by
from knowngood.app.put_away import is_away
from knowngood.app.row_entry import spread_of
from knowngood.app.state import car_of
from knowngood.app.step_form import form_of as step_form
from knowngood.app.step_form import key_of, units_first
from knowngood.app.taps import read_taps
from knowngood.app.told_gone import GONE, told_gone
from knowngood.app.workshop import SaidLine, Workshop, recent_of
from knowngood.car import layout_of
from knowngood.errors import KnownGoodError, Problem, Refused
from knowngood.evidence import Entry
from knowngood.library.own_branches import library_of
from knowngood.web.desk import Desk, Form, form_of
from knowngood.web.guard import HEADERS
from knowngood.web.keeping import keep_once, saved, unknown_to
from knowngood.web.thinking import Thought, ids_of

OTHER_STEPS = 5
BACK = {"road": "road", "proof": "proof", "tell": "tell?codes=first"}  # pages shown after a tap on them


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
        asked = request.query_params
        return await self._car(request.path_params["code"], echo=asked.get("echo", ""), wanted=asked.get("step", ""))

    async def _car(
        self, code: str, *, echo: str = "", wanted: str = "", typed: str = "", problem: str = "", status: int = 200
    ) -> Response:
        def read() -> dict[str, Any]:
            with self.desk.open_workshop() as workshop:
                job = workshop.job(code)
                entries = workshop.entries(job.code)
                ids = workshop.stands(entries)
                thought = self.desk.thinking.thought(job.code, ids)
                return {
                    "job": job,
                    "away": is_away(entries),
                    "told": len(entries),
                    "gone": GONE if told_gone(entries, self.desk.library) else "",
                    "progress": self.desk.thinking.progress(job.code),
                    "mark": self.desk.thinking.mark(job.code, ids),
                    **self._shown(thought, entries, ids, wanted),
                }

        values = await run_in_threadpool(read)
        return self.desk.show(
            "car.html", status, echo=echo, typed=typed, problem=problem, here="next", wanted=wanted, **values
        )

    def _shown(
        self, thought: Thought | None, entries: list[Entry], ids: tuple[str, ...], wanted: str
    ) -> dict[str, Any]:
        shown: dict[str, Any] = unknown_to(thought, entries, ids)
        if thought is None or thought.answer is None:
            return {**shown, "trouble": thought.trouble if thought else ""}
        steps = thought.answer.next
        new = [entry.body for entry in entries if entry.id not in set(thought.ids)]
        # What was answered a moment ago is not asked again while the answer to it is being worked out.
        done = [step for step in steps if just_done(step, new)]
        step = next((step for step in steps if key_of(step) == wanted), steps[0] if steps else None)
        units = units_first(self.desk.library, self.desk.settings, recent_of(entries).units)
        own = library_of(self.desk.library, car_of(entries))
        form = step_form(own, step, units) if step is not None and step not in done else None
        others = [other for other in steps if other is not step and other not in done][:OTHER_STEPS]
        after = steps.index(step) + 1 if step is not None else 0
        return {
            **shown,
            "answer": thought.answer,
            "played": thought.played,
            "form": form,
            "by": worked_by(form) if form is not None else None,
            "others": [(key_of(other), other) for other in others],
            "skip_to": key_of(steps[after]) if after < len(steps) else key_of(steps[0]) if after > 1 else "",
            "first": step is not None and step is steps[0],
            "undone": thought.state.undone if thought.state is not None else (),
        }

    async def enter(self, request: Request) -> Response:
        """The readings of one step on a page of their own, with keys for the numbers."""
        code, wanted = request.path_params["code"], request.query_params.get("step", "")

        def read() -> dict[str, Any]:
            with self.desk.open_workshop() as workshop:
                job = workshop.job(code)
                thought = self.desk.thinking.last(job.code)
                steps = thought.answer.next if thought is not None and thought.answer is not None else []
                entries = workshop.entries(job.code)
                car = car_of(entries)
                own = library_of(self.desk.library, car)
                step = next((step for step in steps if key_of(step) == wanted), None)
                step = step or step_of_key(own, layout_of(car), wanted)
                if step is None:
                    fact = "This step is not among the next ones any more."
                    raise Refused(Problem(fact, "Go back to the car; what was typed can be said as a line."))
                units = units_first(self.desk.library, self.desk.settings, recent_of(entries).units)
                form = step_form(own, step, units)
                return {"job": job, "form": form, "by": worked_by(form)}

        return self.desk.show("enter.html", here="enter", **await run_in_threadpool(read))

    async def spread(self, request: Request) -> Response:
        """How the numbers typed so far stand to each other; nothing is kept."""
        try:
            words = spread_of(self.desk.library, request.query_params.multi_items())
        except KnownGoodError as error:
            words = str(error)
        return JSONResponse({"words": words}, headers=HEADERS)

    async def heard(self, request: Request) -> Response:
        """How a line would be understood; nothing is kept."""
        code, line = request.path_params["code"], request.query_params.get("line", "")

        def read() -> str:
            with self.desk.open_workshop() as workshop:
                return heard(workshop, code, line)

        return JSONResponse({"words": await run_in_threadpool(read)}, headers=HEADERS)

    async def mark(self, request: Request) -> Response:
        """Changes when something was entered anywhere, or an answer was worked out."""

        def read() -> dict[str, str]:
            with self.desk.open_workshop() as workshop:
                job = workshop.job(request.path_params["code"])
                ids = ids_of(workshop, job.code)
            thinking = self.desk.thinking
            thinking.want_newer(job.code, ids)
            return {"mark": thinking.mark(job.code, ids), "progress": thinking.progress(job.code)}

        return JSONResponse(await run_in_threadpool(read), headers=HEADERS)

    async def say(self, request: Request) -> Response:
        """Keep one line; the page then shows what was understood, with undo beside it."""
        code = request.path_params["code"]
        form = await form_of(request)
        text = form.get("line")

        def keep(workshop: Workshop, job: str, at: str) -> SaidLine:
            return workshop.say(job, text, at=at)

        async def refused(problem: str) -> Response:
            return await self._car(code, typed=text, problem=problem, status=400)

        return await saved(request, lambda: keep_once(self.desk, code, form, keep), _back(code, form), refused)

    async def tap(self, request: Request) -> Response:
        """Keep what was tapped."""
        code = request.path_params["code"]
        form = await form_of(request)

        def keep(workshop: Workshop, job: str, at: str) -> SaidLine:
            own = library_of(self.desk.library, car_of(workshop.entries(job)))
            tapped = read_taps(own, form.fields)
            said = workshop.keep(job, tapped.line, tapped.bodies, at=at)
            return replace(said, warning=f"Kept, but is it really so? {tapped.odd}") if tapped.odd else said

        return await saved(request, lambda: keep_once(self.desk, code, form, keep), _back(code, form))

    async def longer(self, request: Request) -> Response:
        """Have the leading steps played through; nothing is entered by it."""
        code = request.path_params["code"]
        await form_of(request)

        def begin() -> str:
            with self.desk.open_workshop() as workshop:
                self.desk.thinking.longer(workshop.job(code).code)
            return ""

        return await saved(request, begin, f"/car/{quote(code)}")

    async def undo(self, request: Request) -> Response:
        """Take back the line said last."""
        code = request.path_params["code"]
        form = await form_of(request)

        def strike() -> str:
            return keep_once(self.desk, code, form, lambda workshop, job, at: f"Struck: {workshop.undo(job)}")

        return await saved(request, strike, f"/car/{quote(code)}")


def _back(code: str, form: Form) -> str:
    """The page that a form wants to be shown then: the car's first screen, or the one it was on."""
    page = form.get("back")
    return f"/car/{quote(code)}{f'/{BACK[page]}' if page in BACK else ''}"
