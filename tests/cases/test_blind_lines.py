"""Sixty lines by one who has not seen the grammar: a floor under how many are understood."""

from __future__ import annotations

from functools import cache

from knowngood.library import load
from knowngood.proving.blind import Read, facts, held_against, read_blind

FLOOR = 19
"""Of 60, as reached; 10 at the first reading."""
MOST_MISHEARD = 11
"""Lines that make an entry which was not meant, as reached; 22 at the first reading."""


@cache
def read() -> tuple[Read, ...]:
    """The lines."""
    return tuple(read_blind(load()))


def test_as_many_are_understood_as_were_before() -> None:
    """The lines that are not are shown."""
    assert len(read()) == 60
    assert sum(line.understood for line in read()) >= FLOOR, [line for line in read() if not line.understood]


def test_no_more_are_misheard_than_were_before() -> None:
    """An entry that counts and was not meant is worse than a note."""
    assert sum(bool(line.added) for line in read()) <= MOST_MISHEARD, [line for line in read() if line.added]


def test_a_row_of_facts_is_one_at_each_place() -> None:
    """Each number at its own cylinder."""
    found = facts("compression @c1..3 =165,160,162 psi")
    assert [(fact.place, fact.number, fact.unit) for fact in found] == [
        ("c1", "165", "psi"),
        ("c2", "160", "psi"),
        ("c3", "162", "psi"),
    ]


def test_an_entry_too_many_is_named() -> None:
    """Nothing wanted, one entry made."""
    from knowngood.car import Car
    from knowngood.lines import read_line

    bodies = read_line("fuel pressure 41 psi", Car(cylinders=4), load()).bodies
    assert held_against({"want": ["fuel_pressure =41 psi"]}, bodies, load()) == ([], [])
    assert held_against({"want": ["fuel_pressure =14 psi"]}, bodies, load()) == (
        ["fuel_pressure =14 psi"],
        ["fuel_pressure"],
    )
