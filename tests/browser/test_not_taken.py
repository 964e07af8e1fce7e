"""What the machine does not take stays in sight with its words, holds nothing up, and is never lost."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from knowngood.library.load import load
from knowngood.web.page import Page
from knowngood.web.pairing import Pairing
from knowngood.web.serving import free_socket
from tests.browser.axe import serious
from tests.browser.being_served import being_served
from tests.browser.hand import LINE, PATIENCE_MS, begin, contents, kept
from tests.browser.rules import MEASURE, broken_rules

pytestmark = pytest.mark.browser

SERVER_FAILS = "Something went wrong that should not have (OSError). What was said before is on disk."


@pytest.fixture
def address(tmp_path: Path) -> Iterator[str]:
    """Of a workshop of its own."""
    with free_socket(22500) as listening, being_served(Page(tmp_path, load()).app(), listening):
        yield f"http://127.0.0.1:{listening.getsockname()[1]}/"


def type_line(page: Any, line: str) -> None:
    """Say a line without waiting for an answer."""
    page.get_by_label(LINE).fill(line)
    page.get_by_role("button", name="Save", exact=True).click()


def not_taken(page: Any) -> Any:
    """What stands there as not taken."""
    return page.get_by_role("region", name="Not taken")


def said(page: Any) -> list[str]:
    """The lines of the journal, the last first."""
    contents(page, "Journal", "Journal")
    return list(page.locator("ol.said li > bdi").all_inner_texts())


def answering(page: Any, status: int, body: str, only: str) -> list[str]:
    """Have forms that say ``only`` answered so, as the machine would; gives the list of what was sent, in order."""
    sent: list[str] = []

    def answer(route: Any) -> None:
        sent.append(route.request.post_data or "")
        if only in sent[-1]:
            route.fulfill(status=status, body=body, content_type="application/json" if body else "text/plain")
        else:
            route.continue_()

    page.route("**/say", answer)
    return sent


@pytest.mark.parametrize(
    ("status", "body", "words"),
    [
        (400, '{"problem": "The form could not be read."}', "The form could not be read."),
        (400, "", "The workshop machine answers 400."),
        (403, '{"problem": "This form was sent from another page."}', "This form was sent from another page."),
        (404, '{"problem": "There is no such page."}', "There is no such page."),
        (413, "", "The workshop machine answers 413."),
    ],
)
def test_refused_for_good_holds_nothing_up(phone: Any, address: str, status: int, body: str, words: str) -> None:
    """The second of three lines is refused: the others are kept, in order; it stands there with the reason."""
    begin(phone, address, "held up")
    phone.context.set_offline(True)
    for line in ("slow crank", "hard start", "shakes at cold idle"):
        type_line(phone, line)
        phone.locator("#waiting li", has_text=line).wait_for()
    sent = answering(phone, status, body, "hard+start")
    phone.get_by_label(LINE).fill("typing on")  # the field is not free: what is refused stays in the list
    with kept(phone):
        phone.context.set_offline(False)
    not_taken(phone).wait_for()
    assert [one.split("&")[0] for one in sent] == ["line=slow+crank", "line=hard+start", "line=shakes+at+cold+idle"]
    assert words in not_taken(phone).inner_text()
    assert "hard start" in not_taken(phone).inner_text()
    assert phone.get_by_label(LINE).input_value() == "typing on"
    assert said(phone) == ["shakes at cold idle", "slow crank", "held up"]
    assert not_taken(phone).count() == 1, "it is in sight on every page"


def test_machine_that_fails_is_tried_three_times(phone: Any, address: str) -> None:
    """A 500 may be the disk's: it is said, tried anew, and given up so that what is behind it goes on."""
    begin(phone, address, "failing")
    sent = answering(phone, 500, f'{{"problem": "{SERVER_FAILS}"}}', "hard+start")
    type_line(phone, "hard start")
    phone.get_by_text("It is tried again.").wait_for()
    assert SERVER_FAILS in phone.locator("#waiting").inner_text()
    with kept(phone):
        type_line(phone, "slow crank")
    phone.wait_for_function("() => document.getElementById('line').value === 'hard start'")
    assert phone.locator("#problem").inner_text() == SERVER_FAILS, (
        "the words stay beside it on the page that is shown since"
    )
    assert [one.split("&")[0] for one in sent] == ["line=hard+start"] * 3 + ["line=slow+crank"]
    assert len({one.split("sent=")[1].split("&")[0] for one in sent[:3]}) == 1, "the same name each time: kept once"
    assert said(phone) == ["slow crank", "failing"]


