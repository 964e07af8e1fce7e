"""Oil temperature: a hint from memory, held against coolant that never rests on it alone."""

import pytest

from knowngood.measure.oil import oil_standing


@pytest.mark.parametrize(
    ("celsius", "word"),
    [
        pytest.param(90.0, "usual", id="from-memory-90"),
        pytest.param(110.0, "usual", id="from-memory-110"),
        pytest.param(131.0, "hot: ease off", id="from-memory-over-130"),
        pytest.param(141.0, "too hot: stop", id="from-memory-over-140"),
    ],
)
def test_oil(celsius: float, word: str) -> None:
    """90 to 110 °C normal, over 130 to 140 of concern (from memory)."""
    assert oil_standing(celsius) == word
