"""Injector balance: limits from memory, so the row beside them is the evidence."""

import pytest

from knowngood.measure.injector_balance import DROP_LIMIT_KPA, drop_balance, flow_balance


@pytest.mark.parametrize(
    ("off_kpa", "word"),
    [
        pytest.param(5.0, "alike", id="from-memory-inside"),
        pytest.param(-16.0, "low", id="from-memory-low"),
        pytest.param(16.0, "high", id="from-memory-high"),
        pytest.param(10.0, "at the limit", id="from-memory-at-10-kPa"),
    ],
)
def test_drop_limit(off_kpa: float, word: str) -> None:
    """Each drop within 10 kPa (1.5 psi) of the others (trade, from memory)."""
    assert drop_balance({1: 60.0, 2: 60.0, 3: 60.0, 4: 60.0 + off_kpa})[3].word == word
    assert pytest.approx(1.5 * 6.894757, abs=0.4) == DROP_LIMIT_KPA


@pytest.mark.parametrize(
    ("amount", "word"),
    [
        pytest.param(96.0, "alike", id="from-memory-flow-4-percent"),
        pytest.param(85.0, "low", id="from-memory-flow-15-percent"),
    ],
)
def test_flow_limit(amount: float, word: str) -> None:
    """Flow within 5 to 10 % (trade, from memory)."""
    assert flow_balance({1: 100.0, 2: 100.0, 3: 100.0, 4: amount})[3].word == word
