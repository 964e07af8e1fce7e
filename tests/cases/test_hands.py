"""Sets of lines by hands that had not seen the grammar: a floor under what is kept of each."""

from __future__ import annotations

from functools import cache

import pytest

from knowngood.library import load
from knowngood.proving.hands import Hand, figures_of_hands, read_hands

FLOORS = {"set_a": (57, 0), "set_b": (51, 0), "set_c": (47, 0), "set_d": (56, 0), "set_e": (43, 5), "set_f": (26, 12)}
FLOORS |= {"set_k": (57, 0)}
"""Understood of 60, and lines that make an entry which was not meant, as reached."""
BAY = {"set_g": (24, 0), "set_h": (24, 1), "set_i": (22, 1), "set_j": (24, 0)}
"""The same of the four cars of one hand, 31 lines each."""
FLOORS |= BAY


@cache
def hands() -> dict[str, Hand]:
    """The sets by name."""
    return {hand.name: hand for hand in read_hands(load())}


def test_every_set_has_its_floor() -> None:
    """A set without one would not be held."""
    assert set(hands()) == set(FLOORS)
    assert all(len(hand.lines) == (31 if name in BAY else 60) for name, hand in hands().items())


@pytest.mark.parametrize("name", FLOORS)
def test_as_many_are_understood_as_were_before(name: str) -> None:
    """The lines that are not are shown; no more are misheard than were before."""
    hand, (floor, most) = hands()[name], FLOORS[name]
    assert hand.understood >= floor, [line for line in hand.lines if not line.understood]
    assert hand.misheard <= most, [line for line in hand.lines if line.added]


def test_a_set_that_was_mended_on_is_called_fitted() -> None:
    """No figure of a set that the grammar was made better on passes for one of a new hand."""
    for name in figures_of_hands(load()):
        hand = hands()[name.removeprefix("cases.shorthand_").rsplit("_", 1)[0]]
        assert name.endswith("_fitted" if hand.seen else "_unseen")
