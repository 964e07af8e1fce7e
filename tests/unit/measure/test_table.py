"""Between the rows of a table."""

from hypothesis import given
from hypothesis import strategies as st

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
