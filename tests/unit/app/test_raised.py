"""What of the story stands beside a suspect: as many points as it multiplies the odds by, only what was told."""

from __future__ import annotations

import math

from knowngood.app.raised import WORDS, of_story
from knowngood.app.suspects import suspects_of
from knowngood.belief.priors import prior_chance
from knowngood.library.load import load
from knowngood.library.rules.faults import RAISED_BY
from tests.told import state_after

LIBRARY = load()
CAR = "6 cylinders inline, coil on plug, port injection"


def _of(told: str, fault: str) -> dict[str, float]:
    state = state_after(CAR, told)
    return {one.text: one.weight for one in of_story(state, LIBRARY.faults[fault])}


def test_mice_stand_beside_a_chewed_wire_with_their_points() -> None:
    """Ten times the logarithm of how many times the odds are: worked out from the chances with and without."""
    told = state_after(CAR, "mouse droppings under the bonnet")
    plain = state_after(CAR)
    fault = LIBRARY.faults["coil_wire_broken"]
    chances = [prior_chance(fault, one.car, one.belief.model.story, LIBRARY.fitted) for one in (told, plain)]
    odds = [chance / (1.0 - chance) for chance in chances]
    (mice,) = of_story(told, fault)
    assert mice.text == "animals were in it"
    assert abs(mice.weight - 10.0 * math.log10(odds[0] / odds[1])) < 0.01
    assert of_story(plain, fault) == []


def test_work_is_named_by_what_was_worked_on() -> None:
    """Only the areas that were told, not all that could raise it."""
    said = _of("done last: rocker cover gasket by a neighbour, coils were off\n", "coil_plug_not_on")
    assert list(said) == ["work was done on ignition coils and rocker cover gasket"]
    assert _of("done last: timing belt by the garage\n", "coil_plug_not_on") == {}


def test_the_farthest_stands_first_and_every_suspect_has_its_own() -> None:
    """A nest: animals before standing."""
    said = _of("stood 2 years\nmouse droppings under the bonnet\n", "nest_in_air_box")
    assert list(said) == ["animals were in it", "it stood for long"]
    assert list(said.values()) == sorted(said.values(), reverse=True)
    state = state_after(CAR, "mouse droppings", "shakes")
    for suspect in suspects_of(state):
        assert suspect.story == of_story(state, LIBRARY.faults[suspect.fault])


def test_every_way_to_be_raised_has_its_words() -> None:
    """The library knows no other; work is named by its areas."""
    assert {*WORDS, "after work"} == set(RAISED_BY)
