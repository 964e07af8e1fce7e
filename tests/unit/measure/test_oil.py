"""Oil temperature."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.oil import oil_standing


def test_words_in_order() -> None:
    """From cold to too hot each word comes once."""
    words = [oil_standing(celsius) for celsius in (20.0, 100.0, 120.0, 135.0, 150.0)]
    assert words == ["cool", "usual", "warm", "hot: ease off", "too hot: stop"]


def test_refusal() -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        oil_standing(float("nan"))
    assert str(refused.value) == "Oil temperature is nan: not a number. Give a number in °C."
