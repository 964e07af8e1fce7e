"""Zirconia sensors."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.oxygen import narrow_band_word, nernst_mv, oxygen_from_mv

TEMPERATURES = st.floats(350.0, 1000.0)


@given(st.floats(-25.0, -0.7), st.floats(-25.0, -0.7), TEMPERATURES)
def test_less_oxygen_is_more_voltage(one: float, other: float, temperature: float) -> None:
    """At one temperature."""
    lean, rich = sorted((one, other), reverse=True)
    assert nernst_mv(10.0**lean, temperature)[0] <= nernst_mv(10.0**rich, temperature)[0]


@given(st.floats(-20.0, -1.0), TEMPERATURES)
def test_there_and_back_is_the_same_oxygen(decade: float, temperature: float) -> None:
    """The inverse is the inverse."""
    millivolts = nernst_mv(10.0**decade, temperature)[0]
    if millivolts < 1300.0:
        assert oxygen_from_mv(millivolts, temperature)[0] == pytest.approx(10.0**decade, rel=1e-9)


@pytest.mark.parametrize(
    ("volts", "word"),
    [
        (0.1, "lean"),
        (0.82, "rich"),
        (0.45, "in between"),
        (0.42, "in between"),
        (-0.02, "lean"),
        (4.9, "outside"),
        (-1.0, "outside"),
    ],
)
def test_word_of_a_signal(volts: float, word: str) -> None:
    """Near the middle it may be the computer's own bias."""
    assert narrow_band_word(volts) == word


def test_cold_cell_is_refused() -> None:
    """It does not conduct."""
    with pytest.raises(NotMeasurable) as refused:
        nernst_mv(1e-3, 200.0)
    assert str(refused.value) == (
        "Temperature of the cell is 200 °C: outside 350 to 1100 °C. Check the reading and its unit."
    )
