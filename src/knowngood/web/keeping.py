"""Keeping what a form says: once, at its own time, confirmed only when it is on disk."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from knowngood.app.sent import behind, ids_from, typed_at, was_sent
from knowngood.app.workshop import SaidLine, Workshop, random_id
from knowngood.errors import KnownGoodError
from knowngood.web.desk import Desk, Form

LONGEST_ECHO = 600  # what was understood goes back in the address, which may not grow without end
TWICE = "Saved before: it came twice and was kept once."


@dataclass(frozen=True)
class Kept:
    """What was kept: the words that confirm it, and an entry of each line by which it can be taken back."""

    words: str
    of: tuple[str, ...] = ()


Keep = Callable[[Workshop, str, str], SaidLine | Kept]
"""Keeps something in a job, as of a moment (empty: now); gives the line that was kept, or what to say of it."""


def keep_once(desk: Desk, code: str, form: Form, keep: Keep) -> Kept:
    """Keep a form once, however often it is sent."""
    new_id = ids_from(form.sent) if form.sent else random_id
    with desk.saving, desk.open_workshop(new_id) as workshop:
        job = workshop.job(code).code
        if form.sent and was_sent(workshop, job, form.sent):
            return Kept(TWICE)
        at = typed_at(workshop.now(), form.get("waited"))
        said = keep(workshop, job, behind(workshop, job, at, form.before))
    desk.thinking.want(job)
    if isinstance(said, Kept):
        return said
    parts = [f"Saved: {said.echo or said.text}."]
    if not said.counts:
        parts.append(f"A note, it does not count: {said.why.rstrip('.')}.")
    return Kept(" ".join([*parts, *(part for part in (said.ask, said.warning) if part)]), said.entries[:1])


async def saved(
    request: Request, keep: Callable[[], Kept], where: str, refused: Callable[[str], Awaitable[Response]] | None = None
) -> Response:
    """Keep what a form says and lead on; a form sent by the page's own script is answered in JSON.

    Parameters
    ----------
    keep : callable
        Keeps it and gives what to say of it; runs where it may take its time.
    where : str
        Address of the page to show then.
    refused : callable, optional
        Makes the page that shows the reason beside the field; else the error has a page of its own.
    """
    scripted = "application/json" in request.headers.get("accept", "")
    try:
        kept = await run_in_threadpool(keep)
    except KnownGoodError as error:
        if scripted:
            return JSONResponse({"problem": str(error)}, 400)
        if refused is None:
            raise
        return await refused(str(error))
    named = "".join(f"&of={quote(entry)}" for entry in kept.of)
    to = f"{where}{'&' if '?' in where else '?'}echo={quote(short(kept.words))}{named}"
    if scripted:
        return JSONResponse({"echo": kept.words, "to": to, "of": kept.of})
    return RedirectResponse(to, 303)


def short(echo: str) -> str:
    """An echo that fits an address, without its middle: what is asked or warned of stands at its end."""
    half = LONGEST_ECHO // 2
    return echo if len(echo) <= LONGEST_ECHO else f"{echo[:half]} ... {echo[-half:]}"
