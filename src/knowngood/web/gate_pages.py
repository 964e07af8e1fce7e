"""Gates: what to look at before the battery, a crank, a start, a drive; one tap a look."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from knowngood.app.gate_view import gate_looks, gate_short, gates_of
from knowngood.app.state import State, car_of
from knowngood.app.taps import read_taps
from knowngood.app.workshop import SaidLine, Workshop
from knowngood.library.own_branches import library_of
from knowngood.web.desk import Desk, form_of
from knowngood.web.keeping import keep_once, saved
from knowngood.web.opened import Opened, open_car


class GatePages:
    """Routes of the gates of one car."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What these pages answer."""
        return [
            Route("/car/{code}/gates", self.gates, methods=["GET"]),
            Route("/car/{code}/gates/{gate}", self.gate, methods=["GET"]),
            Route("/car/{code}/gates/{gate}", self.look, methods=["POST"]),
        ]

    def _state(self, car: Opened) -> State:
        """The state as of every entry: a gate never goes by one that is out of date."""
        thought = self.desk.thinking.last(car.job.code)
        if thought is not None and thought.state is not None and thought.ids == car.ids:
            return thought.state
        with self.desk.open_workshop() as workshop:
            return workshop.state(car.job.code)

    async def gates(self, request: Request) -> Response:
        """Every gate with how it stands."""

        def read() -> dict[str, Any]:
            car = open_car(self.desk, request)
            return {
                **car.page(),
                "mark": car.mark(),
                "fresh": True,
                "gates": [(one, gate_short(one)) for one in gates_of(self._state(car))],
            }

        return self.desk.show("gates.html", here="gates", **await run_in_threadpool(read))

    async def gate(self, request: Request) -> Response:
        """The looks of one gate, those not made first."""

        def read() -> dict[str, Any]:
            car = open_car(self.desk, request)
            gate, looks = gate_looks(self._state(car), request.path_params["gate"])
            return {
                **car.page(),
                "mark": car.mark(),
                "fresh": True,
                "gate": gate,
                "said": gate_short(gate),
                "looks": looks,
            }

        return self.desk.show("gate.html", here="gates", **await run_in_threadpool(read))

    async def look(self, request: Request) -> Response:
        """Keep a look and show the gate again."""
        code, gate = request.path_params["code"], request.path_params["gate"]
        form = await form_of(request)

        def keep(workshop: Workshop, job: str, at: str) -> SaidLine:
            own = library_of(self.desk.library, car_of(workshop.entries(job)))
            tapped = read_taps(own, form.fields)
            return workshop.keep(job, tapped.line, tapped.bodies, at=at)

        return await saved(
            request, lambda: keep_once(self.desk, code, form, keep), f"/car/{quote(code)}/gates/{quote(gate)}"
        )