def refused_once(page: Any, address: str) -> None:
    """A car with one line that was not taken, and another one that was."""
    begin(page, address, "to be decided")
    page.context.set_offline(True)
    for line in ("hard start", "slow crank"):
        type_line(page, line)
        page.locator("#waiting li", has_text=line).wait_for()
    answering(page, 404, '{"problem": "There is no such page."}', "hard+start")
    page.get_by_label(LINE).fill("x")
    with kept(page):
        page.context.set_offline(False)
    not_taken(page).wait_for()
    page.get_by_label(LINE).fill("")
    page.unroute("**/say")


def test_not_taken_is_sent_again(phone: Any, address: str) -> None:
    """It goes out once, with its own time, and leaves the list; a reload before that keeps it."""
    refused_once(phone, address)
    phone.reload()
    not_taken(phone).wait_for()
    with kept(phone):
        phone.get_by_role("button", name="Send it again").click()
    not_taken(phone).wait_for(state="detached")
    assert sorted(said(phone)) == ["hard start", "slow crank", "to be decided"]


def test_not_taken_is_opened_again(phone: Any, address: str) -> None:
    """It stands in its field to be mended; what is saved then stands for it; other words in the field are left."""
    refused_once(phone, address)
    phone.get_by_label(LINE).fill("something else")
    phone.get_by_role("button", name="Open it again").click()
    phone.get_by_text("Something else stands in its form: something else.").wait_for()
    assert phone.get_by_label(LINE).input_value() == "something else"
    phone.get_by_label(LINE).fill("")
    phone.get_by_role("button", name="Open it again").click()
    phone.wait_for_function("() => document.getElementById('line').value === 'hard start'")
    assert not_taken(phone).count() == 1, "not lost until it is saved"
    phone.get_by_label(LINE).fill("hard start cold")
    with kept(phone):
        phone.get_by_role("button", name="Save", exact=True).click()
    not_taken(phone).wait_for(state="detached")
    assert said(phone)[0] == "hard start cold"


def test_not_taken_is_put_away_and_brought_back(phone: Any, address: str) -> None:
    """Undo instead of are you sure."""
    refused_once(phone, address)
    phone.get_by_role("button", name="Put it away").click()
    not_taken(phone).wait_for(state="detached")
    phone.get_by_role("button", name="Bring it back").click()
    not_taken(phone).wait_for()
    assert "hard start" in not_taken(phone).inner_text()
    phone.get_by_role("button", name="Put it away").click()
    contents(phone, "Journal", "Journal")
    phone.reload()
    assert not_taken(phone).count() == 0


def test_line_stays_with_its_own_car(phone: Any, address: str) -> None:
    """Refused while another car is on the screen: that car's field stays empty, the list says of which car it was."""
    begin(phone, address, "other car")
    other = phone.url.split("?")[0]
    begin(phone, address, "own car")
    phone.context.set_offline(True)
    type_line(phone, "hard start")
    phone.locator("#waiting li").wait_for()
    phone.evaluate("path => Pages.show(path)", other.removeprefix(address.rstrip("/")))
    phone.get_by_role("link", name="other car").wait_for()
    assert phone.locator("#waiting li").inner_text() == "own car: hard start"
    answering(phone, 400, '{"problem": "Not so."}', "hard+start")
    phone.context.set_offline(False)
    not_taken(phone).wait_for()
    assert phone.get_by_label(LINE).input_value() == ""
    assert "own car: hard start" in not_taken(phone).inner_text()
    phone.unroute("**/say")
    phone.get_by_role("button", name="Open it again").click()
    phone.wait_for_function("() => document.getElementById('line').value === 'hard start'")
    assert phone.locator("header .nickname").inner_text() == "own car"


