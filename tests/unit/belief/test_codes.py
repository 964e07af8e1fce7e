"""Codes: which record and place one speaks of, how far it counts, what clearing and "no change" do to it."""

from __future__ import annotations

import msgspec
import pytest

from knowngood.belief.clues import ABSENT_SHARE
from knowngood.belief.exact import ExactBelief
from knowngood.car import ENGINE, Car, Place
from knowngood.evidence import Reading, Work
from knowngood.library.find import code_at
from knowngood.library.load import load
from knowngood.library.records import Act, Code, Ladder, Library
from tests.unit.belief.tiny import after, chance, fault, library, word

ONE, TWO = Place("cylinder", "1"), Place("cylinder", "2")
PAIR = Car(cylinders=2, form="inline")
SET = {"dead": 0.8, "steady": 0.01}
CODES = (
    Code(id="P0301..P0312", name="misfire", source="memory", each="cylinder", on="burn", set=SET),
    Code(id="P0171", name="lean", source="memory", bank=1, on="mixture", set={"-4..-2": 0.5, "-1": 0.1}),
    Code(id="P0340", name="cam signal", source="memory", on="cam", set={"lost": 0.9, "good": 0.002}),
)
LIBRARY: Library = msgspec.structs.replace(
    library(
        [
            Ladder(id="burn", name="burn", place="cylinder", levels=("steady", "dead")),
            Ladder(id="mixture", name="mixture", place="bank", combine="sum", low=-4, high=4),
            Ladder(id="cam", name="cam signal", place="engine", levels=("good", "lost")),
        ],
        [
            fault("coil", 20.0, part="coil", place="cylinder", acts=[Act(on="burn", level="dead")]),
            fault("hose", 20.0, part="hose", acts=[Act(on="mixture", shift=-3)]),
            fault("sensor", 10.0, part="sensor", acts=[Act(on="cam", level="lost")]),
        ],
        [word("shakes", "cam", {"good": 0.1, "lost": 0.9}, complaint=True)],
    ),
    codes={one.id: one for one in CODES},
)


def code(text: str, state: str = "stored", **more: str) -> Reading:
    """A code that was read."""
    return Reading(kind="code", code=text, state=state, **more)


def told(*bodies: Reading | Work) -> ExactBelief:
    """The belief of a car with two cylinders and one bank."""
    return after(LIBRARY, *bodies, car=PAIR)


def odds(chance: float) -> float:
    """Of a chance."""
    return chance / (1.0 - chance)


@pytest.mark.parametrize(
    ("text", "record", "place"),
    [
        ("P0301", "P0301..P0312", ONE),
        ("P0309", "P0301..P0312", Place("cylinder", "9")),
        ("P0310", "P0301..P0312", Place("cylinder", "10")),
        ("P0312", "P0301..P0312", Place("cylinder", "12")),
        ("P0171", "P0171", Place("bank", "1")),
        ("P0340", "P0340", ENGINE),
    ],
)
def test_code_speaks_of_its_place(text: str, record: str, place: Place) -> None:
    """One of a run is of the cylinder it counts to, in tens; one of a bank of that bank; others of the engine."""
    found = code_at(LIBRARY, text)
    assert found is not None
    assert (found[0].id, found[1]) == (record, place)


@pytest.mark.parametrize("text", ["P0300", "P030A", "P0313", "C0301", "P0999", "P03", "none", ""])
def test_code_that_is_not_listed_has_no_record(text: str) -> None:
    """One before or behind a run, another, or none at all: no chance moves."""
    assert code_at(LIBRARY, text) is None
    if text not in ("none", ""):
        assert list(told(code(text)).chances()) == pytest.approx(list(told().chances()))


def test_stored_code_counts_as_its_record_says() -> None:
    """0.9 where the signal is lost against 0.002 where not: 450 times the odds; "no other code" is not said by it."""
    assert odds(chance(told(code("P0340")), "sensor")) == pytest.approx(odds(0.01) * 450.0, rel=1e-6)


def test_pending_code_counts_less() -> None:
    """To the power of 0.7: what is pending was seen once."""
    pending = odds(chance(told(code("P0340", "pending")), "sensor"))
    assert pending == pytest.approx(odds(0.01) * 450.0**0.7, rel=1e-6)


def test_doubtful_code_says_nothing() -> None:
    """It is asked about; until then no chance moves."""
    assert list(told(code("P0340", doubt="which?")).chances()) == pytest.approx(list(told().chances()))


def test_others_of_a_run_were_looked_for() -> None:
    """Cylinder 1 named, 2 not: the odds of a dead 2 fall by 1 - 0.6 x 0.8 against 1 - 0.6 x 0.01."""
    falls = (1.0 - ABSENT_SHARE * 0.8) / (1.0 - ABSENT_SHARE * 0.01)
    named = told(code("P0301"))
    assert odds(chance(named, "coil", TWO)) == pytest.approx(odds(0.02) * falls, rel=1e-6)
    assert odds(chance(named, "coil", ONE)) == pytest.approx(odds(0.02) * 80.0, rel=1e-6)
    assert chance(named, "hose") == pytest.approx(0.02), "a lean code is not looked for where another was named"


def test_no_codes_clears_the_commonest() -> None:
    """No cylinder and no bank was named: dead cylinders and a lean bank are less likely, the cam is left unsaid."""
    none = told(code("none"))
    falls = (1.0 - ABSENT_SHARE * 0.8) / (1.0 - ABSENT_SHARE * 0.01)
    for place in (ONE, TWO):
        assert odds(chance(none, "coil", place)) == pytest.approx(odds(0.02) * falls, rel=1e-6)
    lean = (1.0 - ABSENT_SHARE * 0.5) / (1.0 - ABSENT_SHARE * 0.003)  # 0.003: set without its cause; from memory
    assert odds(chance(none, "hose")) == pytest.approx(odds(0.02) * lean, rel=1e-6)
    assert chance(none, "sensor") == pytest.approx(0.01)


def test_new_sensor_that_left_the_code_is_not_trusted() -> None:
    """A change that changed nothing left its code there, unless the code was cleared before."""
    clear = Work(do="cleared", part="codes")
    new, left = (Work(do="replaced", part="sensor", places=(ENGINE,), effect=effect) for effect in ("", "no change"))
    trusted = chance(told(code("P0340"), new), "sensor")
    assert trusted < 0.02
    assert odds(chance(told(code("P0340"), left), "sensor")) == pytest.approx(450.0 * odds(trusted), rel=1e-6)
    assert chance(told(code("P0340"), clear, left), "sensor") == pytest.approx(trusted)


def test_cleared_codes_are_not_looked_for() -> None:
    """After clearing nobody looked whether the other cylinders are named."""
    assert chance(told(code("P0301"), Work(do="cleared", part="codes")), "coil", TWO) == pytest.approx(0.02)


def test_code_of_cylinder_eleven_is_believed_of_a_twelve() -> None:
    """With our own library: on twelve cylinders P0311 makes a dead coil of 11 likelier, of no other."""
    ours, car = load(), Car(cylinders=12, form="V", ignition="coil on plug")
    belief = after(ours, code("P0311"), car=car)
    coils = {number: chance(belief, "coil_dead", Place("cylinder", str(number))) for number in range(1, 13)}
    assert max(coils, key=lambda number: coils[number]) == 11
    assert coils[11] > 10.0 * max(chance for number, chance in coils.items() if number != 11)
