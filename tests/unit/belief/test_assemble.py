"""From entries to what the belief needs."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.assemble import believe
from knowngood.car import Car, Place, layout_of
from knowngood.evidence import Entry, Reading, Work
from knowngood.library.load import load


@pytest.mark.parametrize("code", ["P0174", "P0308"])
def test_code_of_a_place_the_engine_does_not_have_says_nothing(code: str) -> None:
    """Bank 2 or cylinder 8 of an inline four: kept in the journal, and no chance moves."""
    library, car = load(), Car(cylinders=4, form="inline")
    layout = layout_of(car)
    entry = Entry(id="1", at="2026-01-01", entered="2026-01-01", body=Reading(kind="code", code=code, state="stored"))
    with_code, without = (believe(library, car, layout, entries).chances() for entries in ([entry], []))
    assert np.array_equal(with_code, without)


def missing(number: int, word: str) -> Reading:
    return Reading(kind="miss", place=Place("cylinder", str(number)), word=word)


def swap(effect: str, at: int) -> Work:
    """The coils of 1 and 3, and where it misses now."""
    one, three = Place("cylinder", "1"), Place("cylinder", "3")
    place = Place("cylinder", str(at))
    return Work(do="swapped", part="coil", places=(one,), to=three, effect=effect, effect_at=place)


def code(number: int) -> Reading:
    return Reading(kind="code", code=f"P030{number}", state="stored")


def after_it_missed_at_3(*line: Reading | Work, other_line: Reading | None = None) -> np.ndarray:
    """Chances after 3 missed and 1 did not, then the entries of one line, then one of another line."""
    lines: list[tuple[str, Reading | Work]] = [("first", missing(3, "yes")), ("second", missing(1, "no"))]
    lines += [("the swap", body) for body in line]
    lines += [("later", other_line)] if other_line is not None else []
    entries = [
        Entry(id=str(at), at=f"2026-01-01T10:00:0{at}", entered=f"2026-01-01T10:00:0{at}", line=line, body=body)
        for at, (line, body) in enumerate(lines)
    ]
    car = Car(cylinders=4, form="inline", ignition="coil on plug")
    return believe(load(), car, layout_of(car), entries).chances()


def test_moved_away_from_where_it_missed() -> None:
    """It missed at 3 and not at 1: "moved" with 3 named is away from 3, to 1."""
    assert after_it_missed_at_3(swap("moved", 3)) == pytest.approx(after_it_missed_at_3(swap("moved", 1)))


def test_code_of_the_same_line_says_that_it_stayed() -> None:
    """``coil 1>3, now P0303`` where 3 missed before; no code of another cylinder or line says so."""
    stayed = after_it_missed_at_3(swap("stayed", 3), code(3))
    assert after_it_missed_at_3(swap("moved", 3), code(3)) == pytest.approx(stayed)
    for body in (code(1), missing(3, "yes")):
        assert after_it_missed_at_3(swap("moved", 3), body) == pytest.approx(
            after_it_missed_at_3(swap("moved", 1), body)
        )
    later = after_it_missed_at_3(swap("moved", 3), other_line=code(3))
    assert later == pytest.approx(after_it_missed_at_3(swap("moved", 1), other_line=code(3)))
    assert later != pytest.approx(after_it_missed_at_3(swap("stayed", 3), other_line=code(3)))
