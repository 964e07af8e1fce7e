"""Measurements worked out on the page, with a car or without; with one they can be kept in its journal."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from knowngood.app.measuring import measure
from knowngood.app.measuring_form import TopicForm, find_topics, topic_form, with_reasons
from knowngood.app.measuring_kept import keep as keep_measured
from knowngood.app.measuring_offer import offer
from knowngood.app.measuring_own import own_window
from knowngood.app.measuring_told import entered_lines, with_source_once, worst_first
from knowngood.app.measuring_topic import Worked
from knowngood.app.measuring_typed import PLACE, only_place, split_fields
from knowngood.app.recent import recent_of
from knowngood.app.state import car_of
from knowngood.app.step_form import units_first
from knowngood.app.workshop import SaidLine, Workshop
from knowngood.car import Car
from knowngood.errors import KnownGoodError, Problem, Refused
from knowngood.units import show
from knowngood.web.desk import Desk, form_of
from knowngood.web.keeping import keep_once, saved


class MeasurePages:
    """Routes of measurements."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What these pages answer."""
        return [
            Route("/measure", self.topics, methods=["GET"]),
            Route("/measure/{topic}", self.topic, methods=["GET"]),
            Route("/car/{code}/measure", self.topics, methods=["GET"]),
            Route("/car/{code}/measure/{topic}", self.topic, methods=["GET"]),
            Route("/car/{code}/measure/{topic}", self.keep, methods=["POST"]),
        ]

    async def topics(self, request: Request) -> Response:
        """What can be worked out, under the headings of the trade; or what some words find."""
        words = request.query_params.get("words", "")
        code = request.path_params.get("code")

        def read() -> dict[str, Any]:
            if code is None:
                return {"job": None}
            with self.desk.open_workshop() as workshop:
                return {"job": workshop.job(code)}

        shown = await run_in_threadpool(read)
        return self.desk.show(
            "measure.html", here="measure", base=_base(code), wanted=words, found=find_topics(words), **shown
        )

    async def topic(self, request: Request) -> Response:
        """The form of a topic; worked out when its numbers are sent along."""
        return await self._topic(request, dict(request.query_params.multi_items()))

    async def _topic(self, request: Request, typed: dict[str, str], problem: str = "") -> Response:
        code, name = request.path_params.get("code"), request.path_params["topic"]
        asked = typed.pop("work", "") == "yes"

        def read() -> tuple[dict[str, Any], bool]:
            """What is shown, and whether something that was typed could not be taken."""
            with self.desk.open_workshop() as workshop:
                shown = self._form(workshop, code, name, typed)
                form: TopicForm = shown["form"]
                try:
                    named = split_fields(typed, form.topic)
                    own = own_window(
                        self.desk.library, shown["car"], form.topic.name, named, self.desk.settings.by_kind()
                    )
                    shown["own"] = show(own.window) if own is not None else ""
                    if asked:
                        worked = measure(form.topic.name, [], named, units=self.desk.settings.by_kind(), own=own)
                        shown |= _told(worked)
                        if shown["job"] is not None:
                            place = only_place(form.topic, typed)
                            shown["offer"] = offer(workshop, shown["job"], form.topic.name, named, place)
                except KnownGoodError as error:
                    form = with_reasons(form, typed)
                    return {**shown, "form": form, "problem": "" if form.wrong else str(error)}, True
                return {**shown, "problem": problem}, bool(problem)

        values, failed = await run_in_threadpool(read)
        status = 400 if failed else 200
        return self.desk.show("topic.html", status, here="measure", base=_base(code), typed=typed, **values)

    def _form(self, workshop: Workshop, code: str | None, name: str, typed: dict[str, str]) -> dict[str, Any]:
        """The form, with as many cells as the engine has cylinders and the units used last or liked best."""
        kinds = self.desk.library.readings
        job, car, last = None, Car(), {}
        if code is not None:
            job = workshop.job(code)
            entries = workshop.entries(job.code)
            car, last = car_of(entries), recent_of(entries).units
        units = units_first(self.desk.library, self.desk.settings, last)
        wanted = {kinds[kind].quantity: unit for kind, unit in units.items() if kind in kinds}
        form: TopicForm = topic_form(name, typed, cylinders=car.cylinders, units=wanted)
        return {"job": job, "car": car, "form": form}

    async def keep(self, request: Request) -> Response:
        """Keep the readings in the journal of the car."""
        code, name = request.path_params["code"], request.path_params["topic"]
        form = await form_of(request)
        typed = dict(form.said)

        def keep(workshop: Workshop, job: str, at: str) -> SaidLine:
            topic = topic_form(name, typed).topic
            named = split_fields(typed, topic)
            # Tapped when it was asked for, else the one of a row that was filled in.
            place = typed.get(PLACE, "") or only_place(topic, typed)
            offered = offer(workshop, workshop.job(job), topic.name, named, place)
            if offered.ask or offered.why_not:
                raise Refused(Problem(offered.ask or offered.why_not, "Tap it, then keep it." if offered.ask else ""))
            if place and topic.field("place") is None:  # a topic with a field for it has it from there
                named["place"] = [place]
            return keep_measured(workshop, job, topic.name, [], named, at=at).said

        async def refused(problem: str) -> Response:
            return await self._topic(request, {**typed, "work": "yes"}, problem)

        return await saved(request, lambda: keep_once(self.desk, code, form, keep), f"/car/{quote(code)}", refused)


def _told(worked: Worked) -> dict[str, Any]:
    return {
        "worked": worked,
        "entered": entered_lines(worked.entered),
        "verdicts": with_source_once(worst_first(worked.verdicts)),
    }


def _base(code: str | None) -> str:
    return "/measure" if code is None else f"/car/{quote(code)}/measure"
