"""One car, told by an unhelpful hand: every answer word for word, and nothing typed is lost."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.unit.cli.terminal import Terminal

CAR = "8 cylinders V, coil on plug, port injection, about 2003"
WHICH = "which one is it, or how many cylinders has the engine?"
LINES = {
    "comp 9 120 psi": ("there is no cylinder 9: the engine has 8", f"There is no cylinder 9 of 8: {WHICH}"),
    "coil 9 swapped with 1": ("there is no cylinder 9: the engine has 8", f"There is no cylinder 9 of 8: {WHICH}"),
    "P0309": ("there is no cylinder 9: the engine has 8", f"There is no cylinder 9 of 8: {WHICH}"),
    "P9999": (
        "there is no code P9999: behind the letter stands 0, 1, 2 or 3",
        "P9999: which code does the reader show?",
    ),
    "frobnicate the gazonk": (
        "nothing in it was understood",
        "'frobnicate the gazonk': what was seen, measured or done, and where?",
    ),
    "comp 3 9000 psi": (
        "9000 psi is outside the usual 0 to 304.6 psi; decimal point slipped (90)?",
        "compression of cylinder 3: 9000 psi is outside the usual 0 to 304.6 psi; decimal point slipped (90)? "
        "Really so?",
    ),
    "battery -12": (
        "-12 V is outside the usual 0 to 18 V; a digit too many, or another kind of reading?",
        "battery rested: -12 V is outside the usual 0 to 18 V; a digit too many, or another kind of reading? "
        "Really so?",
    ),
    "comp 175 180 60 175 170 171 172 173 174": (
        "9 numbers for 8 cylinders",
        "175 180 60 175 170 171 172 173 174: which is which of the 8 cylinders?",
    ),
    "!!! ???": ("it says nothing by itself", "'!!! ???': what was seen, measured or done, and where?"),
    '<b>bold</b> & "zzz"': (
        "nothing in it was understood",
        "'<b>bold</b> & \"zzz\"': what was seen, measured or done, and where?",
    ),
}


@pytest.mark.parametrize("line", LINES)
def test_line_is_kept_and_one_question_is_put(line: str) -> None:
    """In a notes file: the words as typed, why they do not count, what to answer."""
    terminal = Terminal(Path("nowhere"))
    answer = terminal.done("weigh", "--json", "--all", "-", piped=f"{CAR}\n{line}\n".encode()).json
    why, ask = LINES[line]
    assert [(one["line"], one["text"], one["why"]) for one in answer["not_understood"]] == [(2, line, why)]
    assert ask in answer["asks"]


def test_nothing_typed_is_lost_and_nothing_kept_counts(tmp_path: Path) -> None:
    """After all of it the journal holds every line as typed, and the chances are those of the car alone."""
    terminal = Terminal(tmp_path / "home")
    terminal.done("new", "van", CAR)
    before = terminal.done("suspects", "van", "--json").json
    long = "it " + "really " * 400 + "frobnicates"
    for line in [*LINES, long]:
        terminal.done("say", "van", "--", line)
    held = [json.loads(row).get("line") for row in terminal.done("export").out.splitlines()]
    assert [line for line in [*LINES, long] if line not in held] == []
    assert terminal.done("suspects", "van", "--json").json == before


def test_readings_that_contradict_are_both_kept_in_a_notes_file() -> None:
    """Neither is averaged or dropped; which is right is asked first."""
    told = f"{CAR.replace('coil on plug', 'coil and lead')}\nlead 3 5k\nlead 3 25k\n"
    answer = Terminal(Path("nowhere")).done("weigh", "--json", "-", piped=told.encode()).json
    assert [one["text"] for one in answer["understood"]][1:] == ["lead 3 5k", "lead 3 25k"]
    assert answer["asks"][0] == (
        '"lead 3 5k" and "lead 3 25k" do not agree on resistance of the spark plug lead, cylinder 3. '
        "Which is right? Take the other back."
    )


def test_row_tells_a_count_that_is_asked_about() -> None:
    """A car of which nothing is known but four numbers has four cylinders, perhaps."""
    answer = Terminal(Path("nowhere")).done("weigh", "--json", "-", piped=b"comp 175 180 60 175\n").json
    assert answer["car"]["cylinders"] == 4
    assert "4 numbers: has the engine 4 cylinders?" in answer["asks"]
