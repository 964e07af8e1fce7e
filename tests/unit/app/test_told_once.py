"""The story and the sheets tell each thing once, in its place, and call nothing a guess that was measured."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.sheets import sheet_of
from knowngood.app.state import State
from knowngood.app.story_view import chapters_of
from knowngood.app.time_line import DID, FOUND, time_line
from knowngood.app.todo import todo_of
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.sheets.as_text import as_text

CAR = "petrol, 4 cylinders inline, coil on plug, port injection, flow meter"
STRAP = ("slow crank", "drop engine to body while cranking 0.9 V", "reseated engine ground strap")
AFTER = ("cranks well", "drop engine to body while cranking 0.05 V")
MENDED = "coil wire cylinder 2 chewed through, repaired coil wire 2"


def told(folder: Path, *lines: str) -> tuple[State, str]:
    """The state after some lines, and its cost sheet."""
    with Workshop(folder, load()) as shop:
        job = shop.new("four").code
        for line in (CAR, *lines):
            assert shop.say(job, line).counts, line
        state = shop.state(job)
        return state, as_text(sheet_of("cost", state, shop.answer(job), "2026-05-01"))


@pytest.mark.parametrize(("lines", "guessed"), [((*STRAP, *AFTER), False), ((*STRAP, AFTER[1]), False), (STRAP, True)])
def test_work_that_readings_bear_out_was_no_suspicion(tmp_path: Path, lines: tuple[str, ...], guessed: bool) -> None:
    """Measured bad before it and good after it, proved or not yet: no guess; until then nothing shows that it was."""
    ((right,), in_vain) = chapters_of(told(tmp_path, *lines)[0])
    assert in_vain == []
    assert right.startswith("on suspicion: ") is guessed
    assert "engine ground strap" in right


def test_line_that_finds_and_mends_is_told_as_both(tmp_path: Path) -> None:
    """What was found stands under found and what was done under done, each once."""
    moments = [one for one in time_line(told(tmp_path, MENDED)[0]) if one.kind in (FOUND, DID)]
    assert [(one.kind, one.words) for one in moments] == [
        (FOUND, MENDED),
        (DID, "repaired wire of the coil cylinder 2"),
    ]


def test_clearing_codes_is_no_work_without_a_time(tmp_path: Path) -> None:
    """It stands on the cost sheet by its name, and is not counted among what nobody timed."""
    _, sheet = told(tmp_path, "P0302 stored", "replaced coil 2", "codes cleared")
    assert "cleared codes" in sheet
    assert "1 of 1 pieces of work have no time noted" in sheet


@pytest.mark.parametrize(
    ("lines", "left"),
    [
        (("heat shield cracked",), True),
        (("heat shield cracked", "replaced coil 2"), True),
        (("heat shield cracked", "repaired heat shield"), False),
        (("heat shield cracked, replaced coil 2",), False),
    ],
)
def test_thing_found_stays_until_it_is_put_right(tmp_path: Path, lines: tuple[str, ...], left: bool) -> None:
    """No fault is listed for it: it stays until its part is worked on, or its own line says what was done."""
    things = [one.what for one in todo_of(told(tmp_path, *lines)[0])]
    assert ("heat shield cracked" in " ".join(things)) is left
