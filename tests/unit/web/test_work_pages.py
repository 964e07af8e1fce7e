"""Work, what is left, tools, sheets: what they show of what was said."""

from __future__ import annotations

import io
import re
import time
import zipfile
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from knowngood.app.told_gone import GONE
from knowngood.app.tools_view import tools_of
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from tests.unit.web.test_page import words


@pytest.fixture
def worked(browser: TestClient, car: str) -> str:
    """A car on which something was done, is apart, is left undone."""
    for line in ("4 cylinders inline", "engine cover off", "coil 3 left unplugged", "no vacuum gauge"):
        browser.post(f"{car}/say", data={"line": line})
    browser.post(f"{car}/tap", data={"work|replaced|vacuum_hose|engine": "better", "paid": "12,5", "took": "30"})
    return car


def test_work_tells_what_was_done_and_what_it_cost(browser: TestClient, worked: str) -> None:
    """Minutes and money in all; apart now; left undone."""
    text = words(browser.get(f"{worked}/work").text)
    assert "30 min and 12 in parts so far" in text
    assert "replaced vacuum hose: better, 30 min, paid 12" in text
    assert "Apart now Engine cover Back again" in text
    assert "Left as it must not staycoil 3 left unplugged" in text


def test_what_is_apart_goes_back_by_a_tap(browser: TestClient, worked: str) -> None:
    """One after the other, what came off last first, or all of it."""
    browser.post(f"{worked}/tap", data={"access|coil_cover": "off"})
    text = words(browser.get(f"{worked}/work").text)
    assert "Apart now Coils or plug leads Back againEngine cover Back again All of it is back again" in text
    browser.post(f"{worked}/tap", data={"access|coil_cover": "on", "access|engine_cover": "on"})
    assert "Apart now Nothing that was said." in words(browser.get(f"{worked}/work").text)


def test_a_step_says_by_one_tap_that_what_hides_it_is_off(browser: TestClient, car: str) -> None:
    """Then nothing comes off for it any more."""
    for line in ("petrol, 4 cylinders inline, coil on plug, port injection, flow meter", "P0303 now", "shakes"):
        browser.post(f"{car}/say", data={"line": line})
    page = browser.get(car).text
    steps = [None, *re.findall(r'href="(/car/[^"]*\?step=[^"]*)"', page)]
    shown = next(text for step in steps if "is off now" in (text := browser.get(step or car).text))
    fields = re.findall(r'name="(access\|[a-z_]+)" value="off"', shown)
    browser.post(f"{car}/tap", data=dict.fromkeys(fields, "off"))
    assert words(browser.get(f"{car}/work").text).count("Back again") == len(fields)
    step = re.search(r'href="(/car/[^"]*\?step=[^"]*)"', page)
    assert step is not None
    assert not set(fields) & set(re.findall(r'name="(access\|[a-z_]+)"', browser.get(car).text))


def test_a_set_of_plugs_is_one_tap(browser: TestClient, car: str) -> None:
    """All four at once, as one work."""
    for line in ("petrol, 4 cylinders inline, coil on plug, port injection, flow meter", "shakes"):
        browser.post(f"{car}/say", data={"line": line})
    page = browser.get(f"{car}/suspect/plug_worn").text
    assert "Replaced: spark plug, all 4" in words(page)
    field = re.search(r'name="(work\|replaced\|plug\|cylinder 1,[^"]*)"', page)
    assert field is not None
    answer = browser.post(f"{car}/tap", data={field[1]: "no change"})
    assert "Saved: replaced spark plug 1..4, no change." in words(answer.text)


def test_todo_puts_danger_first(browser: TestClient, worked: str) -> None:
    """What was left undone must not wait."""
    text = words(browser.get(f"{worked}/todo").text)
    assert "Must not wait coil 3 left unplugged" in text


def test_tools_by_what_was_said(browser: TestClient, worked: str, folder: Path) -> None:
    """Missing ones first; one tap says that it is back."""
    assert "Vacuum gaugemissing On hand" in words(browser.get(f"{worked}/tools").text)
    browser.post(f"{worked}/tap", data={"tool|vacuum_gauge": "on hand"})
    with Workshop(folder, load()) as workshop:
        views = {view.id: view for view in tools_of(workshop.library, workshop.entries(worked.rsplit("/", 1)[-1]))}
    assert (views["vacuum_gauge"].state, views["vacuum_gauge"].said) == ("on hand", True)
    assert (views["multimeter"].state, views["multimeter"].said) == ("on hand", False)


