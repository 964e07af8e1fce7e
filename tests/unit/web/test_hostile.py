"""Words no hand types, in every field of every form: an answer in words, and nothing that was kept is lost."""

from __future__ import annotations

import html
from urllib.parse import quote

import pytest
from starlette.testclient import TestClient

from knowngood.web.contents import CONTENTS

HOSTILE = {
    "a megabyte": "x" * 1_000_000,
    "a number of five thousand digits": "9" * 5000,
    "marks upon marks": "a" + "\u0301" * 3000,
    "a list without end": "9," * 2000,
    "control characters": "\x07\x1b[2Ja\x08\x00\x7f\x9b",
    "marks that turn the writing": "\u202etxet\u202c\u2066x",
    "markup": "\"'><script>alert(1)</script><img src=x onerror=alert(1)>",
    "templates": "{{7*7}}${7*7}%s%n{0}",
}
FORMS = {
    "/new": ("nickname",),
    "{car}/say": ("line", "back", "sent", "waited", "before"),
    "{car}/tap": ("line", "back", "word|shakes|engine", "number|compression|cylinder 1", "{hostile}"),
    "{car}/undo": ("of", "sent", "back"),
    "{car}/longer": ("sent",),
    "{car}/talk": ("cylinders", "own", "nickname", "{hostile}"),
    "{car}/codes": ("codes", "state"),
    "{car}/away": ("away",),
    "{car}/strike": ("entry", "why", "own"),
    "{car}/gates/crank": ("when", "took", "state", "{hostile}"),
    "{car}/measure/joint": ("drop", "current", "unit|drop", "place"),
    "{car}/measure/compression": ("cylinder|1", "window|low", "place"),
    "{car}/photo": ("words",),
    "{car}/card": ("field", "text"),
    "/settings": ("currency", "rate", "temperature", "night", "{hostile}"),
}
ASKED = (
    "{car}?echo={hostile}&of={hostile}&step={hostile}",
    "{car}/spread?number|compression|cylinder 1={hostile}",
    "{car}/checks?words={hostile}",
    "{car}/check/{hostile}",
    "{car}/suspect/{hostile}",
    "{car}/cylinder/{hostile}",
    "{car}/gates/{hostile}",
    "{car}/journal?place={hostile}",
    "{car}/measure/joint?drop={hostile}&current=1&work=yes",
    "{car}/sheet/{hostile}?form={hostile}",
    "{car}/photo/{hostile}",
    "/car/{hostile}/engine",
    "/static/{hostile}",
)
PAGES = tuple(path for _, path, _ in CONTENTS)
SHEETS = ("buy", "arrival", "row", "next", "closing", "road", "todo", "record", "cost")


def in_words(answer: object) -> None:
    """A page or a redirect; one that refuses says why; nothing hostile in it is markup."""
    status, kind, text = answer.status_code, answer.headers.get("content-type", ""), answer.text  # type: ignore[attr-defined]
    assert status < 500, text[-600:]
    if kind.startswith("text/html"):
        assert "<script>alert" not in text
        assert "<img src=x" not in text
    if status >= 400:
        assert "<h1>That did not work</h1>" in text or 'class="problem"' in text, text[:600]


@pytest.mark.parametrize("hostile", HOSTILE)
def test_every_field_and_address_takes_it(browser: TestClient, car: str, hostile: str) -> None:
    """Each answer is a page in words, and after all of them every page and sheet of the car is still there."""
    text = HOSTILE[hostile]
    for path, fields in FORMS.items():
        for field in fields:
            sent = {field.format(hostile=text[:2000]) if field == "{hostile}" else field: text}
            in_words(browser.post(path.replace("{car}", car), data=sent, follow_redirects=False))
    for path in ASKED:
        in_words(browser.get(path.replace("{car}", car).replace("{hostile}", quote(text[:2000], safe=""))))
    assert browser.get("/").status_code == 200
    for page in PAGES:
        in_words(browser.get(f"{car}{page}"))
    for sheet in SHEETS:
        assert browser.get(f"{car}/sheet/{sheet}").status_code == 200


@pytest.mark.parametrize("hostile", HOSTILE)
def test_acknowledged_is_there_as_typed(browser: TestClient, car: str, hostile: str) -> None:
    """A line is refused, with its words still in the field, or it stands in the journal sign by sign."""
    text = HOSTILE[hostile]
    answer = browser.post(f"{car}/say", data={"line": text}, follow_redirects=False)
    assert answer.status_code in (303, 400)
    shown = browser.get(f"{car}/journal").text if answer.status_code == 303 else answer.text
    assert text.strip() in html.unescape(shown).replace("\ufffd", "\x00")


def test_long_nickname_is_refused(browser: TestClient) -> None:
    """A nickname stands above every page; one of a megabyte would make each of them one."""
    answer = browser.post("/new", data={"nickname": "x" * 251})
    assert answer.status_code == 400
    assert "The nickname has 251 characters; 250 are the most. Shorten it; the story can be said line by line." in (
        html.unescape(answer.text)
    )


def test_choice_that_is_none_is_said_beside_it(browser: TestClient) -> None:
    """A setting that is chosen, not typed, says its reason too."""
    answer = browser.post("/settings", data={"temperature": "kelvins"})
    assert answer.status_code == 400
    assert "'kelvins' is no unit temperature is shown in." in html.unescape(answer.text)
