"""What tells the two leading suspects apart: a check that can be made now and says more for one than for the other."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.app.separating import leading_rivals, what_separates
from knowngood.app.state import state_of
from knowngood.app.suspects import suspected
from knowngood.app.tasks import checks_of
from knowngood.library.load import load
from tests.told import state_after

LIBRARY = load()


@pytest.mark.parametrize("said", ["P0302, shakes", "lt b1 +19 idle, +4 2500", "slow crank"])
def test_check_named_tells_the_two_apart(said: str) -> None:
    """Worked out again reading by reading: one outcome is three times as likely with one as with the other."""
    lines = f"4 cylinders inline, coil on plug, port injection\n{said}\n"
    state = state_after(lines)
    apart = what_separates(state)
    assert apart is not None
    assert apart.check
    belief = state.belief
    alone = np.zeros((2, len(belief.faults)), dtype=bool)
    rivals = leading_rivals(state)
    assert rivals is not None
    for row, one in enumerate(rivals):
        alone[row, belief.model.column[one.leading]] = True
    made = [check for check in checks_of(state) if check.id == apart.check and not check.tools_missing]
    assert min(check.minutes for check in made) <= apart.minutes
    most = max(
        (like.max(axis=1) / np.maximum(like.min(axis=1), 1e-9)).max()
        for check in made
        for like in (belief.likelihood(ask, alone) for ask in check.asks)
    )
    assert most >= 3.0 - 1e-9


def test_nothing_is_told_apart_where_little_is_known() -> None:
    """A car of which nothing was said still has two suspects, and no error."""
    apart = what_separates(state_of(LIBRARY, ()))
    assert apart is None or apart.first != apart.second


def test_two_that_are_both_there_are_no_rivals() -> None:
    """A corroded ground read as such and one dead cylinder: neither answers for the other, so they are no pair."""
    lines = (
        "6 cylinders inline, coil on plug, port injection\nslow crank\ndrop engine to body while cranking 0.9 V\n"
        "shakes\nP0302 stored\nunplug inj 2, no change\n"
    )
    state = state_after(lines)
    first, second = suspected(state)[:2]
    assert state.library.faults[first.kinds[0]].part == "engine_ground"
    assert str(second.places[0]) == "cylinder 2"
    rivals = leading_rivals(state)
    assert rivals is not None
    assert first not in rivals or second not in rivals
