"""What must hold of every line: rows read whole, dress does not matter, nothing typed is lost, nothing is raised."""

from __future__ import annotations

import re

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowngood.car import Car
from knowngood.errors import Refused
from knowngood.evidence import Reading, Value
from knowngood.lines import read_line, read_notes
from knowngood.units import kinds
from tests.unit.lines.said import said
from tests.unit.lines.small_library import LIBRARY

FULLWIDTH = str.maketrans(
    "0123456789abcdefghijklmnopqrstuvwxyz", "０１２３４５６７８９ａｂｃｄｅｆｇｈｉｊｋｌｍｎｏｐｑｒｓｔｕｖｗｘｙｚ"
)
TRADE = """
comp leads c5 cyl 3 # - / , ; : > -> + ~ % psi bar k kohm V A g/s rpm idle cold hot 2500 P0304 304 code stored
swapped replaced new coil plug injector 2 and 4 all no change better moved miss wet with fuel unplug drops off
none zero 12,4 0.9 175 1.3 about over spec should be 3 after ten seconds then but the rest except at in on
shakes will not start misfire hose chewed lead open think head gasket done last: lt b1 st fuel battery . ! ( ) '
bank 1 left both l2 no. needle to red ２ ｋΩ é 漢 ∞ 100000 1e9 -5 .5 5. 12.x one two seven between up
"""
WORDS = TRADE.split()
DRESSED = [
    "comp 172 170 175 168",
    "c3 lead 3.1k",
    "p0304 stored, p0300 pending",
    "coil 4>2 miss moved",
    "new plugs all, no change",
    "lt b1 +18 idle, +4 2500",
    "battery 12.1 rested, 9.4 cranking",
    "unplug inj 4, no change; unplug inj 2, drops",
    "plug 4 wet with fuel, well full of oil",
    "leakdown 1 8 %, 2 9, 3 7, 4 11",
]
CARS = st.sampled_from(
    [Car(), Car(cylinders=4), Car(cylinders=6, form="V"), Car(cylinders=1), Car(cylinders=12, form="V")]
)


@given(
    st.lists(st.integers(100, 230), min_size=3, max_size=12),
    st.sampled_from([" ", ", ", " / ", "-", "/", ","]),
)
def test_row_of_n_numbers_reads_to_n_readings(numbers: list[int], separator: str) -> None:
    """As many numbers as cylinders are cylinders 1 to n in counting order, whatever stands between them."""
    understood = read_line("comp " + separator.join(map(str, numbers)), Car(cylinders=len(numbers)), LIBRARY)
    readings = [body for body in understood.bodies if isinstance(body, Reading)]
    assert [reading.place.name for reading in readings] == [str(n) for n in range(1, len(numbers) + 1)]
    assert [round(reading.value.number / 6.894757293168361) for reading in readings if reading.value] == numbers
    assert not understood.left


@given(st.lists(st.integers(100, 230), min_size=1, max_size=5), st.integers(1, 6))
def test_fewer_numbers_than_cylinders_are_never_zeros(numbers: list[int], more: int) -> None:
    """The rest is not measured."""
    count = len(numbers) + more
    understood = read_line("comp " + " ".join(map(str, numbers)), Car(cylinders=count), LIBRARY)
    readings = [body for body in understood.bodies if isinstance(body, Reading)]
    assert len(readings) == (len(numbers) if len(numbers) > 1 else 0)
    assert all(reading.value is not None and reading.value.number > 0 for reading in readings)


@given(st.lists(st.decimals("9.0", "14.9", places=1), min_size=3, max_size=8))
def test_decimal_commas_read_as_points(numbers: list[object]) -> None:
    """A row with decimal commas says the same as with points."""
    car = Car(cylinders=len(numbers))
    row = " ".join(map(str, numbers))
    assert said(f"comp {row} bar", car) == said(f"comp {row.replace('.', ',')} bar", car)