def test_sheets_are_pages_to_print(browser: TestClient, worked: str) -> None:
    """Each that is listed; one that is none is refused in words."""
    assert "/sheet/arrival" in browser.get(f"{worked}/sheets").text
    answer = browser.get(f"{worked}/sheet/todo")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    refused = browser.get(f"{worked}/sheet/nosuch")
    assert refused.status_code == 400
    assert "There is no sheet 'nosuch'." in words(refused.text)


def test_proof_of_each_repair(browser: TestClient, worked: str) -> None:
    """The verdict, what is still to be read."""
    text = words(browser.get(f"{worked}/proof").text)
    assert "Replaced vacuum hose" in text
    assert "That something of it is still there:" in text


def test_hand_over_copy_is_an_archive(browser: TestClient, worked: str) -> None:
    """With the journal of this car in it."""
    answer = browser.get(f"{worked}/hand-over.zip")
    assert answer.headers["content-type"] == "application/zip"
    with zipfile.ZipFile(io.BytesIO(answer.content)) as archive:
        assert b"coil 3 left unplugged" in archive.read("journal.jsonl")


def test_settings_are_set_by_a_tap_and_honoured(browser: TestClient, worked: str) -> None:
    """The word stands behind money, the unit before what was typed; what cannot be is said beside the field."""
    for name, value in (("currency", "crowns"), ("compression", "bar"), ("night", "yes")):
        assert browser.post("/settings", data={name: value}).status_code == 200
    browser.post(f"{worked}/say", data={"line": "comp 175 172 60 175 psi"})
    assert "30 min and 12 crowns in parts so far" in words(browser.get(f"{worked}/work").text)
    shown = browser.get(f"{worked}/cylinder/3").text
    assert "4.1 bar (60 psi)" in words(shown)
    assert 'class="night"' in shown
    refused = browser.post("/settings", data={"rate": "lots"})
    assert refused.status_code == 400
    assert 'value="40"' in refused.text


def test_number_begins_with_the_unit_of_the_workshop(browser: TestClient, worked: str) -> None:
    """Until one of the kind was read in another unit."""
    first = 'value="bar" checked'
    browser.post("/settings", data={"compression": "bar"})
    assert first in browser.get(f"{worked}/check/compression_row").text
    browser.post(f"{worked}/say", data={"line": "comp 175 172 60 175 psi"})
    assert first not in browser.get(f"{worked}/check/compression_row").text


def test_part_goes_on_by_one_tap(browser: TestClient, worked: str) -> None:
    """Wanted, ordered with price and source, here, fitted at the places that are ticked; sums follow."""
    page = f"{worked}/work"
    browser.post(f"{worked}/say", data={"line": "coil wanted"})
    assert "To be ordered Ignition coil" in words(browser.get(page).text)
    browser.post(f"{worked}/tap", data={"stock|ordered|coil": "yes", "price": "76", "from": "the breaker"})
    shown = words(browser.get(page).text)
    assert "Ordered Ignition coil, 1 day, 76, from the breaker" in shown
    assert "ordered and not here 76" in shown
    browser.post(f"{worked}/tap", data={"stock|arrived|coil": "yes"})
    shown = browser.get(page).text
    assert "Here, to be fitted Ignition coil, 76, from the breaker" in words(shown)
    assert 'name="work|replaced|coil|cylinder 4"' in shown
    browser.post(f"{worked}/tap", data={"work|replaced|coil|cylinder 3": " "})
    shown = words(browser.get(page).text)
    assert "Fitted Ignition coil, 76, from the breaker" in shown
    assert "replaced ignition coil cylinder 3" in shown
    assert "Spent 88 on parts and tools" in shown


def test_part_that_is_none_is_refused(browser: TestClient, worked: str) -> None:
    """In words."""
    answer = browser.post(f"{worked}/tap", data={"stock|ordered|nosuch": "yes"})
    assert answer.status_code == 400
    assert "There is no part 'nosuch', or it cannot be 'ordered'." in words(answer.text)


def test_work_says_when_to_stop(browser: TestClient, worked: str) -> None:
    """Where it costs more to finish than it brings, the sentence stands alone and first."""
    for line in ("worth 100 when done", "no start", "comp 175 172 60 175 psi"):
        browser.post(f"{worked}/say", data={"line": line})
    shown = browser.get(f"{worked}/work").text
    assert '<p class="problem"><strong>Stop here: to finish costs about' in shown
    assert words(shown).count("Stop here") == 1


def test_sheet_comes_as_text_and_as_a_page_too(browser: TestClient, worked: str) -> None:
    """The same words in each form."""
    text = browser.get(f"{worked}/sheet/closing?form=txt")
    page = browser.get(f"{worked}/sheet/closing?form=html")
    assert text.headers["content-type"].startswith("text/plain")
    assert "BEFORE CLOSING" in text.text
    assert page.headers["content-disposition"] == "attachment"
    assert "<h1>Before closing</h1>" in page.text


