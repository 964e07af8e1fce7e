"""Telling by tapping: the car talked through, what it does, codes, any check; put away and taken up again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from knowngood.app.check_step import MOST_FOUND, TO_TAP, find_checks, find_faults, step_of_check
from knowngood.app.complaints import WHEN, complaints
from knowngood.app.measuring_offer import worked_by
from knowngood.app.put_away import note_of
from knowngood.app.recent import recent_of
from knowngood.app.state import car_of
from knowngood.app.step_form import form_of as step_form
from knowngood.app.step_form import units_first
from knowngood.app.talk import ASKS, CODE_STATES, complained_of, line_of_codes, lines_of_talk, told_of
from knowngood.app.workshop import SaidLine, Workshop
from knowngood.car import Car, layout_of
from knowngood.library.own_branches import library_of
from knowngood.web.desk import Desk, form_of
from knowngood.web.keeping import Kept, keep_once, saved
from knowngood.web.opened import open_car
from knowngood.web.thinking import Thought


@dataclass(frozen=True)
class Finder:
    """A page that finds something by words of it: its title, what it asks for, and the kind of page a find leads to."""

    title: str
    asked: str
    leads_to: str


FINDERS = {
    "checks": Finder("Measure or look", "Words of it: comp, trim, spark", "check"),
    "found": Finder("Found something wrong", "Words of it: hose, chewed, ground", "suspect"),
}

MOST_DIGITS = 6  # of the place in a list; the longest has some hundreds


class Told:
    """Routes of what a car is told to be and to do."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What these pages answer."""
        return [
            Route("/car/{code}/talk", self.talk, methods=["GET"]),
            Route("/car/{code}/talk", self.talked, methods=["POST"]),
            Route("/car/{code}/tell", self.tell, methods=["GET"]),
            Route("/car/{code}/codes", self.codes, methods=["POST"]),
            Route("/car/{code}/checks", self.checks, methods=["GET"]),
            Route("/car/{code}/found", self.found, methods=["GET"]),
            Route("/car/{code}/check/{check}", self.check, methods=["GET"]),
            Route("/car/{code}/away", self.away, methods=["POST"]),
        ]

    async def talk(self, request: Request) -> Response:
        """Every question about the car, none of which has to be answered."""
        car = await run_in_threadpool(open_car, self.desk, request)
        return self.desk.show("talk.html", here="talk", asks=ASKS, told=told_of(car_of(car.entries)), **car.page())

    async def talked(self, request: Request) -> Response:
        """Keep what was answered, as the lines that say it."""
        code = request.path_params["code"]
        form = await form_of(request)

        def keep(workshop: Workshop, job: str, at: str) -> Kept:
            lines = lines_of_talk(form.fields, told_of(car_of(workshop.entries(job))))
            said = [workshop.say(job, line, typed=at) for line in lines]
            if not said:
                return Kept("Nothing new; what stood there is known.")
            return Kept(f"Saved: {'; '.join(one.echo for one in said)}.", tuple(one.entries[0] for one in said))

        return await saved(request, lambda: keep_once(self.desk, code, form, keep), f"/car/{quote(code)}/tell")

    async def tell(self, request: Request) -> Response:
        """What the driver says, and codes."""
        car = await run_in_threadpool(open_car, self.desk, request)
        usual, others = complaints(self.desk.library)
        return self.desk.show(
            "tell.html",
            here="tell",
            usual=usual,
            others=others,
            when=WHEN,
            states=CODE_STATES,
            so=complained_of(car.entries),
            codes_first="codes" in request.query_params,
            mark=car.mark(),
            **car.page(),
        )

    async def codes(self, request: Request) -> Response:
        """Keep the codes that were typed as digits."""
        code = request.path_params["code"]
        form = await form_of(request)

        def keep(workshop: Workshop, job: str, at: str) -> SaidLine:
            return workshop.say(job, line_of_codes(form.get("codes"), form.get("state")), at=at)

        return await saved(request, lambda: keep_once(self.desk, code, form, keep), f"/car/{quote(code)}")

    async def checks(self, request: Request) -> Response:
        """The checks this car may have, by name, or those that some words find."""
        return await self._finder(
            request, "checks", lambda words, car, _, first: find_checks(self.desk.library, words, car, first)
        )

    async def found(self, request: Request) -> Response:
        """The faults this car may have, the likeliest first, or those that some words find."""

        def find(words: str, car: Car, thought: Thought | None, first: int) -> tuple[Sequence[object], int]:
            state = thought.state if thought is not None else None
            likely = state.kinds_behind if state is not None else {}
            return find_faults(self.desk.library, words, car, likely, first)

        return await self._finder(request, "found", find)

    async def _finder(
        self, request: Request, here: str, find: Callable[[str, Car, Thought | None, int], tuple[Sequence[object], int]]
    ) -> Response:
        wanted, behind = request.query_params.get("words", ""), request.query_params.get("from", "")
        first = int(behind) if behind.isdecimal() and len(behind) < MOST_DIGITS else 0

        def read() -> dict[str, Any]:
            opened = open_car(self.desk, request)
            thought = opened.thought() if here == "found" else None
            found, count = find(wanted, car_of(opened.entries), thought, first)
            more = first + MOST_FOUND if first + MOST_FOUND < count else 0
            return {**opened.page(), "found": found, "count": count, "first": first, "more": more}

        values = await run_in_threadpool(read)
        return self.desk.show("finder.html", here=here, finder=FINDERS[here], wanted=wanted, to_tap=TO_TAP, **values)

    async def check(self, request: Request) -> Response:
        """One check, with keys for its readings."""

        def read() -> dict[str, Any]:
            car = open_car(self.desk, request)
            own = library_of(self.desk.library, car_of(car.entries))
            step = step_of_check(own, layout_of(car_of(car.entries)), request.path_params["check"])
            units = units_first(self.desk.library, self.desk.settings, recent_of(car.entries).units)
            form = step_form(own, step, units)
            return {**car.page(), "form": form, "by": worked_by(form)}

        return self.desk.show("enter.html", here="enter", **await run_in_threadpool(read))

    async def away(self, request: Request) -> Response:
        """Put a car away, or take it up again."""
        code = request.path_params["code"]
        form = await form_of(request)
        note = note_of(form.get("away") == "yes")

        def keep(workshop: Workshop, job: str, at: str) -> Kept:
            return Kept(f"Saved: {note.text}.", workshop.keep(job, note.text, [note], at=at).entries)

        return await saved(request, lambda: keep_once(self.desk, code, form, keep), f"/car/{quote(code)}")
