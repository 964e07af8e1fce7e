"""The page: what it shows, keeps, escapes and refuses."""

from __future__ import annotations

import html
import re
import time
from pathlib import Path
from typing import Any
from unittest import mock

import pytest
from httpx import Headers, Response
from starlette.testclient import TestClient

from knowngood.app.workshop import Workshop
from knowngood.errors import ImpossibleEvidence
from knowngood.library.load import load
from tests.unit.cli.terminal import Terminal

PLAN = "4 cylinders inline, coil on plug"
LOW = "comp 175 172 60 175 psi"


def say(browser: TestClient, car: str, line: str) -> str:
    """Say a line and read the page it leads to."""
    answer = browser.post(f"{car}/say", data={"line": line})
    assert answer.status_code == 200, answer.text
    return words(answer.text)


def words(text: str) -> str:
    """What a reader sees."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", "", text)).split())


def said(browser: TestClient, car: str) -> list[str]:
    """The lines of the journal, the last first."""
    text = browser.get(f"{car.split('?')[0]}/journal").text
    return [words(line) for line in re.findall(r'<li value="\d+"><bdi>(.*?)</bdi>', text, re.DOTALL)]


def test_empty_workshop(browser: TestClient) -> None:
    """No car yet, and the field to begin one."""
    answer = browser.get("/")
    assert answer.status_code == 200
    assert "No car yet." in answer.text
    assert 'name="nickname"' in answer.text


def test_new_car_is_listed(browser: TestClient, car: str) -> None:
    """It leads to its own page, which knows nothing yet and says so."""
    assert f'href="{car}"' in browser.get("/").text
    page = browser.get(car)
    assert page.status_code == 200
    assert "Nothing is known to be wrong yet." in page.text
    assert "Petrol only, hybrid, or a gas conversion?" in page.text


def test_line_said_appears(browser: TestClient, car: str) -> None:
    """Echoed as saved, in the journal, weighed, with the next step on top."""
    say(browser, car, PLAN)
    text = say(browser, car, LOW)
    assert "Saved: compression 1..4: 175 172 60 175 psi, counting order." in text
    assert said(browser, car)[:2] == [LOW, PLAN]
    assert re.search(r"Next .* min", text)
    suspects = words(browser.get(f"{car}/suspects").text)
    assert re.search(r"Most likely .*, cylinder 3: about", suspects)
    assert "Something not in my list" in suspects


def test_page_says_what_the_terminal_says(browser: TestClient, car: str, folder: Path) -> None:
    """One answer, two doors: suspects, next steps with their reason, what the car waits for."""
    say(browser, car, PLAN)
    say(browser, car, LOW)
    terminal, code = Terminal(folder), car.rsplit("/", 1)[-1]
    told = terminal.done("suspects", code, "--json").json
    while "being worked out" in (suspects := words(browser.get(f"{car}/suspects").text)):
        time.sleep(0.05)  # the others follow the leading ones
    assert len(told["suspects"]) > 3
    for suspect in told["suspects"]:
        assert suspect["name"] in suspects
    text = words(browser.get(car).text).lower()
    steps = terminal.done("next", code, "--json").json["next"]
    for step in steps[:5]:
        assert step["name"].lower() in text
    assert steps[0]["why"].lower() in text
    assert waited_for(terminal) in words(browser.get("/").text)
    for line in ("coil 3 left unplugged", "coil 3 plugged in", "replaced coil 3", "runs well, no shake"):
        say(browser, car, line)
        while not car_is_whole(browser, car):
            time.sleep(0.05)  # whether it is proved comes last
        assert waited_for(terminal) in words(browser.get("/").text)


def waited_for(terminal: Terminal) -> str:
    """What the terminal says that the only car waits for."""
    (only,) = terminal.done("cars", "--json").json
    return str(only["waits_for"])


def car_is_whole(browser: TestClient, car: str) -> bool:
    """Whether all that follows the next step is worked out, too."""
    return "being worked out" not in words(browser.get(f"{car}/suspects").text)


def test_answer_to_a_form_is_a_redirect(browser: TestClient, car: str) -> None:
    """So a reload repeats nothing."""
    answer = browser.post(f"{car}/say", data={"line": PLAN}, follow_redirects=False)
    assert answer.status_code == 303
    for _ in range(2):
        assert said(browser, answer.headers["location"]).count(PLAN) == 1


def test_doubtful_line_is_a_note_with_a_question(browser: TestClient, car: str) -> None:
    """It does not count, and the question is put again on the page as it stands."""
    text = say(browser, car, "frobnicate")
    assert "A note, it does not count: nothing in it was understood." in text
    assert "'frobnicate': what was seen, measured or done, and where?" in words(browser.get(car).text)


def test_refused_line_stays_in_the_field(browser: TestClient, car: str) -> None:
    """The same words come back, with the reason beside the field, and nothing is stored."""
    blank = browser.post(f"{car}/say", data={"line": "   "})
    assert blank.status_code == 400
    assert 'value="   "' in blank.text
    assert "The line is empty." in blank.text
    assert 'aria-describedby="problem"' in blank.text
    long = "comp " + "175 " * 1000
    answer = browser.post(f"{car}/say", data={"line": long})
    assert answer.status_code == 400
    assert f'value="{long}"' in answer.text
    assert "The line has 4005 characters; 4000 are the most. Say it in several lines." in words(answer.text)
    assert said(browser, car) == ["van"]


def test_longest_line_comes_back_in_an_address_that_fits(browser: TestClient, car: str) -> None:
    """All of it is kept; its echo is cut, because a server reads no address of any length, but not what it asks."""
    long = "ж" * 4000
    answer = browser.post(f"{car}/say", data={"line": long}, follow_redirects=False)
    assert len(answer.headers["location"]) < 8000
    assert "what was seen, measured or done, and where?" in words(browser.get(answer.headers["location"]).text)
    assert said(browser, answer.headers["location"])[0] == long


def test_crash_keeps_what_was_typed(browser: TestClient, car: str) -> None:
    """A page that says so, with the words on it."""
    with mock.patch("knowngood.app.workshop.read_line", side_effect=ZeroDivisionError("a test's own")):
        answer = browser.post(f"{car}/say", data={"line": "comp 1 <b>"})
    assert answer.status_code == 500
    text = words(answer.text)
    assert "Something went wrong that should not have (ZeroDivisionError). What was said before is on disk." in text
    assert "Look in the journal whether this line is there; if not, send it again, or say it in other words." in text
    assert "What you typed: comp 1 <b>" in text
    log = re.search(r"Log, on the workshop machine: (\S+\.log)", text)
    assert log is not None
    assert "ZeroDivisionError: a test's own" in Path(log[1]).read_text()
    Path(log[1]).unlink()
    assert "Content-Security-Policy" in answer.headers


def test_car_that_cannot_be_weighed_still_has_its_page(browser: TestClient, car: str) -> None:
    """What was said, the field and the way back are there, and the other cars too."""
    trouble = ImpossibleEvidence("No set of faults explains these together: x.", "Strike the one most in doubt.")
    with mock.patch("knowngood.app.workshop.state_of", side_effect=trouble):
        page = browser.post(f"{car}/say", data={"line": PLAN})
        assert page.status_code == 200
        assert "No set of faults explains these together: x. Strike the one most in doubt." in words(page.text)
        assert said(browser, car) == [PLAN, "van"]
        assert 'name="line"' in page.text
        assert "No set of faults explains these together" in words(browser.get("/").text)


def test_step_that_is_gone_is_said(browser: TestClient, car: str) -> None:
    """Another stands in its place, which would be answered for it else; one that is there is shown without a word."""
    say(browser, car, PLAN)
    page = say(browser, car, LOW)
    assert "not among the next ones any more" not in page
    others = re.findall(r'href="[^"]*[?]step=([^"]+)"', browser.get(car).text)
    there = words(browser.get(f"{car}?step={others[0]}").text)
    assert "Instead" in there
    assert "not among the next ones any more" not in there
    gone = words(browser.get(f"{car}?step=nosuch").text)
    assert "The step you went to is not among the next ones any more. Next" in gone


def test_skipping_goes_round(browser: TestClient, car: str, folder: Path) -> None:
    """Each step once, and behind the last the first again."""
    say(browser, car, PLAN)
    say(browser, car, LOW)
    with Workshop(folder, load()) as workshop:
        count = len(workshop.answer(car.rsplit("/", 1)[-1]).next)
    seen, address = [], car
    for _ in range(count + 1):
        text = browser.get(address).text
        found = re.search(r'href="([^"]*[?]step=[^"]+)">Skip: show another step', text)
        assert found is not None
        address = html.unescape(found[1])
        seen.append(address)
    assert len(set(seen)) == count
    assert seen[0] == seen[-1]


HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{ 7*7 }} {% raw %}",
    "' or 1=1; drop table entry; --",
    "a\x01b\x1b[31mc",
    "pump \u202eremoved\u202c on",
    "&lt;b&gt;",
    "../../etc/passwd",
]


@pytest.mark.parametrize("line", HOSTILE)
def test_hostile_line_is_text(browser: TestClient, car: str, line: str) -> None:
    """It is shown letter by letter, in the echo, the question and the journal, and makes nothing of its own."""
    answer = browser.post(f"{car}/say", data={"line": line})
    assert answer.status_code == 200
    assert "<script>" not in answer.text
    assert "<img" not in answer.text
    assert "49" not in said(browser, car)[0]
    assert said(browser, car)[0] == " ".join(line.split())


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_nickname_is_text(browser: TestClient, name: str) -> None:
    """In the title, the heading and the list of cars."""
    page = browser.post("/new", data={"nickname": name})
    assert page.status_code == 200
    assert "<script>" not in page.text
    assert "<img" not in page.text
    assert f"<bdi>{html.escape(name, quote=False)}</bdi></a>" in page.text.replace("&#39;", "'").replace("&#34;", '"')
    assert "<script>" not in browser.get("/").text


def test_hostile_address_is_text(browser: TestClient, car: str) -> None:
    """What stands in the address is shown as text too."""
    text = browser.get(car, params={"echo": "<script>alert(1)</script>"}).text
    assert "<script>" not in text
    assert "&lt;script&gt;" in text


def test_words_that_turn_the_text_stay_by_themselves(browser: TestClient, car: str) -> None:
    """Each typed text stands in a bdi of its own, so that what follows it is not turned round."""
    text = browser.post(f"{car}/say", data={"line": "\u202etrap"}).text
    for place in re.finditer("\u202etrap", text):
        before = text[: place.start()]
        assert before.count("<bdi>") > before.count("</bdi>")


@pytest.mark.parametrize("name", ["evil.example", "evil.example:8765", "127.0.0.1.evil.example", "testserver", ""])
def test_other_host_is_refused(browser: TestClient, name: str) -> None:
    """A name that some other site points at this machine is not answered."""
    answer = browser.get("/", headers={"host": name})
    assert answer.status_code == 421
    assert answer.text == (
        f"This page is not served under the name '{name}'. Open it under the address the program printed.\n"
    )
    assert "Content-Security-Policy" in answer.headers


@pytest.mark.parametrize("name", ["localhost:8765", "127.0.0.1:9000", "127.0.0.1"])
def test_own_names_are_answered(browser: TestClient, name: str) -> None:
    """On any port, as the next free one is taken."""
    assert browser.get("/", headers={"host": name}).status_code == 200


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1:1", "https://evil.example:8765"])
def test_form_of_another_page_is_refused(browser: TestClient, car: str, origin: str) -> None:
    """Nothing another site sends is kept, and the page says so."""
    for path in ("/new", f"{car}/say", f"{car}/undo"):
        answer = browser.post(path, data={"line": PLAN, "nickname": "x"}, headers={"origin": origin})
        assert answer.status_code == 403
        assert "This form was sent from another page. Open it here and type it again." in words(answer.text)
    assert said(browser, car) == ["van"]


def test_form_of_this_page_is_taken(browser: TestClient, car: str) -> None:
    """The origin a browser sends from this very page."""
    answer = browser.post(f"{car}/say", data={"line": PLAN}, headers={"origin": "http://127.0.0.1:8765"})
    assert answer.status_code == 200


def test_addresses_that_are_none(browser: TestClient, car: str) -> None:
    """In words, with a way back."""
    for path in ("/nosuch", "/static/nosuch.css", "/static/../page.py", f"{car}/nosuch"):
        answer = browser.get(path)
        assert answer.status_code == 404
        assert "There is no such page. Go back to the cars." in words(answer.text)
    answer = browser.get(f"{car}/say")
    assert answer.status_code == 405
    assert "This page is not asked in this way. Go back to the cars." in words(answer.text)
    assert browser.post("/").status_code == 405


def test_car_that_is_none(browser: TestClient, car: str) -> None:
    """The cars there are, are named."""
    answer = browser.get("/car/nosuch")
    assert answer.status_code == 400
    assert re.search(r"There is no car 'nosuch' here\. Cars: \w{4} \(van\)\.", words(answer.text))


def test_form_that_is_none(browser: TestClient, car: str) -> None:
    """A damaged form, a file where words belong, far too many fields: refused in words."""
    broken = browser.post(
        f"{car}/say", content=b"--x\r\nnonsense", headers={"content-type": "multipart/form-data; boundary=x"}
    )
    many = browser.post(f"{car}/say", data={f"field{number}": "x" for number in range(250)})
    file = browser.post(f"{car}/say", files={"line": ("a.txt", b"comp")})
    for answer in (broken, many, file):
        assert answer.status_code == 400
    assert "The form could not be read. Go back and send it again." in words(many.text)
    assert said(browser, car) == ["van"]


def answers(browser: TestClient, car: str) -> dict[str, Response]:
    """One of each kind that there is: pages, words for a script, a file, a sheet, a way on, and every refusal."""

    def ask(path: str, method: str = "GET", **how: Any) -> Response:
        return browser.request(method, path, follow_redirects=False, **how)

    return {
        "page": ask("/"),
        "no page": ask("/nosuch"),
        "file": ask("/static/notebook.css"),
        "mark": ask(f"{car}/mark"),
        "saved": ask(f"{car}/say", "POST", data={"line": PLAN}),
        "saved by script": ask(f"{car}/say", "POST", data={"line": PLAN}, headers={"accept": "application/json"}),
        "refused": ask(f"{car}/say", "POST", data={"line": ""}),
        "refused by script": ask(f"{car}/say", "POST", data={"line": ""}, headers={"accept": "application/json"}),
        "sheet": ask(f"{car}/sheet/record?form=txt"),
        "another page's": ask(
            f"{car}/say", "POST", data={"line": PLAN}, headers={"origin": "http://elsewhere.example"}
        ),
        "another host": ask("/", headers={"host": "elsewhere.example"}),
    }


def test_headers_are_strict(browser: TestClient, car: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing may be loaded from elsewhere, framed, guessed or kept; whatever the answer is."""
    met = answers(browser, car)
    monkeypatch.setattr("knowngood.web.cars.Cars._listed", None)
    met["crash"] = browser.get("/")
    statuses = {name: answer.status_code for name, answer in met.items()}
    assert list(statuses.values()) == [200, 404, 200, 200, 303, 200, 400, 400, 200, 403, 421, 500], statuses
    for answer in met.values():
        must_be_strict(answer.headers)


def must_be_strict(headers: Headers) -> None:
    """The headers of one answer."""
    policy = headers["Content-Security-Policy"]
    assert policy.startswith("default-src 'none'; script-src 'self'; connect-src 'self'; style-src 'self';")
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cache-Control"] == "no-store"


def test_damaged_store_is_told(browser: TestClient, car: str, folder: Path) -> None:
    """The file and the way back, on the page."""
    for file in folder.glob("workshop.sqlite*"):
        file.unlink()
    (folder / "workshop.sqlite").write_bytes(b"no database" * 500)
    answer = browser.post(f"{car}/say", data={"line": PLAN})
    assert answer.status_code == 400
    text = words(answer.text)
    assert "cannot be read: file is not a database." in text
    assert "restore the last copy" in text
    assert f"What you typed: {PLAN}" in text
