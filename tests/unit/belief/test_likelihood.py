"""Chances of a number or a word at each level of a ladder."""

from __future__ import annotations

import math

import msgspec
import numpy as np
import pytest

from knowngood.belief.likelihood import (
    METER_SHARE,
    bell_below,
    covered,
    interval,
    level_grid,
    number_table,
    span_of,
    spread_chance,
    sum_table,
    with_gross_errors,
    word_table,
)
from knowngood.evidence import Value
from knowngood.library.records import ReadingKind, Spread

KIND = ReadingKind(
    id="k",
    name="k",
    place="engine",
    source="memory",
    levels=("good", "bad"),
    words=("yes", "no"),
    chance={"good": {"yes": 0.1, "no": 0.9}, "bad": {"yes": 0.7, "no": 0.3}},
    spread={"good": Spread(at=10.0, spread=1.0), "bad": Spread(low=1.0, high=100.0, zero=0.1, open=0.2)},
    per_step=-5.0,
    offset=1.0,
    noise=2.5,
)


@pytest.mark.parametrize(
    ("value", "ends"),
    [
        (Value(10.0, step=1.0), (9.5, 10.5)),
        (Value(100.0), (99.6, 100.4)),
        (Value(100.0, sense="about"), (92.0, 108.0)),
        (Value(5.0, sense="over"), (5.0, math.inf)),
        (Value(5.0, sense="under"), (-math.inf, 5.0)),
        (Value(5.0, sense="range", low=4.0, high=7.0), (4.0, 7.0)),
    ],
)
def test_number_stands_for_an_interval(value: Value, ends: tuple[float, float]) -> None:
    """Half the last digit, 0.4 % where that is more, 8 % for "about", no end for over and under."""
    assert interval(value) == pytest.approx(ends)


def test_bell_between_its_marks() -> None:
    """Two of three values within one standard deviation, 95 of 100 within two."""
    bell = Spread(at=10.0, spread=1.0)
    assert spread_chance(bell, 9.0, 11.0, noise=0.0) == pytest.approx(0.6827, abs=5e-5)
    assert spread_chance(bell, 8.0, 12.0, noise=0.0) == pytest.approx(0.9545, abs=5e-5)
    assert bell_below(0.0) == 0.5


def test_meter_widens_the_bell() -> None:
    """A value known exactly reads as widely as the meter errs."""
    sure = Spread(at=10.0, spread=0.0)
    assert spread_chance(sure, 10.0 - 10 * METER_SHARE, 10.0 + 10 * METER_SHARE) == pytest.approx(0.6827, abs=5e-5)


def test_even_in_log_between_its_ends() -> None:
    """From 1 to 100, a reading between 10 and 20 has log 2 / log 100; outside it has none."""
    even = Spread(low=1.0, high=100.0)
    assert spread_chance(even, 10.0, 20.0, noise=0.0) == pytest.approx(math.log(2) / math.log(100))
    assert spread_chance(even, 200.0, 300.0, noise=0.0) == 0.0
    assert spread_chance(even, 50.0, math.inf, noise=0.0) == pytest.approx(math.log(2) / math.log(100))


def test_open_and_zero_are_points() -> None:
    """No end and nothing at all are chances of their own beside the span."""
    points = Spread(low=1.0, high=100.0, zero=0.1, open=0.2)
    assert spread_chance(points, -1e-9, 1e-9, noise=0.0) == pytest.approx(0.1)
    assert spread_chance(points, 1e10, 1e12, noise=0.0) == pytest.approx(0.2)
    assert spread_chance(points, -math.inf, math.inf, noise=0.0) == pytest.approx(1.0)
    assert spread_chance(Spread(open=1.0), 1e10, 1e12) == 1.0


def test_spread_scales_with_the_healthy_level() -> None:
    """Relative readings: twice the healthy level, twice the value, the same chance."""
    bell = Spread(at=1.0, spread=0.1)
    assert spread_chance(bell, 180.0, 220.0, 200.0) == pytest.approx(spread_chance(bell, 90.0, 110.0, 100.0))


def test_gross_errors_cap_a_reading() -> None:
    """What cannot be at one level is still read there by mistake: at most (1 - e) / e to 1."""
    table = with_gross_errors(np.array([1.0, 0.0]), 0.02)
    assert table == pytest.approx([0.98, 0.02])
    three = with_gross_errors(np.array([0.6, 0.0, 0.3]), 0.1)
    assert three == pytest.approx([0.9 * 0.6 + 0.1 * 0.15, 0.1 * 0.45, 0.9 * 0.3 + 0.1 * 0.3])
    assert with_gross_errors(np.array([0.4]), 0.1) == pytest.approx([0.4])


