"""What the odometer said when, and what was driven since."""

from __future__ import annotations

import pytest

from knowngood.app.odometer import km_at, km_since, readings_km
from knowngood.evidence import CarFact, Entry

TOLD = (("02", "180000"), ("04", "null"), ("06", "180400.5"))


def entries(*told: tuple[str, str]) -> list[Entry]:
    """A mileage told at nine on some days of May."""
    stamps = [f"2026-05-{day}T09:00:00.000000Z" for day, _ in told]
    return [
        Entry(id=stamp, at=stamp, entered=stamp, body=CarFact("mileage_km", km))
        for stamp, (_, km) in zip(stamps, told, strict=True)
    ]


def test_mileage_that_was_made_unknown_again_is_none_that_was_told() -> None:
    """The others stand with their moment."""
    assert readings_km(entries(*TOLD)) == [
        ("2026-05-02T09:00:00.000000Z", 180000.0),
        ("2026-05-06T09:00:00.000000Z", 180400.5),
    ]


@pytest.mark.parametrize(
    ("moment", "km"),
    [
        ("2026-05-01", 180000.0),  # before any: the first that was told
        ("2026-05-02", 180000.0),
        ("2026-05-02T09:00:00.000000Z", 180000.0),
        ("2026-05-06", 180400.5),  # told on that very day
        ("2026-05-06T09:00:00.000000Z", 180400.5),  # with the work itself
        ("2026-05-06T08:59:59.000000Z", 180000.0),
    ],
)
def test_mileage_at_a_moment_is_that_told_last(moment: str, km: float) -> None:
    """Distance since it is what the last word adds to it."""
    assert km_at(entries(*TOLD), moment) == km
    assert km_since(entries(*TOLD), moment) == pytest.approx(180400.5 - km)


def test_mileage_never_told_is_not_known() -> None:
    """Nor is a distance; and none is below zero, where a typing error stood before."""
    assert km_at([], "2026-05-01") is None and km_since([], "2026-05-01") is None
    assert km_since(entries(("02", "1800000"), ("06", "180000")), "2026-05-03") == 0.0
