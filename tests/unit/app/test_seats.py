"""Where a part is worked on: what the engine has one of is one repair, and a whole set is one, too."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.app.just_done import just_done
from knowngood.app.seats import Seats
from knowngood.app.taps import read_taps
from knowngood.app.tasks import repairs_of
from knowngood.app.to_finish import repairs_of_draws
from knowngood.app.weigh import weigh_notes
from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE, Car, Place, layout_of
from knowngood.evidence import Work
from knowngood.library.load import load
from knowngood.lines import read_line
from knowngood.planner.problem import Repair
from tests.told import state_after

FOUR = tuple(Place("cylinder", str(number)) for number in range(1, 5))
CAR = "4 cylinder coil on plug port injection petrol"


def repairs(*lines: str) -> dict[str, Repair]:
    """What could be repaired on a car of four cylinders, however unlikely, by name."""
    return {repair.name: repair for repair in repairs_of(state_after(CAR, *lines), 0.0)}


def test_a_head_gasket_is_one_wherever_it_leaks() -> None:
    """Into the cooling system, outside, or between two cylinders: the same gasket, the same day's work."""
    found = repairs("miss on 2", "white smoke")
    (name,) = [name for name in found if "replace head gasket" in name]
    assert name == "replace head gasket"
    places = {str(at.place) for at in found[name].fixes}
    assert {"engine", *map(str, FOUR)} < places
    assert found[name].places == (ENGINE,)


def test_a_set_of_plugs_ends_what_is_wrong_with_each_and_costs_four() -> None:
    """One plug costs the price of one; all of them four times that, and end a worn one at any cylinder."""
    found = repairs("miss on 2")
    one, every = found["replace spark plug of cylinder 2"], found["replace spark plug, all 4"]
    assert set(one.fixes) < set(every.fixes)
    assert {at.place for at in every.fixes if at.fault == "plug_worn"} == set(FOUR)
    price = load().parts["plug"].price
    assert (one.money, every.money) == (price, 4 * price)
    assert every.places == FOUR


def test_plugs_on_the_shelf_are_not_bought() -> None:
    """Two lie here: two are paid for."""
    every = repairs("miss on 2", "have 2 plugs")["replace spark plug, all 4"]
    assert every.money == 2 * load().parts["plug"].price


@pytest.mark.parametrize(
    ("part", "place", "seat", "every"),
    [
        ("ecu", FOUR[2], ENGINE, ()),
        ("plug", FOUR[2], FOUR[2], ()),
        ("plug", ENGINE, ENGINE, FOUR),
        ("king_lead", ENGINE, ENGINE, ()),
        ("catalyst", Place("bank", "1"), Place("bank", "1"), ()),
    ],
)
def test_seats_of_parts(part: str, place: Place, seat: Place, every: tuple[Place, ...]) -> None:
    """One computer, a plug in each cylinder, one lead to the cap, a catalyst a bank: common practice."""
    seats = Seats(load(), layout_of(Car(cylinders=4)))
    assert seats.of(part, place) == seat
    assert seats.all_of(part, seats.of(part, place)) == every


def test_a_set_that_was_fitted_is_written_down_plug_by_plug() -> None:
    """As the step's button says it: then nothing is left of the old ones, and the step is done."""
    every = repairs("miss on 2")["replace spark plug, all 4"]
    where = ",".join(map(str, every.places))
    tapped = read_taps(load(), [(f"work|replaced|plug|{where}", "cured")])
    assert tapped.line.startswith("replaced spark plug 1, 2, 3, 4")
    (work,) = tapped.bodies
    assert isinstance(work, Work) and work.places == FOUR
    again = read_line(tapped.line, Car(cylinders=4), load()).bodies[0]
    assert isinstance(again, Work) and again.places == FOUR


def test_the_step_of_a_set_is_answered_plug_by_plug() -> None:
    """What its button writes down is what the step waits for."""
    told = ("miss on 2 and 3", "plug gaps 1.4 1.5 1.4 1.5 mm", "plugs look worn all of them")
    answer = weigh_notes("\n".join((CAR, *told)), load())
    (step,) = [step for step in answer.next if step.name == "replace spark plug, all 4"]
    tapped = read_taps(load(), [(f"work|replaced|{step.what}|{step.place}", "no change")])
    assert just_done(step, tapped.bodies)


def test_who_fits_a_set_of_plugs_fits_no_single_one_besides() -> None:
    """The car with a worn set and one fouled plug costs what the car with the worn set does."""
    state = state_after(CAR, "miss on 2")
    column = state.belief.model.column
    both = np.zeros((2, len(column)), dtype=bool)
    both[:, column[FaultAt("plug_set_worn", ENGINE)]] = True
    both[1, column[FaultAt("plug_fouled", FOUR[1])]] = True
    money, minutes = repairs_of_draws(state, both)
    assert money[0] == money[1] > 0.0 and minutes[0] == minutes[1]
