"""Measurements on the page: the list, a topic's form, what it comes to, and what of it is kept for a car."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from knowngood.app.measuring import topics
from knowngood.app.measuring_written import KEPT
from knowngood.app.workshop import Workshop
from knowngood.evidence import Note, Reading
from knowngood.library.load import load

PLAN = "4 cylinders inline, distributor, port injection, flow meter"
ROW = {f"cylinder|{place}": text for place, text in enumerate(("172", "170", "60", "175"), start=1)}


def words(text: str) -> str:
    """What a reader sees."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", "", text)).split())


@pytest.fixture
def told(browser: TestClient, car: str) -> str:
    """A car whose engine is known."""
    browser.post(f"{car}/say", data={"line": PLAN})
    return car


def readings(folder: Path) -> list[tuple[str, str, float]]:
    """Kind, place and value of everything measured that is in the journal of the van."""
    with Workshop(folder, load()) as workshop:
        bodies = [entry.body for entry in workshop.entries(workshop.job("van").code)]
    assert not any(isinstance(body, Note) for body in bodies)
    return [
        (body.kind, body.place.name, body.value.number) for body in bodies if isinstance(body, Reading) and body.value
    ]


@pytest.mark.parametrize("of", ["/measure", "car"])
def test_list_leads_to_every_topic(browser: TestClient, car: str, of: str) -> None:
    """Under the headings of the trade, with a car and without; each opens a form."""
    base = f"{car}/measure" if of == "car" else of
    text = browser.get(base).text
    assert re.findall(r"<summary><strong>(.*?)</strong>", text)[:3] == ["Sealing", "Ignition", "Wiring"]
    assert re.findall(rf'href="{base}/([^"]+)"', text) == list(topics())
    for name in topics():
        page = browser.get(f"{base}/{name}")
        assert page.status_code == 200, name
        assert "Work it out" in page.text


def test_list_can_be_searched(browser: TestClient) -> None:
    """Only what the words find; nothing found is said."""
    assert re.findall(r'href="/measure/([^"]+)"', browser.get("/measure?words=tyre").text) == ["tyre"]
    assert "Nothing is called so." in browser.get("/measure?words=xyzzy").text


def test_pages_lead_to_measurements(browser: TestClient, car: str) -> None:
    """From the cars, and from the contents of a car."""
    assert 'href="/measure"' in browser.get("/").text
    assert f'href="{car}/measure"' in browser.get(car).text


def test_joint_is_worked_out(browser: TestClient) -> None:
    """Value with error, verdict against its place and the window, what was understood, formula, source, the rest."""
    query = {"work": "yes", "drop": "420mV", "unit|drop": "V", "current": "105", "unit|current": "A"}
    text = words(
        browser.get(
            "/measure/joint",
            params={**query, "place": "frame to ground post", "window|high": "1", "unit|window": "mohm"},
        ).text
    )
    assert "Resistance: 4.00 ± 0.10 mΩ" in text
    assert "Not as it should be: frame to ground post loses 0.420 ± 0.010 V, 0.1 V is allowed" in text
    assert "Not as it should be: resistance 4.00 ± 0.10 mΩ: over the window by 3 mΩ (the window entered)" in text
    assert "From drop 420 mV; current 105 A; place frame to ground post." in text
    assert "It cannot tell a joint that is good now and bad when hot, wet or shaken." in text
    assert "R = U / I" in text
    assert "420 mV / 105 A = 4 mΩ" in text
    assert "JCGM 100:2008" in text
    assert "Keep it in the journal" not in text


def test_guess_is_shown_and_what_is_unusual_is_questioned(browser: TestClient) -> None:
    """It is kept in the field, worked out, and asked about."""
    text = words(browser.get("/measure/compression", params={"work": "yes", **ROW}).text)
    assert "cylinder 1 172 psi (11.9 bar, unit guessed)" in text
    odd = browser.get("/measure/plug", params={"work": "yes", "plug": "900", "unit|plug": "kohm"}).text
    assert "plug 900 kΩ lies outside what is usual, 0 to 100000 Ω. It is kept; look at the unit again." in words(odd)
    assert 'value="900"' in odd


