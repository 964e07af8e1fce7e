"""Lines said to a workshop: kept, taken back, weighed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import msgspec
import numpy as np
import pytest

from knowngood.app.told_gone import GONE
from knowngood.app.weigh import car_facts
from knowngood.app.workshop import Workshop, moment, restore_copy
from knowngood.errors import Refused
from knowngood.library.load import load
from knowngood.sheets.words import minutes, small


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[Workshop]:
    """An empty one."""
    with Workshop(tmp_path, load()) as opened:
        yield opened


@pytest.fixture
def car(workshop: Workshop) -> str:
    """A six."""
    code = workshop.new("six").code
    workshop.say(code, "6 cylinders inline")
    return code


MISFITS = {
    "4 cylinders": "There is no cylinder 5: the engine has 4.",
    "firing order 1-3-4-2": "Firing order 1-3-4-2 does not name each of the 6 cylinders once.",
}


@pytest.mark.parametrize("line", MISFITS)
def test_line_that_speaks_against_the_plan_is_a_note(workshop: Workshop, car: str, line: str) -> None:
    """It is kept word for word, does not count, and the car can still be weighed."""
    workshop.say(car, "comp 175 172 170 171 170 12 psi")
    before = workshop.answer(car)
    said = workshop.say(car, line)
    assert (said.counts, said.why) == (False, MISFITS[line])
    assert said.ask == f"{MISFITS[line]} Take back what was said before and is not so, then say '{line}' again."
    after = workshop.answer(car)
    assert after.suspects == before.suspects
    assert after.asks[0] == said.ask
    assert [(note.text, note.why) for note in after.not_understood] == [(line, MISFITS[line])]


def test_count_may_be_corrected_before_it_matters(workshop: Workshop, car: str) -> None:
    """Where nothing speaks against it the later word counts."""
    assert workshop.say(car, "4 cylinders").counts
    assert workshop.state(car).layout.cylinders == 4


def test_note_changes_no_advice(workshop: Workshop, car: str) -> None:
    """What does not count moves no chance and no step."""
    workshop.say(car, "comp 175 172 170 171 170 12 psi")
    before = workshop.answer(car)
    workshop.say(car, "frobnicate")
    after = workshop.answer(car)
    assert after.suspects == before.suspects
    assert after.next == before.next
    assert after.asks[0].startswith("'frobnicate': ")


def test_only_the_latest_doubtful_lines_are_asked_about(workshop: Workshop, car: str) -> None:
    """Older ones do not crowd out what else should be asked; all of them stay listed."""
    for word in ("frobnicate", "gazonk", "quux"):
        workshop.say(car, word)
    answer = workshop.answer(car)
    assert [note.text for note in answer.not_understood] == ["frobnicate", "gazonk", "quux"]
    assert not any("frobnicate" in ask for ask in answer.asks)
    assert any("quux" in ask for ask in answer.asks)


def test_answer_is_worked_out_once_for_each_state(tmp_path: Path) -> None:
    """The same again while nothing was said; another after a line; the first, in its words, after its undo."""
    answers: dict[str, object] = {}

    def ask(line: str = "", undo: bool = False) -> object:
        with Workshop(tmp_path, load(), answers=answers) as workshop:  # type: ignore[arg-type]
            code = workshop.jobs()[0].code if workshop.jobs() else workshop.new("van").code
            if line:
                workshop.say(code, line)
            if undo:
                workshop.undo(code)
            return workshop.answer(code)

    first = ask("4 cylinders")
    assert ask() is first
    second = ask("fuel pressure 1 bar")
    assert second is not first
    again = ask(undo=True)
    assert again is not second
    assert msgspec.structs.replace(again, ms=0.0) == msgspec.structs.replace(first, ms=0.0)  # type: ignore[arg-type, type-var]


def test_answer_holds_plain_numbers_only(workshop: Workshop, car: str) -> None:
    """Whatever was said, it can be written as JSON."""
    for line in ("comp 175 172 170 171 170 12 psi", "fuel pressure 1 bar"):
        workshop.say(car, line)
        found = list(arrays_in(workshop.answer(car), "answer"))
        assert found == []


def arrays_in(value: object, where: str) -> Iterator[str]:
    """Where a number is not one of the language's own."""
    if isinstance(value, np.generic | np.ndarray):
        yield f"{where}: {type(value)}"
    elif isinstance(value, msgspec.Struct):
        for name in value.__struct_fields__:
            yield from arrays_in(getattr(value, name), f"{where}.{name}")
    elif isinstance(value, dict):
        for name, one in value.items():
            yield from arrays_in(one, f"{where}.{name}")
    elif isinstance(value, list | tuple):
        for index, one in enumerate(value):
            yield from arrays_in(one, f"{where}[{index}]")


