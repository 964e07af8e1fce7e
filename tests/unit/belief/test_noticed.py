"""A complaint that is said to be gone by who noticed it before: it would have been noticed again."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.acting import Regime
from knowngood.belief.clues import MISSED_AGAIN, Said, as_noticed
from knowngood.belief.faces import Target
from knowngood.car import ENGINE
from tests.told import state_after

CAR = "petrol, 3 cylinders inline, coil on plug, direct injection, turbo, manifold pressure"
LEADS = "petrol, 4 cylinders inline, wasted spark, port injection"
AFTER = ("P0299 stored", "replaced boost hose")


def chance(fault: str, *lines: str, car: str = CAR) -> float:
    """Of a fault, at the first of its places."""
    state = state_after(car, *lines)
    column = next(number for number, at in enumerate(state.belief.faults) if at.fault == fault)
    return float(state.belief.chances()[column])


def odds(*lines: str) -> float:
    """Of the small hose of the boost valve, which takes some power."""
    there = chance("boost_hose_to_valve", *lines)
    return there / (1.0 - there)


def falls(*lines: str) -> float:
    """How many times "pulls well" brings its odds down."""
    return odds(*lines) / odds(*lines, "pulls well")


def test_who_noticed_it_is_believed_more_than_who_never_spoke_of_it() -> None:
    """Half of the drivers never speak of lost power; who did, and has worked on it since, would feel it again."""
    noticed, unheard = falls("lacks power under load", *AFTER), falls(*AFTER)
    assert unheard > 1.0
    assert noticed > 2.0 * unheard


def test_other_conditions_are_another_matter() -> None:
    """Who missed the power in the wet has not said what it was like in the dry."""
    assert falls("lacks power under load", *AFTER) > 1.5 * falls("lacks power when wet", *AFTER)


def test_table_of_a_noticed_complaint() -> None:
    """Never likelier than a tenth of the best level; of what shows more, less in proportion."""
    target = Target("power", ENGINE, Regime("pull"), 0, 0)
    said = as_noticed(Said(1, target, np.array([0.98, 0.45, 0.08]), same="no_power no"))
    assert said.table == pytest.approx([0.98, MISSED_AGAIN * 0.98, MISSED_AGAIN * 0.98 * 0.08 / 0.45])
    assert said.same == "no_power no again"


def test_who_notices_it_in_the_wet_would_notice_it_in_the_dry() -> None:
    """ "Only in the wet": likelier what leaks in the damp, not what is there always (common practice)."""
    wet, only = "misfires in the wet", "misfires only in the wet"
    assert chance("lead_leaks", only, car=LEADS) > 1.5 * chance("lead_leaks", wet, car=LEADS)
    assert chance("plug_worn", only, car=LEADS) < chance("plug_worn", wet, car=LEADS)
