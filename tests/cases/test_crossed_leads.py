"""Two leads that changed places in the cap, where neighbours follow the firing order (common practice)."""

from __future__ import annotations

import pytest

from knowngood.app.answer import Answer
from knowngood.app.weigh import weigh_notes
from knowngood.car import Car, layout_of
from knowngood.library.load import load

FIVE = (
    "petrol, 5 cylinders inline, distributor, port injection, flow meter, firing order 1-2-4-5-3\n"
    "done last: leads were pulled off all at once for the plugs\n"
    "shakes at idle\nbackfires\nunplug inj 2, no change; unplug inj 4, no change\n"
)


@pytest.fixture(scope="module", params=["", "leads 2 and 4 crossed\n"], ids=["suspected", "seen"])
def answer(request: pytest.FixtureRequest) -> Answer:
    """Of the five before anybody has looked at the leads, and after."""
    return weigh_notes(FIVE + str(request.param), load())


def test_leads_of_two_that_miss_together_are_the_first_suspect(answer: Answer) -> None:
    """2 and 4 lie side by side in the cap though not on the engine, and both are dead since the leads were off."""
    first = answer.suspects[0]
    assert first.fault == "leads_crossed"
    assert first.places[0].place == "leads 2-4"


def test_seen_with_ones_own_eyes_it_is_the_next_step() -> None:
    """What was seen is put right, not looked for."""
    after = weigh_notes(FIVE + "leads 2 and 4 crossed\n", load())
    assert after.suspects[0].shown > 0.95
    assert (after.next[0].do, after.next[0].place) == ("reseat", "leads 2-4")


def test_one_coil_for_all_has_no_wire_for_each(answer: Answer) -> None:
    """An engine with a distributor has no coil, driver or coil wire of a cylinder."""
    assert not {"coil_wire_broken", "coil_dead", "coil_driver_dead"} & {one.fault for one in answer.suspects}


def test_neighbours_on_the_engine_and_in_the_cap() -> None:
    """By number and by firing order; a single cylinder has none."""
    five = layout_of(Car(cylinders=5, form="inline", firing_order=(1, 2, 4, 5, 3)))
    assert [str(place) for place in five.places("leads")] == [
        "leads 1-2", "leads 1-3", "leads 2-3", "leads 2-4", "leads 3-4", "leads 3-5", "leads 4-5",
    ]  # fmt: skip
    assert layout_of(Car(cylinders=1)).places("leads") == ()