def test_waits_for(workshop: Workshop, car: str) -> None:
    """Nothing said; nothing known; the next step."""
    assert workshop.waits_for(workshop.new("bare").code) == "Nothing said yet."
    assert workshop.waits_for(car) == "Nothing is known to be wrong yet."
    workshop.say(car, "fuel pressure 1 bar")
    step = workshop.answer(car).next[0]
    assert workshop.waits_for(car) == f"Waits for: {small(step.name)}, {minutes(step.minutes)}."
    workshop.say(car, "coil 3 left unplugged")
    assert workshop.waits_for(car) == "Waits to be put right: coil 3 left unplugged."
    for line in ("coil 3 plugged in", "replaced coil 3", "runs well, no shake"):
        workshop.say(car, line)
    assert workshop.waits_for(car) == f"{GONE} Waits to be proved and handed over."


def test_last_unit_and_kind_are_carried_on(workshop: Workshop, car: str) -> None:
    """As in a notes file; what was taken back carries nothing."""
    workshop.say(car, "comp 12 12 11 12 12 12 bar")
    assert "12 12 4 12 12 12 bar" in workshop.say(car, "comp 12 12 4 12 12 12").echo
    workshop.undo(car)
    workshop.undo(car)
    assert "bar, " not in workshop.say(car, "comp 175 172 170 171 170 12").echo


def test_moment_is_written_one_way() -> None:
    """With or without a time of day."""
    assert moment("2026-05-01T09:30") == "2026-05-01T09:30:00.000000Z"
    assert moment("2026-05-01") == "2026-05-01T00:00:00.000000Z"
    assert moment("2026-05-01T09:30+02:00") == "2026-05-01T07:30:00.000000Z"
    with pytest.raises(Refused):
        moment("yesterday")


def test_neutral_trim_told_holds_until_it_is_taken_back(workshop: Workshop, car: str) -> None:
    """It is a line of the car's story: nothing asks again, no line twice, and undone it is an open question again."""
    asked = "Trims of this car: is 0 or 100 neutral?"
    assert workshop.say(car, "lt 112 %").ask == asked
    assert workshop.say(car, "lt 114 %").ask == ""
    assert asked in workshop.answer(car).asks
    told = workshop.say(car, "100 is neutral")
    assert (told.counts, told.echo) == (True, "trims: 100 is neutral")
    assert workshop.say(car, "lt 88 %").ask == ""
    assert asked not in workshop.answer(car).asks
    workshop.undo(car, of=told.entries[0])
    assert asked in workshop.answer(car).asks


def test_line_is_kept_though_the_day_is_not_copied(workshop: Workshop, car: str) -> None:
    """What stands in the way of the copy is told beside it: refused, it would be typed, and counted, twice."""
    copies = workshop.folder / "copies"
    workshop.copies()[0].unlink()
    copies.rmdir()
    copies.write_text("no folder")
    said = workshop.say(car, "battery 12.4 V")
    assert said.counts
    assert said.warning.startswith("Kept, but the copy of this day was not made: ")
    assert said.warning.endswith(" cannot be used: Not a directory. The next line tries again.")
    assert [entry.line for entry in workshop.entries(car)].count("battery 12.4 V") == 1
    copies.unlink()
    assert workshop.say(car, "oil level right").warning == ""
    assert len(workshop.copies()) == 1


def test_copy_of_the_day_holds_what_was_taken_back(workshop: Workshop, car: str, tmp_path: Path) -> None:
    """Restored, an undone line is not back."""
    workshop.say(car, "battery 12.4 V")
    workshop.undo(car)
    restore_copy(workshop.copies()[0], tmp_path / "other")
    with Workshop(tmp_path / "other", workshop.library) as other:
        assert "battery 12.4 V" not in {entry.line for entry in other.entries(car)}


def test_what_was_denied_of_the_car_is_known(workshop: Workshop, car: str) -> None:
    """ "No turbo" is told; what was never spoken of is left out."""
    workshop.say(car, "no turbo")
    facts = car_facts(workshop.state(car))
    assert facts["turbo"] is False
    assert facts.keys() == {"nickname", "cylinders", "form", "turbo", "layout"}
