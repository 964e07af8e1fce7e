"""Three lines a stranger typed, each once read as something else."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.evidence import CarFact, Reading
from knowngood.library.load import load
from knowngood.lines import read_line

SIX = Car(cylinders=6, form="flat", ignition="coil on plug", drive="petrol")


def test_shed_is_no_mixture() -> None:
    """Under a lean-to it stood; it does not run lean for that."""
    bodies = read_line("stood three winters, under a lean-to by the river", SIX, load()).bodies
    assert any(isinstance(body, CarFact) and body.field == "standing_years" for body in bodies)
    assert not any(isinstance(body, Reading) for body in bodies)


@pytest.mark.parametrize(
    ("line", "read"),
    [
        ("comp 5 12.0", {"cylinder 5": 12.0}),
        (
            "comp 12.0 11.8 12.1 11.9 3.9 12.0",
            {f"cylinder {at}": bar for at, bar in enumerate((12, 11.8, 12.1, 11.9, 3.9, 12), 1)},
        ),
    ],
)
def test_whole_number_before_tenths_is_the_cylinder(line: str, read: dict[str, float]) -> None:
    """One cylinder measured again; a whole row stays a row."""
    bodies = [body for body in read_line(line, SIX, load()).bodies if isinstance(body, Reading)]
    assert {str(body.place): body.value.number for body in bodies if body.value is not None} == pytest.approx(
        {place: 100 * bar for place, bar in read.items()}
    )  # 1 bar = 100 kPa
