"""Findings a mechanic tells in his own words go to the fault they name, and explain what they explain."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.state import State
from tests.told import kept_after

CAR = "petrol, V6, coil on plug, port injection, flow meter, 214000 km, about 2004"


def after(folder: Path, *lines: str) -> State:
    """The car with some lines told."""
    return kept_after(folder, CAR, *lines)


def chance(state: State, fault: str) -> float:
    """The chance of a fault, at the place where it is likeliest."""
    chances = zip(state.belief.faults, state.belief.chances(), strict=True)
    return max(float(one) for at, one in chances if at.fault == fault)


def test_catalyst_that_is_missing_is_not_worn(tmp_path: Path) -> None:
    """The code of a weak catalyst is explained by a pipe in its place: none is bought for being worn (on its face)."""
    before = after(tmp_path / "a", "P0420 stored")
    missing = after(tmp_path / "b", "P0420 stored", "catalyst sawn off")
    assert chance(before, "catalyst_worn") > 0.4
    assert chance(missing, "catalyst_missing") > 0.99
    assert chance(missing, "catalyst_worn") < 0.15


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("airbag lamp stays on", "seat_belt_bad"),
        ("airbag light stays on", "seat_belt_bad"),
        ("boot lamp stays on", "lamp_stays_on"),
        ("cat cut out", "catalyst_missing"),
    ],
)
def test_lamp_is_the_lamp_that_was_named(tmp_path: Path, line: str, fault: str) -> None:
    """The airbag lamp is no boot lamp: what is found is the fault the words name."""
    assert chance(after(tmp_path, line), fault) > 0.99
