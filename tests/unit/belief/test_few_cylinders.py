"""Engines of one and two cylinders stop with their only cylinder or coil; a reading taken at rest tells of no run."""

from __future__ import annotations

import pytest

from knowngood.app.answer import Answer
from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load


def answer_to(*lines: str) -> Answer:
    """What the program says of one car."""
    return weigh_notes("\n".join(lines) + "\n", load())


def chance(answer: Answer, fault: str) -> float:
    """Largest chance given to one kind of fault."""
    return max((kind.chance for one in answer.suspects for kind in one.kinds if kind.fault == fault), default=0.0)


@pytest.mark.parametrize(
    ("few", "many", "fault"),
    [
        (
            "petrol, 1 cylinder, coil and lead, port injection",
            "petrol, 4 cylinders inline, coil and lead, port injection",
            "coil_dead",
        ),
        (
            "petrol, 2 cylinders inline, pair coil, port injection",
            "petrol, 4 cylinders inline, pair coil, port injection",
            "pair_coil_dead",
        ),
    ],
)
def test_only_cylinder_stops_its_engine(few: str, many: str, fault: str) -> None:
    """What takes one cylinder is accused of a dead start where there is no other, hardly where there are more."""
    told = ("cranks but will not start", "fuel pressure 300 kPa", "injector pulse 1 pulses")
    assert chance(answer_to(few, *told), fault) > 0.02 + 2 * chance(answer_to(many, *told), fault)


def test_gauge_on_the_rail_does_not_say_that_it_ran() -> None:
    """A good fuel pressure leaves what keeps the engine from starting as it was; said at idle it ran."""
    car = ("petrol, 4 cylinders inline, coil on plug, port injection", "cranks but will not start")
    pulse = ("injector pulse none",)
    primed = chance(answer_to(*car, *pulse, "fuel pressure 300 kPa"), "injector_feed_lost")
    assert primed > 0.8 * chance(answer_to(*car, *pulse), "injector_feed_lost")
    assert primed > 2 * chance(answer_to(*car, *pulse, "fuel pressure 300 kPa hot idle"), "injector_feed_lost")
