"""What a buyer says in his first lines: how he bought it is no work done to it."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.evidence import CarFact, Reading
from knowngood.library import load
from knowngood.lines import read_line
from tests.unit.lines.said import text_of

SIX = Car(cylinders=6, form="V", ignition="coil on plug", injection="port")


@pytest.mark.parametrize(
    "line", ["bought it with battery flat", "bought with a flat battery", "battery was flat", "flat battery"]
)
def test_flat_battery_is_no_new_one(line: str) -> None:
    """Bought with a flat battery: the battery was not replaced."""
    (body,) = read_line(line, SIX, load()).bodies
    assert isinstance(body, Reading)
    assert (body.kind, body.word) == ("battery_cranking", "bad")


@pytest.mark.parametrize("line", ["v6 3.0", "3.0 v6", "V6, 3.0 l"])
def test_litres_on_either_side_of_the_plan(line: str) -> None:
    """``v6 3.0`` as it stands on many a note."""
    found = {body.field: body.value for body in read_line(line, Car(), load()).bodies if isinstance(body, CarFact)}
    assert found == {"cylinders": "6", "form": '"V"', "displacement_l": "3.0"}


def test_a_bare_number_is_no_size() -> None:
    """Without a plan before it, a number with one decimal may be anything."""
    assert not [body for body in read_line("3.0", Car(), load()).bodies if isinstance(body, CarFact)]


def test_spark_on_all() -> None:
    """Said of all cylinders at once."""
    said = [text_of(body) for body in read_line("spark on all", SIX, load()).bodies]
    assert said == [f"spark_test c{number} good" for number in range(1, 7)]
