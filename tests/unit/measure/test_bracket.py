"""Ranges."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.bracket import Bracket, two_sided_tail


def test_holds_its_ends() -> None:
    """Both ends are inside."""
    bracket = Bracket(1.0, 2.0, 3.0)
    assert [bracket.holds(value) for value in (0.9, 1.0, 2.5, 3.0, 3.1)] == [False, True, True, True, False]


def test_confidence_is_a_chance() -> None:
    """95 is not a chance; 0.95 is."""
    assert two_sided_tail(0.99) == pytest.approx(0.005)
    with pytest.raises(NotMeasurable, match=r"Confidence is 95: outside 0\.5 to 0\.9999"):
        two_sided_tail(95)
