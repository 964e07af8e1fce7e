"""What our own work may bring about in what had to come off."""

from __future__ import annotations

import pytest

from knowngood.belief.exact import ExactBelief
from knowngood.belief.priors import OUR_CARE
from knowngood.car import Car
from knowngood.evidence import Reading, Work
from knowngood.library.records import Act, Area, Cure, Ladder, Part, Raised
from tests.unit.belief.tiny import ONE, TWO, after, chance, fault, library, word

CAR = Car(cylinders=2, form="inline")
RECORDS = library(
    [Ladder(id="order", name="order to fire", place="cylinder", levels=("sent", "lost"))],
    [
        fault("coil_dead", 50, part="coil", place="cylinder"),
        fault(
            "plug_off",
            10,
            part="coil_connector",
            place="cylinder",
            acts=[Act(on="order", level="lost")],
            raised=[Raised(by="after work", times=11.0, on=("coils",))],
            cures=[Cure(do="reseated", minutes=1, source="memory", works=1.0)],
        ),
        fault(
            "clip_lost",
            10,
            part="coil_connector",
            place="cylinder",
            raised=[Raised(by="after work", times=9.0, on=("other",))],
        ),
    ],
    [word("fires", "order", {"sent": 1.0, "lost": 0.0}, place="cylinder")],
    parts=[Part(id="coil", name="coil", price=10, source="memory", place="cylinder", swaps=True, area="coils")],
    areas=[Area(id="coils", name="coils", words=("coils",), disturbs=("coil_connector",))],
)
TOLD = 11.0 * 0.01 / 0.99 / (1.0 + 11.0 * 0.01 / 0.99)  # odds times eleven: 1 in 10
CAME = OUR_CARE * (TOLD - 0.01)  # 0.018
NEW_COIL = Work(do="replaced", part="coil", places=(ONE,))


def told(*bodies: Reading | Work) -> ExactBelief:
    """The belief after these."""
    return after(RECORDS, *bodies, car=CAR)


def test_work_may_leave_a_plug_off() -> None:
    """There before, or not and left off: 0.01 + 0.99 x 0.018; where the work was, and only what belongs to it."""
    belief = told(NEW_COIL)
    assert chance(belief, "plug_off", ONE) == pytest.approx(0.01 + 0.99 * CAME)
    assert chance(belief, "plug_off", TWO) == pytest.approx(0.01)
    assert chance(belief, "clip_lost", ONE) == pytest.approx(0.01)


def test_fires_before_and_not_since() -> None:
    """It was not there before the new coil and is there now: no contradiction, but what the work left."""
    before = Reading(kind="fires", place=ONE, word="yes")
    belief = told(before, NEW_COIL, Reading(kind="fires", place=ONE, word="no"))
    assert chance(belief, "plug_off", ONE) == pytest.approx(1.0)
    assert chance(told(before, NEW_COIL), "plug_off", ONE) == pytest.approx(CAME)


def test_swap_disturbs_both_places() -> None:
    """Both coils were off."""
    belief = told(Work(do="swapped", part="coil", places=(ONE,), to=TWO))
    assert [chance(belief, "plug_off", place) for place in (ONE, TWO)] == pytest.approx([0.01 + 0.99 * CAME] * 2)


def test_what_a_work_cures_it_does_not_disturb() -> None:
    """A plug pushed home is home, whatever else is worked on there later may undo it."""
    reseated = Work(do="reseated", part="coil_connector", places=(ONE,))
    assert chance(told(reseated), "plug_off", ONE) == pytest.approx(0.0)
    assert chance(told(reseated, NEW_COIL), "plug_off", ONE) == pytest.approx(CAME)
