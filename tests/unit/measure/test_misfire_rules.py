"""Windows of the law."""

import pytest

from knowngood.errors import Refused
from knowngood.measure.misfire_rules import window_standing


def test_a_short_count_over_the_floor_is_not_surely_over() -> None:
    """Three in 100 revolutions of four cylinders is 1.5 %, but the lower limit is under 1 %."""
    standing = window_standing(3, 100, 4, "emissions")
    assert standing.over_floor
    assert not standing.surely_over


def test_unknown_window() -> None:
    """Word for word."""
    with pytest.raises(Refused) as refused:
        window_standing(3, 100, 4, "smoke")
    assert str(refused.value) == "No window is called 'smoke'. Give one of: catalyst, emissions."
