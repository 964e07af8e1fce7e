"""One car opened for a page: what every page of it shows, and how far what is worked out knows of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from starlette.requests import Request

from knowngood.app.left_undone import left_undone
from knowngood.app.put_away import is_away
from knowngood.app.strike import to_take_back
from knowngood.evidence import Entry
from knowngood.jobs.store import Job
from knowngood.web.desk import Desk
from knowngood.web.thinking import Thought


@dataclass(frozen=True)
class Opened:
    """A car as of one request.

    Parameters
    ----------
    entries : list of Entry
        That stand, in time order.
    ids : tuple of str
        Of all that an answer hangs on.
    echo : str
        What was said last, from the address.
    of : tuple of str
        Entries that the echo speaks of, as far as they can still be taken back.
    """

    desk: Desk
    job: Job
    entries: list[Entry]
    ids: tuple[str, ...]
    echo: str
    of: tuple[str, ...]

    def page(self) -> dict[str, Any]:
        """What every page of a car shows, whatever is worked out: also what was left as it must not stay."""
        return {
            "job": self.job,
            "echo": self.echo,
            "of": self.of,
            "away": is_away(self.entries),
            "undone": left_undone(self.entries),
        }

    def mark(self) -> str:
        """By which a page that is open finds out that another hand entered something, or an answer has come."""
        return self.desk.thinking.mark(self.job.code, self.ids)

    def thought(self) -> Thought | None:
        """What was worked out last, on these entries where that is there in time."""
        return self.desk.thinking.thought(self.job.code, self.ids)

    def page_of(self, thought: Thought | None) -> dict[str, Any]:
        """What a page made from a thought shows: how far that knows of the car, the reason where there is no answer.

        ``known``: there is an answer to show. ``fresh``: it is on all that stands. ``newer``: lines that it does not
        know of yet. ``whole``: its reasons are there, too. ``trouble``: why nothing can be worked out.
        """
        told = set(thought.ids) if thought is not None else set()
        return {
            "known": thought is not None and thought.answer is not None and thought.state is not None,
            "answer": thought.answer if thought is not None else None,
            "fresh": thought is not None and thought.ids == self.ids,
            "newer": list(dict.fromkeys(entry.line for entry in self.entries if entry.id not in told)),
            "whole": thought is not None and thought.whole,
            "trouble": thought.trouble if thought is not None else "",
            "mark": self.mark(),
            **self.page(),
        }


def open_car(desk: Desk, request: Request) -> Opened:
    """The car that an address names.

    Raises
    ------
    Refused
        There is no such car.
    """
    asked = request.query_params
    of = asked.getlist("of")
    with desk.open_workshop() as workshop:
        job = workshop.job(request.path_params["code"])
        entries = workshop.entries(job.code)
        left = set(to_take_back(workshop, job.code)) if of else set()
        still = tuple(entry for entry in of if entry in left)
        return Opened(desk, job, entries, workshop.stands(entries), asked.get("echo", ""), still)
