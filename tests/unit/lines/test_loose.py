"""Clauses in an order and in words that follow no form: one thing of them, or a note."""

from __future__ import annotations

import pytest

from knowngood.car import Car, Place
from knowngood.evidence import Finding, Note, Work
from knowngood.library import load
from knowngood.lines import read_line

CAR = Car(cylinders=4)


@pytest.mark.parametrize(
    ("typed", "part", "place"),
    [
        ("all cracked air duct", "intake_duct", Place("engine")),
        ("gummed up egr", "egr_valve", Place("engine")),
        ("lead 3 nibbled", "lead", Place("cylinder", "3")),
    ],
)
def test_a_part_and_what_is_wrong_with_it_is_a_finding(typed: str, part: str, place: Place) -> None:
    """In either order, and in words that mean the same as those of the library."""
    found = [body for body in read_line(typed, CAR, load()).bodies if isinstance(body, Finding)]
    assert [(body.part, body.place, body.seen) for body in found] == [(part, place, True)]


@pytest.mark.parametrize("typed", ["front xqzt bald", "maybe the thermostat is gummed up", "coil 4 dead on bench"])
def test_what_is_not_one_thing_is_no_finding(typed: str) -> None:
    """A word without a use, an opinion, and what is no sight are kept as they were."""
    assert not any(isinstance(body, Finding | Work) for body in read_line(typed, CAR, load()).bodies)


def test_two_statements_without_a_sign_between_are_two() -> None:
    """A name behind something said begins another, where that leaves nothing over."""
    bodies = read_line("plug 3 oily compression 3 150 psi", CAR, load()).bodies
    assert [getattr(body, "kind", "") for body in bodies] == ["plug_look", "compression"]
    assert not any(isinstance(body, Note) for body in bodies)
