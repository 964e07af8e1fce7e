"""``weigh``: a notes file in, the promised answer out, nothing stored."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from knowngood.app.weigh_form import WeighForm
from knowngood.library.load import load
from tests.unit.cli.terminal import Result, Terminal

NOTES = """\
petrol
6 cylinders inline, coil on plug, port injection, flow meter, 187000 km
stood 2 years behind a barn
# a line that starts so is passed over

battery 12.5 rested, 10.9 cranking
P0302 stored, P0171 stored
comp 172 170 175 171 168 173 psi
lt b1 +19 idle, +4 2500
frobnicate the gazonk
"""
FORM = {
    "": [
        "car",
        "understood",
        "not_understood",
        "version",
        "suspects",
        "unlisted",
        "exact",
        "error_bound",
        "next",
        "asks",
        "library",
        "ms",
    ],
    "understood": ["line", "text", "entries"],
    "not_understood": ["line", "text", "why"],
    "suspects": ["fault", "name", "part", "chance", "places", "because"],
    "places": ["place", "chance"],
    "because": ["line", "weight"],
    "next": ["do", "what", "id", "name", "place", "minutes", "money", "why", "answers", "cautions"],
    "answers": ["answer", "chance", "then"],
}
"""Every field of ``weigh --json``, in its order."""


@pytest.fixture(scope="module")
def answered(tmp_path_factory: pytest.TempPathFactory) -> Result:
    """The notes as JSON."""
    folder = tmp_path_factory.mktemp("notes")
    (folder / "notes.txt").write_text(NOTES, encoding="utf-8")
    result = Terminal(folder / "home").done("weigh", "--json", str(folder / "notes.txt"))
    assert not (folder / "home").exists(), "nothing is stored"
    return result


def test_answer_has_every_promised_field(answered: Result) -> None:
    """Field names are part of the promise."""
    answer = answered.json
    assert list(answer) == FORM[""]
    for name in ("understood", "not_understood", "suspects", "next"):
        assert answer[name]
        assert all(list(row) == FORM[name] for row in answer[name]), name
    for inner, rows in (("places", "suspects"), ("because", "suspects"), ("answers", "next")):
        assert all(list(one) == FORM[inner] for row in answer[rows] for one in row[inner]), inner
    msgspec.convert(answer, WeighForm, strict=True)
    assert answer["version"] == 1
    assert answer["exact"] in (True, False)
    assert 0 <= answer["error_bound"] < 1
    assert 0 < answer["unlisted"] < 1
    assert answer["ms"] > 0
    assert len(answer["library"]) == 64


def test_rich_notes_give_ten_suspects_and_five_steps(answered: Result) -> None:
    """Enough to choose from, each with its reasons."""
    answer = answered.json
    assert len(answer["suspects"]) >= 10
    assert len(answer["next"]) >= 5
    assert all(0 <= suspect["chance"] <= 1 and suspect["places"] for suspect in answer["suspects"])
    library = load()
    known = {*library.checks, *library.parts}
    assert [step["id"] for step in answer["next"] if step["id"].removeprefix("swap_") not in known] == []
    assert all(step["minutes"] > 0 and step["why"] for step in answer["next"])


def test_lines_are_numbered_as_in_the_file(answered: Result) -> None:
    """Reasons and notes point at lines of the file as an editor counts them, comments and blank lines included."""
    lines = NOTES.splitlines()
    answer = answered.json
    for line in answer["understood"]:
        assert lines[line["line"] - 1] == line["text"]
    for suspect in answer["suspects"]:
        for because in suspect["because"]:
            assert lines[because["line"] - 1].strip()
    assert [(line["line"], line["text"]) for line in answer["not_understood"]] == [(10, "frobnicate the gazonk")]
    assert answer["not_understood"][0]["why"]
    assert any("frobnicate" in ask for ask in answer["asks"])


def test_car_is_told(answered: Result) -> None:
    """What is known of the car, and the plan of its engine."""
    car = answered.json["car"]
    assert car["cylinders"] == 6
    assert car["layout"]["banks"] == [[1, 2, 3, 4, 5, 6]]
    assert sorted(car["layout"]["firing_order"]) == [1, 2, 3, 4, 5, 6]


def test_same_notes_by_pipe_give_the_same_answer(answered: Result, terminal: Terminal) -> None:
    """``-`` reads what is piped in; a mark at its start and carriage returns change nothing but the time it took."""
    piped = terminal.done("weigh", "-", "--json", piped=b"\xef\xbb\xbf" + NOTES.replace("\n", "\r\n").encode()).json
    assert {**piped, "ms": 0} == {**answered.json, "ms": 0}


def test_words_come_in_80_columns(answered: Result, terminal: Terminal) -> None:
    """Sentence first, suspects, next, questions, and the line that was not understood."""
    text = terminal.done("weigh", "-", piped=NOTES.encode()).out
    assert text.startswith("Most likely: ")
    for heading in ("Suspects", "Next", "Tell me", "Kept as a note, does not count"):
        assert f"\n{heading}\n" in text
    assert answered.json["suspects"][0]["name"] in " ".join(text.split())
    assert 'line 10 "frobnicate the gazonk"' in text
    assert max(map(len, text.splitlines())) <= 80


def test_said_line_by_line_it_comes_to_the_same(answered: Result, terminal: Terminal, tmp_path: Path) -> None:
    """The workshop and the notes file weigh the same lines alike."""
    lines = [line for line in NOTES.splitlines() if line and not line.startswith("#")]
    terminal.done("new", "six", *lines)
    said = terminal.done("suspects", "six", "--json").json
    chances = {one["fault"]: one["chance"] for one in said["suspects"]}
    weighed = {one["fault"]: one["chance"] for one in answered.json["suspects"]}
    both = set(chances) & set(weighed)
    assert len(both) >= 10
    assert {fault: chances[fault] for fault in both} == pytest.approx({fault: weighed[fault] for fault in both})
    assert said["unlisted"] == pytest.approx(answered.json["unlisted"])


def test_empty_notes_say_that_nothing_is_known(terminal: Terminal) -> None:
    """No suspect is made up; the first questions are put."""
    text = terminal.done("weigh", "-").out
    assert text.startswith("Nothing is known to be wrong yet.")
    assert "Nothing to do is known yet." in text
    assert "Petrol only, hybrid, or a gas conversion?" in text
