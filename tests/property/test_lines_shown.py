"""What the program shows of a reading by word, it reads back as that reading: parse(show(x)) == x."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowngood.app.bench import say_of
from knowngood.car import ENGINE, Car, Place
from knowngood.evidence import Reading, Value
from knowngood.library import load
from knowngood.library.records import MODIFIERS, REGIMES, ReadingKind
from knowngood.lines import read_line
from knowngood.lines.echo import echo_of
from knowngood.units import kinds

LIBRARY = load()
CAR = Car(cylinders=6, form="V", ignition="coil on plug")
WHERE = {
    "engine": ENGINE,
    "cylinder": Place("cylinder", "3"),
    "bank": Place("bank", "2"),
    "pair": Place("pair", "1-2"),
    "companions": Place("companions", "1-4"),
    "leads": Place("leads", "1-3"),
}
BY_WORD = [(kind, word) for kind in LIBRARY.readings.values() for word in kind.words]


def bodies_of(line: str) -> tuple[object, ...]:
    understood = read_line(line, CAR, LIBRARY)
    assert not understood.asks, understood.asks
    return understood.bodies


def at(place: Place) -> str:
    return "" if place == ENGINE else f", {place}"


def names_of(kind: ReadingKind) -> set[str]:
    """Names the program shows a reading by: of what to type at a gate, of the reading, of a check of it alone."""
    first = kind.says[0] if kind.says else kind.name
    alone = (check.name for check in LIBRARY.checks.values() if check.reads == (kind.id,))
    return {first, kind.name, kind.id.replace("_", " "), *alone}


def test_every_reading_and_word_is_covered() -> None:
    """The library has no reading by word that the checks below pass over."""
    assert len({kind.id for kind, _ in BY_WORD}) > 300
    assert {kind.place for kind, _ in BY_WORD} <= set(WHERE)


def test_every_word_under_every_name_reads_back() -> None:
    """``shakes: no``, ``plug look, cylinder 3: oily``: that reading, that word, that place."""
    heard = {}
    for kind, word in BY_WORD:
        reading = Reading(kind=kind.id, place=WHERE[kind.place], word=word)
        for name in names_of(kind):
            line = f"{name}{at(reading.place)}: {word}"
            if bodies_of(line) != (reading,):
                heard[line] = bodies_of(line)
    assert not heard


def test_every_echo_reads_back() -> None:
    """The echo of a reading, typed again, is that reading."""
    for kind, word in BY_WORD:
        reading = Reading(kind=kind.id, place=WHERE[kind.place], word=word)
        line = echo_of([reading], LIBRARY, ())
        assert bodies_of(line) == (reading,), line


def test_every_gate_word_reads_back() -> None:
    """What a gate says to type is heard as that look, made and good."""
    for gate in LIBRARY.gates.values():
        for look in gate.looks:
            kind = LIBRARY.readings[look]
            assert bodies_of(say_of(kind)) == (Reading(kind=kind.id, word=kind.words[0]),), say_of(kind)


conditions = st.tuples(
    st.sampled_from(["", *REGIMES]), st.lists(st.sampled_from(MODIFIERS), unique=True, max_size=2).map(sorted)
).map(lambda told: tuple(name for name in (told[0], *told[1]) if name))


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(BY_WORD), conditions), min_size=1, max_size=3))
def test_several_readings_with_conditions_read_back(
    told: list[tuple[tuple[ReadingKind, str], tuple[str, ...]]],
) -> None:
    """An echo of several readings under conditions, in any order of kinds."""
    readings = [
        Reading(kind=kind.id, place=WHERE[kind.place], word=word, conditions=under) for (kind, word), under in told
    ]
    pieces = [echo_of([reading], LIBRARY, ()) for reading in readings]
    assert bodies_of("; ".join(pieces)) == tuple(readings)


def test_row_is_read_at_every_place() -> None:
    """Places that the echo says together are read one by one."""
    row = tuple(Reading(kind="plug_look", place=Place("cylinder", str(n)), word="oily") for n in range(1, 7))
    assert echo_of(row, LIBRARY, ()) == "plug look 1..6: oily"
    assert bodies_of("plug look 1..6: oily") == row
    assert bodies_of("plug look 1 3: oily") == (row[0], row[2])


@pytest.mark.parametrize("line", ["plug look 9: oily", "plug look: oily"])
def test_place_that_is_not_there_is_asked_for(line: str) -> None:
    """A cylinder the engine does not have, or none at all, is no reading that counts."""
    understood = read_line(line, CAR, LIBRARY)
    assert understood.asks
    assert all(getattr(body, "doubt", "note") for body in understood.bodies)


def ordinary_value(kind: ReadingKind) -> float:
    """A value of a healthy car, base unit: the middle of what the library says, else of the kind's usual span."""
    if kind.healthy is not None:
        return (kind.healthy.low * kind.healthy.high) ** 0.5
    well = next(iter(kind.spread.values()), None)
    if well is not None and well.at is not None:
        return well.at
    if well is not None and well.low is not None and well.high is not None:
        return (well.low + well.high) / 2
    return kind.offset


def test_every_number_reads_back() -> None:
    """The echo of a reading with a number: that reading, that place, that number."""
    heard = {}
    for kind in LIBRARY.readings.values():
        if kind.quantity not in kinds():
            continue
        base = kinds()[kind.quantity]
        value = Value(float(f"{ordinary_value(kind):.3g}"), unit=base.units[base.base].name)
        line = echo_of([Reading(kind=kind.id, place=WHERE[kind.place], value=value)], LIBRARY, ())
        body = read_line(line, CAR, LIBRARY).bodies[0]
        same = isinstance(body, Reading) and (body.kind, body.place) == (kind.id, WHERE[kind.place])
        if not same or body.value is None or abs(body.value.number - value.number) > 1e-2 * abs(value.number) + 1e-9:
            heard[line] = body
    assert not heard


def test_row_of_numbers_reads_back() -> None:
    """``compression 1..6: ...`` and a part of the row."""
    row = [
        Reading(kind="compression", place=Place("cylinder", str(n)), value=Value(1000.0 + n, unit="kPa"))
        for n in range(1, 7)
    ]
    for readings in (row, [row[0], row[3]]):
        line = echo_of(readings, LIBRARY, ())
        bodies = [body for body in read_line(line, CAR, LIBRARY).bodies if isinstance(body, Reading)]
        assert [(b.place, b.value and b.value.number) for b in bodies] == [
            (b.place, b.value and b.value.number) for b in readings
        ], line
