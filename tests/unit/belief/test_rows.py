"""Rows over the cylinders: one against the others, halves, all alike, one missing."""

from __future__ import annotations

import pytest

from knowngood.app.weigh import weigh_notes
from knowngood.belief.exact import ExactBelief
from knowngood.belief.rows import RowSaid, rows_said
from knowngood.car import Car, Place
from knowngood.evidence import Entry, Reading, Value
from knowngood.library.load import load
from knowngood.library.records import Library
from tests.unit.belief.tiny import after

CAR = Car(cylinders=4, form="inline")
KNOWN = "4 cylinders inline, coil on plug, port injection, flow meter\n"


@pytest.fixture(scope="module", name="library")
def of_the_trade() -> Library:
    """The library."""
    return load()


def said_of(library: Library, *values: float | None, kind: str = "compression", car: Car = CAR) -> list[RowSaid]:
    """What a row typed in one line says; ``None`` for a cylinder that was not measured."""
    entries = [
        Entry(id=str(number), at="0", entered="0", line="row", body=Reading(kind=kind, place=place, value=Value(value)))
        for number, value in enumerate(values, start=1)
        if value is not None
        for place in [Place("cylinder", str(number))]
    ]
    return list(rows_said(library, car, entries))


def test_two_against_two(library: Library) -> None:
    """The two low ones and the two high ones, whatever their order; three against one, or three groups, are none."""
    (row,) = said_of(library, 1150.0, 600.0, 1140.0, 610.0)
    assert [[place.name for place, _ in half] for half in row.groups] == [["2", "4"], ["3", "1"]]
    assert row.usual is None
    assert said_of(library, 1150.0, 600.0, 1140.0, 1160.0) == []
    assert said_of(library, 1150.0, 300.0, 1140.0, 600.0) == []
    assert said_of(library, 1150.0, 600.0) == []


def test_all_alike_but_low(library: Library) -> None:
    """Alike and under the plausible span, or over it; inside it nothing is said."""
    (row,) = said_of(library, 600.0, 610.0, 605.0, 595.0)
    assert row.usual == (850.0, 1500.0)
    assert len(row.groups) == 1
    assert said_of(library, 1150.0, 1140.0, 1160.0, 1150.0) == []
    assert said_of(library, 1900.0, 1910.0, 1905.0, 1895.0)[0].usual == (850.0, 1500.0)


def test_not_measured_is_not_nought(library: Library) -> None:
    """A cylinder left out of the row says nothing of itself, and the others are judged without it."""
    assert said_of(library, 1150.0, None, 1140.0, 1160.0) == []

    def leaks(values: tuple[float | None, ...]) -> list[float]:
        belief = row_of(library, values)
        own = [at for at in belief.faults if any(act.on == "seal" for act in library.faults[at.fault].acts)]
        places = [Place("cylinder", str(number)) for number in (1, 2, 3, 4)]
        return [belief.chance_of_any([at for at in own if at.place == place]) for place in places]

    before, with_gap = leaks((None,) * 4), leaks((1150.0, None, 1140.0, 1160.0))
    assert with_gap[1] == pytest.approx(before[1], abs=0.01)
    assert all(with_gap[at] < 0.2 * before[at] for at in (0, 2, 3))
    nought = leaks((1150.0, 1.0, 1140.0, 1160.0))
    assert nought[1] > 5.0 * before[1]


def row_of(library: Library, values: tuple[float | None, ...]) -> ExactBelief:
    """The belief after a row of compressions."""
    return after(
        library,
        *(
            Reading(kind="compression", place=Place("cylinder", str(number)), value=Value(value, step=10.0))
            for number, value in enumerate(values, start=1)
            if value is not None
        ),
        car=CAR,
    )


def test_two_halves_are_both_open(library: Library) -> None:
    """Two against two: either half may be the sick one, and the low one is likelier."""
    halves = row_of(library, (1150.0, 600.0, 1140.0, 610.0))
    own = [at for at in halves.faults if any(act.on == "seal" for act in library.faults[at.fault].acts)]
    of_each = [halves.chance_of_any([at for at in own if at.place.name == name]) for name in "1234"]
    assert of_each[1] == pytest.approx(of_each[3], abs=0.05)
    assert min(of_each[1], of_each[3]) > max(of_each[0], of_each[2])


def test_rows_are_said_word_for_word(library: Library) -> None:
    """Beside the surprises, with the numbers in the unit that was typed."""
    halves = weigh_notes(KNOWN + "comp 1150 600 1140 610 kPa\n", library).surprises
    assert (
        '"comp 1150 600 1140 610 kPa" falls into two groups: 2, 4 about 610 kPa and 1, 3 about 1,150 kPa. The row '
        "does not tell which is right: measure against the maker's figure." in halves
    )
    low = weigh_notes(KNOWN + "comp 6.0 6.1 6.0 5.9 bar\n", library).surprises
    assert (
        '"comp 6.0 6.1 6.0 5.9 bar" is alike in all, and not as is usual (8.5 to 15 bar). Look for what they share, or '
        "at the gauge." in low
    )
