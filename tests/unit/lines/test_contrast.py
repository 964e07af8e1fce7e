"""Conditions in clauses of their own, and "only": there under one condition, absent otherwise."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.library import load
from knowngood.lines import read_line
from tests.unit.lines.said import text_of

FOUR = Car(cylinders=4, form="inline", ignition="coil on plug", injection="port")


def said(line: str, car: Car = FOUR) -> list[str]:
    return [text_of(body) for body in read_line(line, car, load()).bodies]


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("hesitates only under load", ["hesitates yes [pull]", "hesitates no [hot idle]"]),
        ("knocks only when cold", ["knocks yes [cold idle]", "knocks no [hot idle]"]),
        ("stalls, only in the rain", ["stalls yes [wet]", "stalls no"]),
        ("only misfires under load", ["misfires_pulling yes [pull]", "misfires no [hot idle]"]),
        ("stalls only when hot", ["stalls_hot yes [hot idle]", "stalls no [cold idle]"]),
        ("miss on 3 only when wet", ["miss c3 yes [wet]", "miss c3 no"]),
    ],
)
def test_only_is_two_readings(line: str, bodies: list[str]) -> None:
    """There under that condition, absent in the nearest ordinary state."""
    assert said(line) == bodies


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("hesitates, under load", ["hesitates yes [pull]"]),
        ("shakes, not when hot", ["shakes yes", "shakes no [hot idle]"]),
        ("knocks, fine when warm", ["knocks yes", "knocks no [hot idle]"]),
        ("when cold, shakes and stalls", ["shakes yes [cold idle]", "stalls yes [cold idle]"]),
        ("dies now and then", ["stalls yes [comes and goes]"]),
        ("knocks, comes and goes", ["knocks yes [comes and goes]"]),
    ],
)
def test_condition_of_its_own_clause_belongs_to_what_stands_beside_it(line: str, bodies: list[str]) -> None:
    """In front of it or behind it; coming and going is no complaint by itself."""
    assert said(line) == bodies


def test_coming_and_going_alone_says_nothing() -> None:
    """It is kept as a note with a question, never as bumps that cut the engine out."""
    understood = read_line("comes and goes", FOUR, load())
    assert [text_of(body) for body in understood.bodies] == ["note: comes and goes"]
    assert understood.asks


@pytest.mark.parametrize(
    "line",
    [
        "smoke test",
        "block test",
        "timing light",
        "return line",
        "knock sensor tap",
        "pressure test",
        "rocker cover off",
        "smokes",
        "weak",
        "dead",
        "looked for orange cables",
        "wet rag",
        "wet compression",
        "strainer",
        "oil lamp",
    ],
)
def test_name_alone_shows_nothing(line: str) -> None:
    """A test or a look that is only named, or a word that may be of anything, is no reading."""
    assert not [text for text in said(line) if not text.startswith(("note", "rocker"))]
