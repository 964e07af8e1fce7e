"""What lies on the shelf, and what is on its way."""

from __future__ import annotations

import pytest

from knowngood.app.shelf import Shelf
from knowngood.evidence import Stock

TWO_HERE = Stock(part="coil", count=2)
ONE_ORDERED = Stock(part="coil", count=1, wait_days=3.0, state="ordered")


def shelf(*said: Stock) -> Shelf:
    """With what was said, in this order."""
    result = Shelf()
    for one in said:
        result.put(one)
    return result


def there(met: Shelf) -> tuple[int, float] | None:
    """Pieces and wait of what can be fitted first."""
    stock = met.get("coil")
    return None if stock is None else (stock.count, stock.wait_days)


@pytest.mark.parametrize(
    ("said", "first", "lying"),
    [
        ([], None, 0),
        ([Stock(part="coil", state="wanted")], None, 0),
        ([ONE_ORDERED], (1, 3.0), 1),
        ([Stock(part="coil", wait_days=2.0)], (1, 2.0), 1),
        ([TWO_HERE, ONE_ORDERED], (2, 0.0), 3),
        ([ONE_ORDERED, TWO_HERE], (2, 0.0), 2),
        ([TWO_HERE, ONE_ORDERED, Stock(part="coil", state="arrived")], (3, 0.0), 3),
        ([Stock(part="coil", count=4, state="ordered"), Stock(part="coil", state="arrived")], (4, 0.0), 4),
        ([TWO_HERE, TWO_HERE], (2, 0.0), 2),
        ([TWO_HERE, Stock(part="coil", count=2, state="returned")], None, 0),
    ],
)
def test_an_order_takes_nothing_away_of_what_lies_here(
    said: list[Stock], first: tuple[int, float] | None, lying: int
) -> None:
    """What lies here is fitted first, without a wait."""
    met = shelf(*said)
    assert (there(met), met.lying("coil")) == (first, lying)


def test_what_is_fitted_is_taken_from_the_shelf_before_an_order() -> None:
    """Fitted beyond what lay here, it had come meanwhile; none is less than none."""
    met = shelf(TWO_HERE, ONE_ORDERED)
    met.take("coil", 2)
    assert there(met) == (1, 3.0)
    met.take("coil", 5)
    assert there(met) is None
