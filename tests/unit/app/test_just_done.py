"""A step that was just answered is not offered again; one that is not advised any more can still be answered."""

from __future__ import annotations

from knowngood.app.answer import Asked, NextStep
from knowngood.app.check_step import step_of_key
from knowngood.app.just_done import just_done
from knowngood.app.taps import read_taps
from knowngood.car import Car, layout_of
from knowngood.library.load import load

LIBRARY = load()
SIX = layout_of(Car(cylinders=6))


def step(do: str, what: str, place: str, *reads: Asked) -> NextStep:
    """A step as the answer gives it."""
    return NextStep(
        do=do, what=what, name=what, place=place, minutes=1, money=0, cost=0, why="", answers=[], cautions=[],
        reads=list(reads),
    )  # fmt: skip


def tapped(field: str, value: str) -> tuple[object, ...]:
    """What one tap enters."""
    return read_taps(LIBRARY, [(field, value)]).bodies


def test_reading_answers_the_step_that_takes_it() -> None:
    """At its own place, and at no other."""
    asks = step("look", "plug_look", "cylinder 3", Asked("injector_pulse", "cylinder 3"))
    assert just_done(asks, tapped("word|injector_pulse|cylinder 3", "none"))  # type: ignore[arg-type]
    assert not just_done(asks, tapped("word|injector_pulse|cylinder 2", "none"))  # type: ignore[arg-type]
    assert not just_done(asks, ())


def test_work_answers_the_step_it_is() -> None:
    """The same part at the same place, done the same way."""
    asks = step("replace", "coil", "cylinder 3")
    assert just_done(asks, tapped("work|replaced|coil|cylinder 3", ""))  # type: ignore[arg-type]
    assert not just_done(asks, tapped("work|replaced|coil|cylinder 2", ""))  # type: ignore[arg-type]
    assert not just_done(asks, tapped("work|reseated|coil|cylinder 3", ""))  # type: ignore[arg-type]


def test_key_names_a_check_and_its_place() -> None:
    """A page left open can be answered when other steps are advised by now."""
    whole = step_of_key(LIBRARY, SIX, "measure compression_row engine")
    assert whole is not None
    assert len(whole.reads) == 6
    check = next(check for check in LIBRARY.checks.values() if LIBRARY.readings[check.reads[0]].place == "cylinder")
    one = step_of_key(LIBRARY, SIX, f"look {check.id} cylinder 3")
    assert one is not None
    assert {asked.place for asked in one.reads} == {"cylinder 3"}
    assert step_of_key(LIBRARY, SIX, "replace coil cylinder 3") is None
