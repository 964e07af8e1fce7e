"""Lines as a mechanic types them: what counts of each, and that what is half understood is asked about."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from knowngood.car import Car
from knowngood.evidence import Note, Reading
from knowngood.library import load
from knowngood.lines import Understood, read_line
from tests.unit.lines.said import text_of

Line = tuple[str, str, list[str]]

CARS = {
    "four": Car(cylinders=4, form="inline", ignition="coil on plug", injection="port"),
    "five": Car(cylinders=5, form="inline", ignition="coil on plug", injection="port"),
    "six": Car(cylinders=6, form="V", ignition="coil on plug", injection="port"),
    "eight": Car(cylinders=8, form="V", ignition="coil on plug", injection="port"),
    "distributor": Car(cylinders=4, form="inline", ignition="distributor", injection="port"),
}


def _lines(part: str) -> list[Line]:
    content = tomllib.loads(Path("tests/cases/lines_typed.toml").read_text(encoding="utf-8"))
    return [(car, typed, says) for car, typed, says in content[part]]


def _counts(read: Understood) -> list[str]:
    sure = (body for body in read.bodies if not isinstance(body, Note))
    return [text_of(body) for body in sure if not (isinstance(body, Reading) and body.doubt)]


@pytest.mark.parametrize(("car", "typed", "says"), _lines("heard"))
def test_line_counts_as_it_was_meant(car: str, typed: str, says: list[str]) -> None:
    """Nothing else counts, and nothing less."""
    assert _counts(read_line(typed, CARS[car], load())) == says


@pytest.mark.parametrize(("car", "typed", "says"), _lines("half"))
def test_what_is_not_understood_is_kept(car: str, typed: str, says: list[str]) -> None:
    """What is not sure does not count; it stands in a note, in a doubt or among the words that are left."""
    read = read_line(typed, CARS[car], load())
    assert _counts(read) == says
    doubted = any(isinstance(body, Reading) and body.doubt for body in read.bodies)
    assert doubted or read.left or any(isinstance(body, Note) for body in read.bodies)


def test_denied_part_of_a_line_changes_what_counts() -> None:
    """The texts tell one meaning from another."""
    car, library = CARS["four"], load()
    assert _counts(read_line("spark on all but 2", car, library)) != _counts(read_line("spark on all", car, library))
