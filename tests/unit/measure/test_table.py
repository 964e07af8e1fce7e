"""Between the rows of a table."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.table import between_rows

ROWS = [(0.0, 1.0), (10.0, 3.0), (20.0, 4.0)]


def test_rows_themselves_are_met() -> None:
    """A row is its own value."""
    assert [between_rows(at, ROWS) for at, _ in ROWS] == [value for _, value in ROWS]


def test_beyond_the_ends_is_the_end() -> None:
    """Nothing is made up outside the table."""
    assert (between_rows(-5.0, ROWS), between_rows(25.0, ROWS)) == (1.0, 4.0)


@given(st.floats(-10.0, 30.0), st.floats(-10.0, 30.0))
def test_rising_table_rises(one: float, other: float) -> None:
    """Between the rows too."""
    low, high = sorted((one, other))
    assert between_rows(low, ROWS) <= between_rows(high, ROWS)


def test_rows_out_of_order_are_refused() -> None:
    """A table is read upward."""
    with pytest.raises(NotMeasurable) as refused:
        between_rows(1.0, [(2.0, 1.0), (1.0, 2.0)])
    assert str(refused.value) == "The first column is [2.0, 1.0]. Give two rows or more in rising order."


def test_nowhere_is_refused() -> None:
    """nan is no place in a table."""
    with pytest.raises(NotMeasurable, match=r"^Place in the table is nan"):
        between_rows(float("nan"), ROWS)
