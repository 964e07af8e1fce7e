"""What one reading says of its ladder: judgements and numbers of a sum, numbers against the car's own window."""

from __future__ import annotations

import msgspec
import pytest

from knowngood.belief.clues import with_gross_errors
from knowngood.belief.likelihood import number_table, odd_kept
from knowngood.car import ENGINE, Car, Place
from knowngood.evidence import Reading, Value
from knowngood.library.load import load
from knowngood.library.records import Act, Healthy, Ladder, ReadingKind, Spread
from tests.unit.belief.tiny import after, chance, fault, library

PRIOR = 0.02
MIXTURE = Ladder(id="mixture", name="mixture", place="bank", combine="sum", low=-2, high=2)
SEAL = Ladder(id="seal", name="seal", place="cylinder", levels=("tight", "leaking"))
LEAK = fault("leak", 20.0, acts=[Act(on="mixture", shift=-1)])
FLOOD = fault("flood", 20.0, acts=[Act(on="mixture", shift=2)])
RINGS = fault("rings", 20.0, place="cylinder", acts=[Act(on="seal", level="leaking")])
TRIM = ReadingKind(
    id="trim", name="trim", place="bank", source="memory", on="mixture", per_step=-10.0, noise=2.0, gross=0.01
)
PRESSED = ReadingKind(
    id="pressed",
    name="pressed",
    place="cylinder",
    source="memory",
    quantity="compression",
    on="seal",
    relative=True,
    gross=0.01,
    healthy=Healthy(low=800.0, high=1600.0, source="memory"),
    spread={"tight": Spread(at=1.0, spread=0.05), "leaking": Spread(low=0.2, high=0.9)},
)
LIBRARY = library([MIXTURE, SEAL], [LEAK, FLOOD, RINGS], [TRIM, PRESSED])


def odds(chance: float) -> float:
    """Of a chance."""
    return chance / (1.0 - chance)


def moved(car: Car, reading: Reading, name: str, place: Place = ENGINE) -> float:
    """How many times the odds of a fault are after a reading what they were before."""
    before, now = (chance(after(LIBRARY, *said, car=car), name, place) for said in ((), (reading,)))
    return odds(now) / odds(before)


ONE_CYLINDER, FOUR = Car(cylinders=1), Car(cylinders=4, form="inline")
BANK = Place("bank", "1")


def test_judgement_on_a_sum_clears_what_is_far_off() -> None:
    """As it should be: 0.9 within one step, 0.3 beyond. A leak of one step is not cleared by it."""
    said = Reading(kind="trim", place=BANK, word="as it should be")
    assert moved(ONE_CYLINDER, said, "leak") == pytest.approx(1.0, rel=0.03)
    assert moved(ONE_CYLINDER, said, "flood") == pytest.approx(0.3 / 0.9, rel=0.05), "a leak may lie under it"


def test_word_nobody_knows_says_nothing() -> None:
    """A purple trim."""
    assert moved(ONE_CYLINDER, Reading(kind="trim", place=BANK, word="purple"), "leak") == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("window", "middle"),
    [
        (Value(None, low=1000.0, high=1200.0, sense="range"), 1100.0),
        (Value(None, low=1100.0, sense="over"), 1100.0),
        (Value(None, high=1100.0, sense="under"), 1100.0),
    ],
)
def test_number_is_held_against_the_car_s_own_window(window: Value, middle: float) -> None:
    """700 kPa where the car should have about 1,100: the odds of leaking rise by the two spreads at 0.64 of it."""
    value = Value(700.0, step=10.0, unit="kPa")
    table = odd_kept(with_gross_errors(number_table(PRESSED, SEAL.levels, value, middle), PRESSED.gross))
    car = msgspec.structs.replace(ONE_CYLINDER, windows={"pressed": window})
    one = Place("cylinder", "1")
    risen = moved(car, Reading(kind="pressed", place=one, value=value), "rings", one)
    assert risen == pytest.approx(float(table[1] / table[0]), rel=1e-6)
    assert risen > 50.0


def test_without_a_window_the_row_says_what_is_healthy() -> None:
    """700 alone may be a healthy engine of low compression: it says much less than against its window."""
    one = Place("cylinder", "1")
    reading = Reading(kind="pressed", place=one, value=Value(700.0, step=10.0, unit="kPa"))
    assert 1.0 < moved(ONE_CYLINDER, reading, "rings", one) < 50.0


def test_number_on_a_sum_and_places_of_its_bank() -> None:
    """A trim of +10 is one step lean; said of a cylinder it is its bank's, of the engine that of bank 1."""
    said = Reading(kind="trim", place=BANK, value=Value(10.0, step=1.0))
    risen = moved(FOUR, said, "leak")
    assert risen > 30.0
    for place in (Place("cylinder", "3"), ENGINE):
        assert moved(FOUR, msgspec.structs.replace(said, place=place), "leak") == pytest.approx(risen)


def test_what_nobody_could_tell_says_nothing() -> None:
    """Nor that the engine ran: whoever could not tell how it idles may have had one that does not start."""
    ours = load()
    before = after(ours, Reading(kind="cranks_dead", word="yes"))
    kind = next(one for one in ours.readings.values() if one.when == "hot idle" and one.words and not one.engine_off)
    unsure = after(ours, Reading(kind="cranks_dead", word="yes"), Reading(kind=kind.id, word="could not tell"))
    assert unsure.chances() == pytest.approx(before.chances(), abs=1e-12)
