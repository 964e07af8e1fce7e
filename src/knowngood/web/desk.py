"""What every page is made with: the workshop, the templates, the forms, the answers worked out beside."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar
from urllib.parse import quote

from jinja2 import Environment, PackageLoader, select_autoescape
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse

from knowngood.app.measuring_told import unparted
from knowngood.app.settings import Settings, sums_words
from knowngood.app.suspect_list import lead_and_tail, speaks_for
from knowngood.app.whereabouts import how_likely, places_beside, where
from knowngood.app.workshop import Workshop, random_id
from knowngood.library.records import Library
from knowngood.sheets.words import capital, in_currency, in_words, minutes, money, signed, small, strokes
from knowngood.web.contents import CONTENTS
from knowngood.web.thinking import Thinking

T = TypeVar("T")

MOST_FIELDS = 200  # a check with many readings, a row of twelve
_SENT = re.compile(r"[0-9a-f]{16,32}")  # 64 random bits or more, which no two forms share, and short enough for an id
_OF_THE_WAY = ("sent", "waited", "before")  # fields that say how a form came here, not what it says


class Desk:
    """One workshop, as the pages see it.

    Parameters
    ----------
    folder : Path
    library : Library
    patience_s : float [s]
        How long a page waits for an answer before it shows the one before.
    """

    def __init__(self, folder: Path, library: Library, patience_s: float) -> None:
        self.folder = folder
        self.library = library
        self.saving = threading.Lock()  # one form at a time, so that one sent twice is kept once
        self.settings = (
            Settings()
        )  # the workshop's, as it was opened last; until then a page without a car has none else
        self.thinking = Thinking(self.open_workshop, patience_s)
        self.templates = Environment(
            loader=PackageLoader("knowngood.web"), autoescape=select_autoescape(), trim_blocks=True, lstrip_blocks=True
        )
        self.templates.filters.update(
            capital=capital,
            lead_and_tail=lead_and_tail,
            minutes=minutes,
            money=money,
            places_beside=places_beside,
            quote=quote,
            signed=signed,
            small=small,
            speaks_for=speaks_for,
            strokes=strokes,
            unparted=unparted,
            where=where,
            words=in_words,
        )
        self.templates.globals.update(contents=CONTENTS, how_likely=how_likely, sums=lambda: sums_words(self.settings))

    def open_workshop(self, new_id: Callable[[], str] = random_id) -> Workshop:
        """The workshop, opened anew for each request, so that no two share a connection."""
        workshop = Workshop(self.folder, self.library, new_id=new_id)
        self.settings = workshop.settings()
        return workshop

    def worded(self, made: Callable[[], T]) -> T:
        """What a page is made of, with money in the workshop's own word."""
        with in_currency(self.settings.currency):
            return made()

    def show(self, template: str, status: int = 200, **values: object) -> HTMLResponse:
        """A page."""
        with in_currency(self.settings.currency):
            text = self.templates.get_template(template).render(night=self.settings.night, **values)
        return HTMLResponse(text, status_code=status)


class Form:
    """The fields of a form, in order, a name more than once where it was sent so."""

    def __init__(self, fields: list[tuple[str, str]]) -> None:
        self.fields = fields

    def get(self, name: str) -> str:
        """The first field of that name; empty where there is none."""
        return next((value for given, value in self.fields if given == name), "")

    @property
    def said(self) -> list[tuple[str, str]]:
        """The fields a hand filled in or tapped."""
        return [(name, value) for name, value in self.fields if name not in _OF_THE_WAY]

    @property
    def sent(self) -> str:
        """The name the sender gave this form, the same each time it is sent again; empty without a script."""
        return self._name("sent")

    @property
    def before(self) -> str:
        """The name of the form that was filled in before this one on the same screen."""
        return self._name("before")

    def _name(self, field: str) -> str:
        name = self.get(field)
        return name if _SENT.fullmatch(name) else ""


def must_be_own(request: Request) -> None:
    """Refuse a form that another page sent.

    A browser names the site that a form comes from (Fetch standard, "Origin" header); what names none was sent by a
    program, not by a page.

    Raises
    ------
    HTTPException
        403: another page sent it.
    """
    origin = request.headers.get("origin")
    if origin is not None and origin.split("//", 1)[-1] != request.headers.get("host"):
        raise HTTPException(403)


async def form_of(request: Request) -> Form:
    """The fields of a form sent from this very page; others are refused."""
    must_be_own(request)
    async with request.form(max_files=0, max_fields=MOST_FIELDS) as form:
        fields = [(name, value) for name, value in form.multi_items() if isinstance(value, str)]
    found = Form(fields)
    request.state.typed = found.get("line") or found.get("nickname")
    return found
