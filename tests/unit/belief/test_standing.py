"""What a cure ends and what work that changes nothing leaves: what stands, and what the part can answer for."""

from __future__ import annotations

from functools import cache

import pytest

from knowngood.app.state import State
from tests.told import state_after

CAR = """6 cylinders inline, coil on plug, port injection
shakes at cold idle
slow crank
P0302 stored
unplug inj 2, no change
drop engine to body while cranking 0.9 V
"""


@cache
def _told(more: str) -> State:
    return state_after(CAR, more)


def _chance(state: State, fault: str, place: str = "engine") -> float:
    chances = zip(state.belief.faults, state.belief.chances(), strict=True)
    return next(float(chance) for at, chance in chances if (at.fault, str(at.place)) == (fault, place))


@pytest.mark.parametrize("cure", ["cured", "slow crank: no", "cranks fast now"])
def test_a_strap_that_cures_leaves_the_misfire(cure: str) -> None:
    """Common practice: two complaints of two systems. The coil stays as suspected as before, the strap does not."""
    before, after = _told(""), _told(f"reseated engine ground strap, {cure}\n")
    assert _chance(before, "engine_ground_poor") > 0.6
    assert _chance(after, "engine_ground_poor") < 0.15
    coil = _chance(before, "coil_dead", "cylinder 2")
    assert coil > 0.25
    assert _chance(after, "coil_dead", "cylinder 2") == pytest.approx(coil, abs=0.05)


def test_work_that_changes_nothing_brings_nothing_back() -> None:
    """The hose left the shaking as it was; the cranking had been put right before and is not told again by it."""
    cured = "reseated engine ground strap, cured\n"
    after = _told(f"{cured}replaced vacuum hose, no change\n")
    assert _chance(after, "engine_ground_poor") == pytest.approx(_chance(_told(cured), "engine_ground_poor"), abs=0.05)


def test_work_that_changes_nothing_leaves_what_still_stands() -> None:
    """A coil that changed nothing is as good as cleared: the shaking is there once more with it."""
    after = _told("replaced coil 2, no change\n")
    assert _chance(after, "coil_dead", "cylinder 2") < 0.1
    assert _chance(after, "injector_open", "cylinder 2") > _chance(_told(""), "injector_open", "cylinder 2")


def test_a_cure_takes_its_code_with_it() -> None:
    """With the coil's cure P0302 is answered; a hose that changes nothing afterwards does not set it again."""
    cured = "replaced coil 2, cured\n"
    after = _told(f"{cured}replaced vacuum hose, no change\n")
    assert _chance(after, "coil_dead", "cylinder 2") == pytest.approx(
        _chance(_told(cured), "coil_dead", "cylinder 2"), abs=0.05
    )


def test_what_is_told_again_stands_again() -> None:
    """It shakes again: work that changes nothing after that leaves it."""
    back = _told("replaced coil 2, cured\nshakes at cold idle\nreplaced vacuum hose, no change\n")
    gone = _told("replaced coil 2, cured\nreplaced vacuum hose, no change\n")
    assert _chance(back, "injector_open", "cylinder 2") > _chance(gone, "injector_open", "cylinder 2")
