"""Every route of the page under whatever a client may send: always a page in words, never a crash, never live markup.

The requests are drawn by schemathesis from a description of the routes as OpenAPI 3.1 that is made here from the
application itself, so a route that is added is drawn too.
"""

from __future__ import annotations

import html
import re
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, settings
from starlette.applications import Starlette
from starlette.responses import JSONResponse
from starlette.routing import Route

from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.web.guard import Guard
from knowngood.web.page import Page

HOSTILE = (
    "<script>alert(1)</script>",
    "\"'><img src=x onerror=alert(1)>",
    "{{7*7}}${7*7}",
    "\x00\x07\x1b[2J",
    "\u202etxet eht nrut\u202c",
    "../../etc/passwd",
    "comp 175 172 60 175 psi",
    "\N{WRENCH} " + "9" * 400,
    "P0302 " * 2000,
)
FIELDS = (
    "line",
    "words",
    "why",
    "away",
    "when",
    "took",
    "state",
    "rest",
    "paid",
    "own",
    "nickname",
    "entry",
    "codes",
    "code",
)
TAPS = ("word|shakes|engine", "number|compression|cylinder 1", "look|fuel_leak|engine", "word|nothing|nowhere")
MEASURED = ("drop", "current", "unit|drop", "cylinder|1", "cylinder|3", "winding", "before", "window|low", "at place")
ANSWERS = {200, 303, 400, 403, 404, 405, 413}
ALERT = re.compile(r"<script>alert|<img src=x")


def _values(*usual: str) -> dict[str, Any]:
    return {"anyOf": [{"enum": [*usual, *HOSTILE]}, {"type": "string", "maxLength": 60}]}


def _operation(path: str, method: str, car: str) -> dict[str, Any]:
    names = re.findall(r"{(\w+)(?::\w+)?}", path)
    told = {
        "code": {"enum": [car, car.upper(), *HOSTILE[:2]]},
        "name": _values("row", "next", "record"),
        "gate": _values("crank"),
        "number": {"type": "integer"},
        "topic": _values("joint", "compression", "coil", "blocks"),
    }
    said: dict[str, Any] = {
        "parameters": [
            {"name": name, "in": "path", "required": True, "schema": told.get(name, _values("coil_dead"))}
            for name in names
        ],
        "responses": {"default": {"description": "a page"}},
    }
    if method == "GET":
        fields = ("place", "about", "line", "text", "kind", "units", *MEASURED)
        said["parameters"] += [{"name": name, "in": "query", "schema": _values("", "12,4 V")} for name in fields]
        said["parameters"].append({"name": "work", "in": "query", "schema": {"enum": ["", "yes", "x"]}})
    else:
        form = {"type": "object", "properties": {name: _values("") for name in (*FIELDS, *TAPS, *MEASURED)}}
        said["requestBody"] = {"content": {"application/x-www-form-urlencoded": {"schema": form}}}
    return said


def _routes(app: Starlette) -> Iterator[tuple[str, str]]:
    for route in app.routes:
        if isinstance(route, Route):
            yield from ((route.path, method) for method in sorted((route.methods or set()) - {"HEAD"}))


def _described(folder: Path) -> Guard:
    """The page of a workshop with one car, beside a description of its routes."""
    library = load()
    with Workshop(folder, library) as workshop:
        car = workshop.new("van").code
        workshop.say(car, "4 cylinders inline, coil on plug")
        workshop.say(car, "P0302 stored, shakes at idle")
    guarded = Page(folder, library, patience_s=300.0, hosts=("testserver",)).app()
    page = guarded.app
    assert isinstance(page, Starlette)
    paths: dict[str, dict[str, Any]] = {}
    for path, method in _routes(page):
        open_path = re.sub(r"{(\w+):\w+}", r"{\1}", path)
        paths.setdefault(open_path, {})[method.lower()] = _operation(path, method, car)
    told = {"openapi": "3.1.0", "info": {"title": "page", "version": "1"}, "paths": paths}
    page.router.routes.append(Route("/openapi.json", lambda request: JSONResponse(told)))
    return guarded


_FOLDER = tempfile.TemporaryDirectory(prefix="knowngood-routes-")
schema = schemathesis.openapi.from_asgi("/openapi.json", _described(Path(_FOLDER.name)))


@pytest.fixture(scope="module", autouse=True)
def folder() -> Iterator[None]:
    """The workshop is there until the last request."""
    yield
    _FOLDER.cleanup()


@schema.parametrize()
@settings(max_examples=25, deadline=None, phases=[Phase.generate], suppress_health_check=list(HealthCheck))
def test_answer_is_a_page_in_words(case: Any) -> None:
    """A page or a trouble page, with the policy that lets no markup run; no hostile text stands in it as markup."""
    answer = case.call(allow_redirects=False)
    assert answer.status_code in ANSWERS, (answer.status_code, answer.text[:400])
    assert answer.headers["content-security-policy"][0].startswith("default-src 'none'; script-src 'self'")
    kind = answer.headers.get("content-type", [""])[0]
    if kind.startswith("text/html"):
        assert not ALERT.search(answer.text)
        assert "Something went wrong that should not have" not in html.unescape(answer.text)
    if answer.status_code >= 400:
        assert kind.startswith("text/html")
        assert "<h1>That did not work</h1>" in answer.text or 'class="problem"' in answer.text
