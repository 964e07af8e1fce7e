"""Suspects and the journal of one car."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from knowngood.app.put_away import is_away
from knowngood.app.workshop import line_numbers
from knowngood.web.desk import Desk
from knowngood.web.keeping import unknown_to


class EvidencePages:
    """Routes of what speaks for what, and of everything that was said."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What these pages answer."""
        return [
            Route("/car/{code}/suspects", self.suspects, methods=["GET"]),
            Route("/car/{code}/journal", self.journal, methods=["GET"]),
        ]

    async def suspects(self, request: Request) -> Response:
        """Suspects by kind and part, and what moved them."""

        def read() -> dict[str, Any]:
            with self.desk.open_workshop() as workshop:
                job = workshop.job(request.path_params["code"])
                entries = workshop.entries(job.code)
                thought = self.desk.thinking.thought(job.code, tuple(entry.id for entry in entries))
                shown = {"job": job, **unknown_to(thought, entries)}
                if thought is None or thought.answer is None:
                    return {**shown, "trouble": thought.trouble if thought else ""}
                return {**shown, "answer": thought.answer}

        return self.desk.show("suspects.html", here="suspects", **await run_in_threadpool(read))

    async def journal(self, request: Request) -> Response:
        """Everything that was said, the last first."""

        def read() -> dict[str, Any]:
            with self.desk.open_workshop() as workshop:
                job = workshop.job(request.path_params["code"])
                entries = workshop.entries(job.code)
                numbers = line_numbers(entries)
                said = {numbers[index]: entry for index, entry in enumerate(entries)}
                return {"job": job, "said": sorted(said.items(), reverse=True), "away": is_away(entries)}

        echo = request.query_params.get("echo", "")
        return self.desk.show("journal.html", here="journal", echo=echo, **await run_in_threadpool(read))
