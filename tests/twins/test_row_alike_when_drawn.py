"""A row that is low alike accuses the timing in draws as far as it does in the tables."""

from __future__ import annotations

import pytest

from knowngood.belief import exact
from knowngood.belief.exact import ExactBelief
from knowngood.belief.fitting import levels_set
from tests.told import state_after

NOTES = """petrol, 4 cylinders inline, pair coil, port injection, manifold pressure, 150000 km, about 1999
done last: timing belt
no power
compression {row} psi
"""
ROWS = {"125 123 126 124": (0.15, 0.55), "155 153 156 60": (0.005, 0.3)}
"""Rows, and between what the timing may stand by the tables; common practice names it first after a belt."""


def believed(row: str) -> ExactBelief:
    """The belief of the car with that row."""
    return state_after(NOTES.format(row=row)).belief


def timing(belief: ExactBelief) -> float:
    """Chance of one tooth."""
    return belief.chance_of_any([at for at in belief.faults if at.fault == "timing_one_tooth"])


@pytest.mark.parametrize("row", ROWS)
def test_draws_accuse_the_timing_as_the_tables_do(row: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same evidence in the tables, and with its healthy level set and its complaints outside."""
    whole = believed(row)
    assert whole.exact
    with monkeypatch.context() as patch:
        patch.setattr(exact, "smaller_parts", lambda said, model: iter([levels_set(said[2:])]))
        part = believed(row)
    assert not part.exact
    least, most = ROWS[row]
    assert least < timing(whole) < most
    assert abs(timing(part) - timing(whole)) < 0.1


def test_all_alike_suits_two_levels() -> None:
    """Good at one level, or short by a fifth at another: neither state of a cylinder is ruled out by the row itself."""
    belief = believed("125 123 126 124")
    said = [one for one in belief.known.said if one.level == "compression"]
    for one in levels_set(said):
        good, late = one.table[:2]
        assert 0.2 < late / good < 5.0