@pytest.mark.parametrize(
    ("topic", "query", "told"),
    [
        (
            "joint",
            {"drop": "abc", "current": "105"},
            "no number in 'abc'. Type one such as 175, 12.4, ~165, 500+ or 1.5-2, then its unit.",
        ),
        ("joint", {"drop": "0.42"}, "Nothing stands in current. Type it, or tap it."),
        (
            "joint",
            {"drop": "0.42", "current": "5 kg"},
            "'kg' is no unit of current. Units that are: A, mA.",
        ),
        (
            "leaks",
            {"leak|1": "8", "leak|2": "", "leak|3": "7"},
            "Cylinder 2 was left out of the row. Measure it as well, or type one cylinder alone.",
        ),
        (
            "joint",
            {"drop": "0.42", "current": "0.1"},
            "Current is 0.1 A with a standard error of 0.1 A: less than three of them. Measure again with a finer "
            "instrument or a larger value.",
        ),
    ],
)
def test_what_cannot_be_worked_out_stays_typed(
    browser: TestClient, topic: str, query: dict[str, str], told: str
) -> None:
    """The reason once, in the words of the terminal; every field as it was."""
    answer = browser.get(f"/measure/{topic}", params={"work": "yes", **query})
    assert answer.status_code == 400
    assert [words(one) for one in re.findall(r'class="problem"[^>]*>(.*?)</p>', answer.text)] == [told]
    for name, value in query.items():
        assert not value or f'name="{html.escape(name)}" value="{value}"' in answer.text
    assert "Worked out" not in answer.text


def test_no_such_measurement(browser: TestClient, car: str) -> None:
    """The nearest one is offered; a car that is none is said."""
    answer = browser.get(f"{car}/measure/compresion")
    assert answer.status_code == 400
    assert "There is no measurement 'compresion'. Did you mean 'compression'?" in words(answer.text)
    assert browser.get("/car/nosuch/measure").status_code == 400


def test_row_is_kept_and_taken_back(browser: TestClient, told: str, folder: Path) -> None:
    """As readings that count, echoed with undo; one tap strikes them."""
    shown = browser.get(f"{told}/measure/compression", params={"work": "yes", **ROW}).text
    assert "As the line: comp 172 170 60 175" in words(shown)
    kept = browser.post(f"{told}/measure/compression", data=ROW)
    assert "Saved: compression 1..4: 172 170 60 175 psi" in words(kept.text)
    assert ">Undo<" in kept.text
    assert [(kind, place) for kind, place, _ in readings(folder)] == [("compression", str(n)) for n in (1, 2, 3, 4)]
    assert readings(folder)[2][2] == pytest.approx(60 * 6.894757)
    browser.post(f"{told}/undo", data={"of": re.findall(r'name="of" value="([^"]*)"', kept.text)})
    assert readings(folder) == []


def test_kept_once_however_often_it_is_sent(browser: TestClient, told: str, folder: Path) -> None:
    """As every form."""
    form = {**ROW, "sent": "0123456789abcdef01234567", "waited": "60"}
    for _ in range(2):
        browser.post(f"{told}/measure/compression", data=form)
    assert len(readings(folder)) == 4


def test_place_is_asked_where_it_is_not_known(browser: TestClient, told: str, folder: Path) -> None:
    """By keys; without an answer nothing is kept and everything stays."""
    query = {"winding": "0.62", "unit|winding": "ohm"}
    shown = browser.get(f"{told}/measure/coil", params={"work": "yes", **query}).text
    assert "Which cylinder was it?" in words(shown)
    assert re.findall(r'name="at place" value="([^"]+)"', shown) == [f"cylinder {number}" for number in (1, 2, 3, 4)]
    unsaid = browser.post(f"{told}/measure/coil", data=query)
    assert unsaid.status_code == 400
    assert "Which cylinder was it? Tap it, then keep it." in words(unsaid.text)
    assert 'name="winding" value="0.62"' in unsaid.text
    assert readings(folder) == []
    browser.post(f"{told}/measure/coil", data={**query, "at place": "cylinder 3"})
    assert readings(folder) == [("coil_primary", "3", 0.62)]


def test_single_cell_of_a_row_is_kept_for_its_cylinder(browser: TestClient, told: str, folder: Path) -> None:
    """Nothing is asked that the row says."""
    query = {"plug|1": "", "plug|3": ".039", "unit|plug": "in"}
    assert "Which cylinder" not in browser.get(f"{told}/measure/gap", params={"work": "yes", **query}).text
    browser.post(f"{told}/measure/gap", data=query)
    assert readings(folder) == [("plug_gap", "3", pytest.approx(0.9906))]


def test_drop_is_kept_for_its_place(browser: TestClient, told: str, folder: Path) -> None:
    """Where suspects are weighed by it; else it is said why not, and what is."""
    query = {"drop": "0,42", "unit|drop": "V", "current": "30"}
    shown = words(browser.get(f"{told}/measure/joint", params={"work": "yes", **query}).text)
    assert (
        "Not for the journal: joint: a drop without a place is no reading that suspects are weighed by. What is kept: "
        "post to clamp, positive post to starter stud, alternator output line, sensor ground." in shown
    )
    browser.post(f"{told}/measure/joint", data={**query, "place": "alternator output line"})
    assert readings(folder) == [("charge_line_drop", "", 0.42)]


