"""What a piece of work cost, in its own line."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.evidence import Work
from knowngood.library import load
from knowngood.lines import read_line

FOUR = Car(cylinders=4)


@pytest.mark.parametrize(
    ("line", "prices"),
    [
        ("replaced coil 3 paid 45", [45.0]),
        ("new plugs all, £46", [46.0]),
        ("replaced plugs all for 12.50 eur each, no change", [50.0]),
        ("replaced coil 3 and coil 4, cost 90", [45.0, 45.0]),
        ("replaced thermostat 30 quid, 40 min", [30.0]),
    ],
)
def test_price_goes_to_the_work_and_is_no_reading(line: str, prices: list[float]) -> None:
    """Shared out evenly among the pieces; ``each`` counts every place."""
    read = read_line(line, FOUR, load())
    assert [body.price for body in read.bodies if isinstance(body, Work)] == prices
    assert len(read.bodies) == len(prices)


def test_price_without_work_is_kept_as_words() -> None:
    """A resistance with a price behind it: the price is asked about, and is no resistance."""
    read = read_line("coil 3 13.9k, paid 45", FOUR, load())
    assert read.left == ("paid 45",)
    assert [getattr(body, "kind", "") for body in read.bodies] == ["coil_secondary", ""]