@pytest.mark.parametrize(
    ("word", "table"),
    [
        ("yes", [0.1, 0.7]),
        ("no", [0.9, 0.3]),
        ("good", [0.9, 0.3]),
        ("not as it should be", [0.1, 0.7]),
        ("purple", [1.0, 1.0]),
    ],
)
def test_words(word: str, table: list[float]) -> None:
    """The kind's own words, a judgement without one, and a word that says nothing."""
    assert word_table(KIND, KIND.levels, word) == pytest.approx(table)


def test_numbers_at_each_level() -> None:
    """None seen is zero: by the point mass of the bad level only."""
    assert number_table(KIND, KIND.levels, Value(0.0, sense="none seen")) == pytest.approx([0.0, 0.1], abs=1e-6)
    at_ten = number_table(KIND, KIND.levels, Value(10.0, step=0.2))
    assert at_ten[0] > 5.0 * at_ten[1] > 0.0


def test_number_on_a_sum() -> None:
    """A trim of +11 is two lean steps of 5 % from +1; the last step stands for all beyond, so +90 is it."""
    steps = range(-4, 5)
    table = sum_table(KIND, steps, Value(11.0, step=1.0))
    assert steps[int(table.argmax())] == -2
    beyond = sum_table(KIND, steps, Value(90.0, step=1.0))
    assert steps[int(beyond.argmax())] == -4
    assert beyond[0] > 5.0 * beyond[1] > 0.0
    other_end = sum_table(KIND, steps, Value(-90.0, step=1.0))
    assert steps[int(other_end.argmax())] == 4


def test_wide_range_is_a_value_that_moved() -> None:
    """10 to 16 V: 10 to 16 can be all of it, 14 with 0.2 (13.4 to 14.6) a fifth of it, 1 to 12.4 two fifths.

    13.9 to 14.1 is one value read twice: then the narrow bell explains it better than the wide span.
    """
    spread = {
        "low": Spread(low=1.0, high=12.4),
        "steady": Spread(at=14.0, spread=0.2),
        "swings": Spread(low=10.0, high=16.0),
    }
    kind = msgspec.structs.replace(KIND, levels=tuple(spread), spread=spread)
    wide = number_table(kind, kind.levels, Value(None, low=10.0, high=16.0, sense="range"))
    assert wide == pytest.approx([2.4 / 6.0, 1.2 / 6.0, 1.0])
    twice = number_table(kind, kind.levels, Value(None, low=10.0, high=16.0, sense="range"), 0.5)
    assert twice == pytest.approx([0.0, 0.0, 0.0]), "at half the healthy level no level reaches it"
    one = number_table(kind, kind.levels, Value(None, low=13.9, high=14.1, sense="range"))
    assert one[1] > 5.0 * one[2] > 0.0


def test_grid_is_even_in_log_and_inside() -> None:
    """Thirty-six points in the middle of thirty-six equal steps of log."""
    grid = level_grid(100.0, 10_000.0, 36)
    assert len(grid) == 36
    assert np.diff(np.log(grid)) == pytest.approx(math.log(100.0) / 36)
    assert grid[0] / 100.0 == pytest.approx(10_000.0 / grid[-1])


@pytest.mark.parametrize(
    ("spread", "scale", "span"),
    [
        (Spread(at=10.0, spread=1.0), 1.0, (7.0, 13.0)),
        (Spread(at=1.0, spread=0.1), 200.0, (140.0, 260.0)),
        (Spread(low=1.0, high=100.0), 1.0, (1.0, 100.0)),
        (Spread(low=0.5, high=0.75), 8.0, (4.0, 6.0)),
        (Spread(zero=1.0), 8.0, (0.0, 0.0)),
    ],
)
def test_span_of_a_spread(spread: Spread, scale: float, span: tuple[float, float]) -> None:
    """Three times the spread to either side, or from end to end; both go with the healthy level."""
    assert span_of(spread, scale) == pytest.approx(span)


@pytest.mark.parametrize(
    ("low", "high", "share"), [(2.0, 12.0, 0.8), (4.0, 12.0, 1.0), (0.0, 4.0, 0.0), (3.0, 5.0, 0.5), (14.0, 20.0, 0.0)]
)
def test_share_of_a_range_that_values_cover(low: float, high: float, share: float) -> None:
    """Values from 4 to 12 cover of 2 to 12 four fifths, of what lies outside nothing."""
    assert covered(Spread(low=0.5, high=1.5), low, high, 8.0) == pytest.approx(share)