def test_story_is_told_on_a_page(browser: TestClient, worked: str) -> None:
    """What was put right, the next visit, day by day."""
    text = words(browser.get(f"{worked}/story").text)
    assert "What was put right" in text
    assert "replaced vacuum hose: better; not proved yet." in text
    assert "Next visit" in text
    assert "Day by day" in text


def test_clock_starts_and_stops_by_a_tap(browser: TestClient, worked: str) -> None:
    """One button, its word by how the clock stands."""
    assert "Start the clock" in browser.get(f"{worked}/work").text
    browser.post(f"{worked}/say", data={"line": "clock on"})
    text = words(browser.get(f"{worked}/work").text)
    assert "running" in text
    assert "Stop the clock" in text


def test_todo_shows_what_is_decided_in_order(browser: TestClient, car: str) -> None:
    """A fault that was seen is a repair that is decided; what it takes this way stands below."""
    for line in ("4 cylinders inline, flow meter, port injection", "vacuum hose chewed", "coil plug loose 2"):
        browser.post(f"{car}/say", data={"line": line})
    text = words(browser.get(f"{car}/todo").text)
    assert "What is likely enough to put right now, in this order" in text
    assert "this way" in text


def test_read_again_by_taps(browser: TestClient, car: str) -> None:
    """What was wrong before the repair is asked once more; one tap answers, the page comes back and asks no more."""
    for line in ("4 cylinders inline, coil on plug", "P0302 stored", "shakes at cold idle", "new coil 2"):
        browser.post(f"{car}/say", data={"line": line})
    page = browser.get(f"{car}/proof").text
    assert "Not any more" in page
    assert "None came back" in page
    answer = browser.post(
        f"{car}/tap",
        data={"word|shakes|engine": "no", "when": "cold idle", "back": "proof"},
        follow_redirects=False,
    )
    assert answer.headers["location"].split("?")[0] == f"{car}/proof"
    assert "Not any more" not in browser.get(f"{car}/proof").text
    browser.post(f"{car}/say", data={"line": "no codes", "back": "proof"})
    assert "Read again" not in browser.get(f"{car}/proof").text


@pytest.mark.parametrize(
    ("page", "tap"),
    [
        ("tools", {"tool|vacuum_gauge": "on hand"}),
        ("work", {"stock|wanted|coil": "yes"}),
        ("gates", {"put right|left unplugged|cylinder 3": "yes"}),
    ],
)
def test_page_comes_back_where_one_goes_on(browser: TestClient, worked: str, page: str, tap: dict[str, str]) -> None:
    """After a tap on it, and after the undo beside the echo; a page that is none leads to what next."""
    assert f'name="back" value="{page}"' in browser.get(f"{worked}/{page}").text
    kept = browser.post(f"{worked}/tap", data={**tap, "back": page}, headers={"accept": "application/json"}).json()
    assert kept["to"].split("?")[0] == f"{worked}/{page}"
    undone = browser.post(f"{worked}/undo", data={"of": kept["of"], "back": page}, follow_redirects=False)
    assert undone.headers["location"].split("?")[0] == f"{worked}/{page}"
    other = browser.post(f"{worked}/tap", data={**tap, "back": "//elsewhere.example"}, follow_redirects=False)
    assert other.headers["location"].split("?")[0] == worked


def test_proved_car_leads_to_its_hand_over(browser: TestClient, car: str) -> None:
    """Told to be gone it asks for proof; once every repair is proved, the list and both pages say so and lead on."""
    lines = (
        "4 cylinders inline, coil on plug",
        "shakes at cold idle",
        "P0302 stored",
        "swapped coil 2 and 3, miss moved to 3",
    )
    for line in (*lines, "replaced coil 3, better", "cleared codes", "no codes"):
        browser.post(f"{car}/say", data={"line": line})
    assert "Every repair is proved" not in words(browser.get(f"{car}/proof").text)
    for line in ("no shake at cold idle", "no codes"):
        browser.post(f"{car}/say", data={"line": line})
    until = time.monotonic() + 120.0
    while "Every repair is proved." not in (shown := words(browser.get(car).text)) and time.monotonic() < until:
        time.sleep(0.1)
    assert f"{GONE} Every repair is proved. Hand it over: record and copy" in shown
    assert "Is it proved? The hand-over record" not in shown
    assert "Every repair is proved Hand it over: record and copy" in words(browser.get(f"{car}/proof").text)
    assert f"{GONE} Waits to be handed over." in words(browser.get("/").text)