def test_session_over_leads_to_pairing_and_goes_on(phone: Any, tmp_path: Path) -> None:
    """What was typed after the session ran out waits, the way to the code stands beside it, and then it goes out."""
    clock = {"s": 0.0}
    pairing = Pairing("48151623", lambda: clock["s"])
    with free_socket(22600) as listening:
        app = Page(tmp_path, load(), hosts=("localhost",), pairing=pairing).app()
        # the loopback needs no code: the page is told that its asker is elsewhere
        with being_served(elsewhere(app), listening):
            address = f"http://localhost:{listening.getsockname()[1]}/"
            phone.goto(address)
            pair(phone)
            begin(phone, address, "long day")
            clock["s"] += 13 * 3600.0
            type_line(phone, "slow crank")
            phone.get_by_role("link", name="Pair this screen").wait_for()
            assert "This screen is not paired any more. Not saved yet" in phone.locator("#waiting").inner_text()
            phone.get_by_role("navigation", name="Contents").get_by_role("link", name="The engine").click()
            phone.get_by_label("Code").wait_for()
            assert phone.url == f"{address}pair", "led there from any page"
            kept_pages = phone.evaluate("() => Object.entries(Pages.kept())")
            assert kept_pages
            assert [path for path, page in kept_pages if "Pair this screen" in page["text"]] == []
            assert phone.locator("#waiting li").inner_text() == "long day: slow crank"
            asked: list[str] = []
            phone.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
            pair(phone)
            phone.get_by_role("heading", name="The engine", exact=True).wait_for(timeout=PATIENCE_MS)
            assert phone.url.endswith("/engine"), "where the hand wanted to go"
            phone.wait_for_function("() => Outbox.all().length === 0", timeout=PATIENCE_MS)
            assert asked == []
            assert said(phone) == ["slow crank", "long day"]


def pair(page: Any) -> None:
    page.get_by_label("Code").fill("48151623")
    with page.expect_navigation():
        page.get_by_role("button", name="Pair").click()


def elsewhere(app: Any) -> Any:
    """The same page, asked as if from another machine."""

    async def asked(scope: Any, receive: Any, send: Any) -> None:
        await app({**scope, "client": ("192.0.2.20", 50000)}, receive, send)

    return asked


def test_several_not_taken_leave_the_next_step_near(phone: Any, address: str) -> None:
    """The oldest stands in sight, the others behind it; each is decided by itself; all fit for dirty hands."""
    begin(phone, address, "several")
    phone.context.set_offline(True)
    for line in ("first", "second", "third"):
        type_line(phone, line)
        phone.locator("#waiting li", has_text=line).wait_for()
    phone.get_by_label(LINE).fill("x")
    answering(phone, 404, '{"problem": "There is no such page."}', "line=")
    phone.context.set_offline(False)
    phone.get_by_text("Not taken, too: 2 more").wait_for()
    shown = not_taken(phone).first
    assert "first" in shown.inner_text()
    assert not_taken(phone).count() == 1
    phone.get_by_text("Not taken, too: 2 more").click()
    assert not_taken(phone).count() == 3
    assert broken_rules(phone.evaluate(MEASURE)) == []
    assert serious(phone) == []
    phone.get_by_role("button", name="Put it away").first.click()
    phone.get_by_text("Not taken, too: 1 more").wait_for()
    assert not_taken(phone).count() == 2, "still open"
    assert "second" in shown.inner_text()
