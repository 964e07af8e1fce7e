"""Which checks are offered at all."""

from __future__ import annotations

import pytest

from knowngood.app.possible import RUNNING
from knowngood.app.state import State, state_of
from knowngood.app.tasks import checks_of
from knowngood.evidence import CarFact, Entry, Reading
from knowngood.library.load import load


def state_after(complaint: str) -> State:
    bodies = (CarFact("cylinders", "4"), Reading(kind=complaint, word="yes"))
    entries = [
        Entry(id=str(i), at=f"2026-01-0{i + 1}", entered="2026-01-01", body=body) for i, body in enumerate(bodies)
    ]
    return state_of(load(), entries)


@pytest.mark.parametrize(("complaint", "runs"), [("does_not_crank", False), ("shakes", True)])
def test_checks_of_a_running_engine_are_offered_where_it_may_run(complaint: str, runs: bool) -> None:
    """No vacuum at idle is asked for on a car that does not crank; on one that shakes it is."""
    state = state_after(complaint)
    offered = [state.library.checks[check.id] for check in checks_of(state) if check.id in state.library.checks]
    assert any(check.engine in RUNNING for check in offered) is runs
    assert offered
