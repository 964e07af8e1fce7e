"""What holds for the whole workshop: units, the word behind money, the hourly rate, day or night."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from knowngood.app.settings import SettingView, settings_view
from knowngood.web.desk import Desk, form_of
from knowngood.web.keeping import Kept, saved


class ShopPages:
    """Routes of the workshop's settings."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What this page answers."""
        return [
            Route("/settings", self.settings, methods=["GET"]),
            Route("/settings", self.set, methods=["POST"]),
        ]

    async def settings(self, request: Request) -> Response:
        """Every setting and what there is to choose."""
        return await self._settings(echo=request.query_params.get("echo", ""))

    async def _settings(self, *, echo: str = "", problem: str = "", name: str = "", status: int = 200) -> Response:
        def read() -> list[SettingView]:
            with self.desk.open_workshop() as workshop:
                return settings_view(workshop.settings())

        view = await run_in_threadpool(read)
        return self.desk.show("settings.html", status, view=view, echo=echo, problem=problem, wrong=name)

    async def set(self, request: Request) -> Response:
        """Keep one setting."""
        form = await form_of(request)
        name, value = next(iter(form.said), ("", ""))

        def keep() -> Kept:
            with self.desk.saving, self.desk.open_workshop() as workshop:
                return Kept(f"Saved: {workshop.set(name, value)}.")

        async def refused(problem: str) -> Response:
            return await self._settings(problem=problem, name=name, status=400)

        return await saved(request, keep, "/settings", refused)
