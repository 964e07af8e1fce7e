"""Lines as they are spoken: what is only a way of saying it is taken off before the line is read."""

from __future__ import annotations

import pytest

from knowngood.lines.spoken import plainly_spoken


@pytest.mark.parametrize(
    ("spoken", "plain"),
    [
        ("I can hear a rattle on cold start", "rattle on cold start"),
        ("there's no coolant missing", "no coolant missing"),
        ("number two 155, number three 95, no sorry, 90", "number two 155, number three 90"),
        ("It was P0430, no wait, P0420", "It was P0420"),
        ("160 psi, no sorry, P0303", "160 psi, no sorry, P0303"),
        ("one hundred and eighteen thousand miles", "118000 miles"),
        ("two and a half years", "2.5 years"),
        ("minus 40 degrees coolant", "-40 coolant"),
        ("base timing 10 degrees before", "base timing 10 degrees before"),
        ("squirted oil in 3, came up to 140 psi", "compression cylinder 3 wet 140 psi"),
        ("it cranks for ten seconds before it fires", "it hard to start ten seconds"),
        ("I still have a spare coil", "have a spare coil"),
        ("comp 175 180 60 175", "comp 175 180 60 175"),
    ],
)
def test_way_of_saying_is_taken_off(spoken: str, plain: str) -> None:
    """A number corrected in the saying stands as corrected; a code does not correct a number."""
    assert plainly_spoken(spoken) == plain
