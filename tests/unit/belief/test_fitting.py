"""How far readings count that repeat each other."""

from __future__ import annotations

import pytest

from knowngood.belief.fitting import REPEAT_SHARE, repeats_shared
from tests.told import state_after

CAR = "petrol, 4 cylinders inline, coil on plug, port injection, manifold pressure, 150000 km"


def shares(*lines: str) -> list[float]:
    """Of what each line says, in their order."""
    state = state_after(CAR, *lines)
    known = state.belief.known
    said = repeats_shared(known.said, state.belief.model, known.snapshots)
    return [one.share for one in said if state.entries[one.entry].line in lines]


def test_word_said_twice_counts_once_and_another_word_by_itself() -> None:
    """Whoever says three times that it stalls has said it once."""
    assert sorted(shares(*["stalls at idle"] * 3)) == [0.0, 0.0, 1.0]
    assert set(shares("stalls at idle", "no power")) == {1.0}


@pytest.mark.parametrize("times", [1, 2, 4])
def test_number_read_again_with_one_meter_counts_a_little_more(times: int) -> None:
    """All alike, whatever the order: together one and a share of one for each more, for the meter is the same."""
    met = shares(*["fuel pressure 2.5 bar"] * times)
    assert len(set(met)) == 1
    assert sum(met) == pytest.approx(1.0 + REPEAT_SHARE * (times - 1))
