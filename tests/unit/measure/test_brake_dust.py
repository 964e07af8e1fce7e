"""Brake and clutch dust."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.brake_dust import dust_methods


def test_enclosure_is_always_allowed() -> None:
    """Whatever the number of jobs."""
    assert all("enclosure" in dust_methods(pairs, 0)[0] for pairs in (0, 5, 50))


def test_refusal() -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        dust_methods(-1, 0)
    assert str(refused.value) == "Pairs of brakes a week is -1. Give a whole number, 0 or more."