@pytest.mark.parametrize(
    ("name", "query"),
    [("tyre", {"size": "185/70R14"}), ("balance", {f"amount|{place}": "50" for place in (1, 2, 3, 4)})],
)
def test_others_say_that_they_are_not_kept(
    browser: TestClient, car: str, folder: Path, name: str, query: dict[str, str]
) -> None:
    """No button that would only refuse; a form sent all the same keeps nothing."""
    assert name not in KEPT
    shown = browser.get(f"{car}/measure/{name}", params={"work": "yes", **query}).text
    assert "Not for the journal: suspects are not weighed by it." in words(shown)
    assert "Keep it in the journal" not in shown
    assert browser.post(f"{car}/measure/{name}", data=query).status_code == 400
    assert readings(folder) == []


@pytest.mark.parametrize(
    ("check", "leads_to"),
    [
        ("compression_row", "compression"),
        ("drop_ground_measured", None),
        ("plug_gaps_measured", "gap"),
        ("charge_line_measured", "drop?place=alternator%20output%20line"),
        ("drops_cranking", "drop"),
    ],
)
def test_check_leads_to_its_topic(browser: TestClient, told: str, check: str, leads_to: str | None) -> None:
    """One line beside the keys; none where no topic takes its readings."""
    text = browser.get(f"{told}/check/{check}").text
    assert re.findall(r'href="[^"]*/measure/([^"]+)"', text) == ([leads_to] if leads_to else [])


def test_page_heeds_the_unit_settings(browser: TestClient, told: str) -> None:
    """The wanted unit stands beside the field, bare numbers are read in it, results shown in it, verdicts alike."""
    browser.post("/settings", data={"compression": "bar"})
    shown = browser.get(f"{told}/measure/compression").text
    assert re.search(r'<select name="unit\|cylinder".*?<option value="bar" selected>', shown, re.DOTALL)
    text = words(browser.get(f"{told}/measure/compression", params={"work": "yes", **ROW, "unit|cylinder": "psi"}).text)
    assert "Mean: 9.95 ± 0.10 bar (144 psi)" in text
    bare = {"work": "yes", **{f"cylinder|{place}": "11.9" for place in (1, 2, 3, 4)}}
    assert "cylinder 1 11.9 bar (173 psi, unit guessed)" in words(browser.get("/measure/compression", params=bare).text)


def test_several_words_may_be_chosen(browser: TestClient) -> None:
    """Each opening the air was heard at is a key of its own; those chosen stay chosen."""
    query = {"work": "yes", "leak": "40", "where|exhaust": "exhaust", "where|oil filler": "oil filler"}
    shown = browser.get("/measure/heard", params=query).text
    assert "It names: exhaust valve; rings; piston; bore" in words(shown)
    assert re.findall(r'type="checkbox" name="where\|([^"]+)" value="[^"]+" checked', shown) == [
        "exhaust",
        "oil filler",
    ]
    none = browser.get("/measure/heard", params={"work": "yes", "leak": "40"})
    assert "Nothing stands in where. Type it, or tap it." in words(none.text)


def test_own_figures_of_the_car_are_not_asked_again(browser: TestClient, told: str) -> None:
    """Told once, they judge; a window that is typed comes before them."""
    browser.post(f"{told}/say", data={"line": "comp 175 180 172 178 spec 150-190 psi"})
    form = words(browser.get(f"{told}/measure/compression").text)
    assert "Judged by the car's own figures, 150 to 190 psi (10.3 to 13.1 bar), unless others are typed." in form
    shown = words(browser.get(f"{told}/measure/compression", params={"work": "yes", **ROW}).text)
    assert "Not as it should be: cylinder 3 60.0 ± 2.9 psi: under the window by 90 psi" in shown
    assert "(the car's own figures, as told)" in shown
    assert shown.rindex("Not as it should be:") < shown.index("As it should be:")  # the bad ones first
    assert "As it should be: cylinder 1 172.0 ± 2.9 psi: inside the window 150 to 190 psi" in shown
    typed = {"work": "yes", **ROW, "window|low": "40", "unit|window": "psi"}
    shown = words(browser.get(f"{told}/measure/compression", params=typed).text)
    assert "own figures, as told" not in shown
    assert "(the window entered)" in shown