@given(st.sampled_from(DRESSED), st.booleans(), st.booleans(), st.integers(1, 3))
def test_dress_does_not_matter(line: str, upper: bool, wide: bool, blanks: int) -> None:
    """Case, fullwidth signs and blanks say nothing."""
    dressed = line.upper() if upper else line
    dressed = dressed.lower().translate(FULLWIDTH) if wide else dressed
    dressed = "  " + dressed.replace(" ", " " * blanks) + " "
    car = Car(cylinders=4, ignition="coil on plug")
    plain = said(line, car)
    again = said(dressed, car)
    words = re.compile(r"(undone|note): .*")
    assert [words.sub("", text) for text in again] == [words.sub("", text) for text in plain]


@settings(max_examples=300)
@given(st.text(max_size=60), CARS)
def test_any_text_is_read_or_refused_when_empty(text: str, car: Car) -> None:
    """Nothing is raised but the refusal of an empty line."""
    if not text.strip():
        with pytest.raises(Refused):
            read_line(text, car, LIBRARY)
        return
    try:
        understood = read_line(text, car, LIBRARY)
    except Refused as refused:
        assert "The line is empty" in str(refused)
        return
    assert understood.bodies
    assert len(understood.asks) <= 1


def _typed(value: Value) -> list[float]:
    """The numbers of a value in the unit it was typed in, whatever kind that is a unit of; trims on both scales."""
    units = [kind.units[value.unit] for kind in kinds().values() if value.unit in kind.units]
    ends = [end for end in (value.number, value.low, value.high) if end is not None]
    numbers = [unit.from_base(end) for unit in units for end in ends] + ends
    return numbers + [number + 100 for number in numbers if value.unit == "percent"]


def _numbers_lost(line: str, car: Car) -> list[str]:
    """Numbers of a line that are neither in an entry, nor in its words, nor left."""
    understood = read_line(line, car, LIBRARY)
    kept = " ".join(understood.left)
    values: list[float] = []
    for body in understood.bodies:
        if isinstance(body, Reading) and body.value is not None:
            values += _typed(body.value)
            body = msgspec.structs.replace(body, value=None)
        kept += " " + msgspec.json.encode(body).decode()
    return [
        number
        for number in re.findall(r"\d+(?:[.,]\d+)?|[.,]\d+", line)
        if number not in kept and not any(abs(value - float(number.replace(",", "."))) < 1e-6 for value in values)
    ]


@settings(max_examples=300)
@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=14), CARS)
def test_mixed_words_are_read_without_raising(words: list[str], car: Car) -> None:
    """Words of the trade in any order are read, and what comes of them can be echoed."""
    line = " ".join(words)
    understood = read_line(line, car, LIBRARY)
    assert understood.bodies
    assert understood.echo
    assert len(understood.asks) <= 1
    assert read_line(line, car, LIBRARY) == understood


FRAMES = [
    "comp {} {} {} {} psi",
    "c3 lead {}k",
    "coil 3>{}",
    "fuel {} psi key on, {} after ten seconds",
    "lt b1 +{} idle, +{} 2500",
    "wobble {} and {}",
    "replaced coil {}",
    "coolant {} C, battery {} V",
    "compression {} {} and {} on number 2",
    "hums {} times, plug {} wet with fuel",
    "P0{}2 code {}",
    "leakdown 1 {}, 2 {}, 3 {}, 4 {}",
    "{} {} {} {} {} {}",
]


@settings(max_examples=300)
@given(st.sampled_from(FRAMES), st.lists(st.integers(1, 260), min_size=6, max_size=6), CARS)
def test_no_number_is_lost(frame: str, numbers: list[int], car: Car) -> None:
    """Every number typed is in an entry, in a note, or left to be shown."""
    line = frame.format(*numbers)
    assert _numbers_lost(line, car) == []


@settings(max_examples=100)
@given(st.lists(st.sampled_from([*DRESSED, "6 cylinders inline", "# remark", "", "comp 1 2 3"]), max_size=6))
def test_notes_are_read_in_any_order(lines: list[str]) -> None:
    """A notes file is read whatever stands first, one understanding a line."""
    notes = read_notes("\n".join(lines), LIBRARY)
    assert len(notes.lines) == sum(bool(line) and not line.startswith("#") for line in lines)
