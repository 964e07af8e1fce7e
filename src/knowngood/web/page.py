"""Routes of the page: cars, one car, one line said, one taken back.

A form that cannot be done comes back with the same words and what was typed
still in it; every answer to a form is a redirect, so that a reload repeats
nothing.
"""

from __future__ import annotations

from pathlib import Path
from urllib.parse import quote

from jinja2 import Environment, PackageLoader, select_autoescape
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from knowngood.app.bench import todo_of
from knowngood.app.workshop import Answers, Workshop, line_numbers
from knowngood.errors import KnownGoodError, Problem, Refused
from knowngood.library.records import Library
from knowngood.sheets.words import in_words, minutes, money, signed, strokes, with_range
from knowngood.web.guard import HEADERS, Guard

LONGEST_LINE = 4000
LONGEST_ECHO = 600  # what was understood goes back in the address, which may not grow without end
FACTS = {
    400: "The form could not be read. Go back and send it again.",
    403: "This form was sent from another page. Open this car here and type it again.",
    404: "There is no such page. Go back to the cars.",
    405: "This page is not asked in this way. Go back to the cars.",
}


class Page:
    """The page of one workshop.

    Parameters
    ----------
    folder : Path
    library : Library
    """

    def __init__(self, folder: Path, library: Library) -> None:
        self.folder = folder
        self.library = library
        self.answers: Answers = {}
        self.templates = Environment(
            loader=PackageLoader("knowngood.web"), autoescape=select_autoescape(), trim_blocks=True, lstrip_blocks=True
        )
        self.templates.filters.update(
            words=in_words, minutes=minutes, money=money, signed=signed, strokes=strokes, quote=quote
        )
        self.templates.globals["with_range"] = with_range

    def open_workshop(self) -> Workshop:
        """The workshop, opened anew for each request, so that no two share a connection."""
        return Workshop(self.folder, self.library, answers=self.answers)

    def app(self) -> Starlette:
        """The page as an ASGI application."""
        static = Path(__file__).parent / "static"
        return Starlette(
            routes=[
                Route("/", self.cars, methods=["GET"]),
                Route("/new", self.new, methods=["POST"]),
                Route("/car/{code}", self.car, methods=["GET"]),
                Route("/car/{code}/say", self.say, methods=["POST"]),
                Route("/car/{code}/undo", self.undo, methods=["POST"]),
                Mount("/static", StaticFiles(directory=static)),
            ],
            middleware=[Middleware(Guard)],
            exception_handlers={KnownGoodError: self.refused, HTTPException: self.not_there, 500: self.unexpected},
        )

    def _show(self, template: str, status: int = 200, **values: object) -> HTMLResponse:
        text = self.templates.get_template(template).render(**values)
        return HTMLResponse(text, status_code=status, headers=HEADERS)

    async def refused(self, request: Request, error: Exception) -> Response:
        """An error of ours, in its own words."""
        return self._trouble(request, 400, *str(error).splitlines())

    async def not_there(self, request: Request, error: Exception) -> Response:
        """An address that is none, or a way of asking that is none."""
        status = error.status_code if isinstance(error, HTTPException) else 404
        return self._trouble(request, status, FACTS.get(status, f"The page answers {status}. Go back to the cars."))

    async def unexpected(self, request: Request, error: Exception) -> Response:
        """Anything else: what was said is on disk."""
        fact = f"Something went wrong that should not have ({type(error).__name__}). What was said before is on disk."
        return self._trouble(request, 500, fact)

    def _trouble(self, request: Request, status: int, *problems: str) -> Response:
        """A page of its own, with what was typed on it."""
        typed = getattr(request.state, "typed", "")
        return self._show("trouble.html", status, problems=problems, typed=typed, back=_own_path(request))

    async def cars(self, request: Request) -> Response:
        """Every car with the step it waits for."""

        def read() -> list[tuple[str, str, str]]:
            with self.open_workshop() as workshop:
                return [(job.code, job.nickname, workshop.waits_for(job.code)) for job in workshop.jobs()]

        return self._show("cars.html", cars=await run_in_threadpool(read))

    async def new(self, request: Request) -> Response:
        """Begin a car."""
        form = await _form(request)

        def begin() -> str:
            with self.open_workshop() as workshop:
                return workshop.new(form.get("nickname", "")).code

        return RedirectResponse(f"/car/{await run_in_threadpool(begin)}", 303)

    async def car(self, request: Request) -> Response:
        """What next, the line, suspects, what was said, what is left."""
        return await self._car(request.path_params["code"], echo=request.query_params.get("echo", ""))

    async def _car(
        self, code: str, *, echo: str = "", typed: str = "", problem: str = "", status: int = 200
    ) -> Response:
        def read() -> dict[str, object]:
            with self.open_workshop() as workshop:
                job = workshop.job(code)
                entries = workshop.entries(job.code)
                numbers = line_numbers(entries)
                said = {numbers[index]: entry for index, entry in enumerate(entries)}
                shown: dict[str, object] = {"job": job, "said": sorted(said.items(), reverse=True)}
                try:
                    answer, todo = workshop.answer(job.code), todo_of(workshop.state(job.code))[:8]
                except KnownGoodError as trouble:
                    return {**shown, "trouble": str(trouble)}
                return {**shown, "answer": answer, "todo": todo}

        values = await run_in_threadpool(read)
        return self._show("car.html", status, echo=echo, typed=typed, problem=problem, **values)

    async def say(self, request: Request) -> Response:
        """Keep one line; the page then shows what was understood, with undo beside it."""
        code = request.path_params["code"]
        form = await _form(request)
        text = form.get("line", "")

        def keep() -> str:
            if len(text) > LONGEST_LINE:
                fact = f"The line has {len(text)} characters; {LONGEST_LINE} are the most."
                raise Refused(Problem(fact, "Say it in several lines."))
            with self.open_workshop() as workshop:
                said = workshop.say(workshop.job(code).code, text)
            parts = [f"Saved: {said.echo or said.text}."]
            if not said.counts:
                parts.append(f"A note, it does not count: {said.why}.")
            parts += [part for part in (said.ask, said.warning) if part]
            return " ".join(parts)

        try:
            echo = await run_in_threadpool(keep)
        except KnownGoodError as error:
            return await self._car(code, typed=text, problem=str(error), status=400)
        return RedirectResponse(f"/car/{quote(code)}?echo={quote(_short(echo))}", 303)

    async def undo(self, request: Request) -> Response:
        """Take back the line said last."""
        code = request.path_params["code"]
        await _form(request)

        def strike() -> str:
            with self.open_workshop() as workshop:
                return workshop.undo(workshop.job(code).code)

        words = await run_in_threadpool(strike)
        return RedirectResponse(f"/car/{quote(code)}?echo={quote(_short('Struck: ' + words))}", 303)


async def _form(request: Request) -> dict[str, str]:
    """The fields of a form sent from this very page; others are refused."""
    origin = request.headers.get("origin")
    if origin is not None and origin.split("//", 1)[-1] != request.headers.get("host"):
        raise HTTPException(403)
    async with request.form(max_files=0, max_fields=10) as form:
        fields = {name: value for name, value in form.items() if isinstance(value, str)}
    request.state.typed = fields.get("line", fields.get("nickname", ""))
    return fields


def _short(echo: str) -> str:
    return echo if len(echo) <= LONGEST_ECHO else f"{echo[:LONGEST_ECHO]} ..."


def _own_path(request: Request) -> str:
    code = request.path_params.get("code")
    return f"/car/{quote(code)}" if code and request.method == "POST" else "/"
