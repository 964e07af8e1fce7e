"""A wet compression by number is weighed beside the dry one of its cylinder."""

from __future__ import annotations

import pytest

from knowngood.app.asks import asks_of
from knowngood.app.compression_row import wet_without_dry
from knowngood.evidence import Reading
from tests.told import state_after

CAR = "4 cylinders inline, coil on plug, port injection, flow meter"
ROW = "comp 170 172 60 171 psi"


def word_of(*lines: str) -> str:
    """The word the last wet reading comes to."""
    bodies = [entry.body for entry in state_after(CAR, *lines).entries]
    return [body.word for body in bodies if isinstance(body, Reading) and body.kind == "compression_wet"][-1]


@pytest.mark.parametrize(
    ("wet", "word"),
    [
        ("comp 3 140 psi with oil", "rises"),
        ("compression wet 3 140 psi", "rises"),
        ("wet comp 3 65 psi", "stays low"),
        ("wet comp 1 180 psi", "as dry"),
        ("compression wet 3: rises", "rises"),
    ],
)
def test_number_comes_to_the_word_it_means(wet: str, word: str) -> None:
    """60 against 171 in the others: 140 is the rings, 65 is not; a good cylinder gains a little by the oil's room."""
    assert word_of(ROW, wet) == word


def test_a_cylinder_alone_is_judged_by_itself() -> None:
    """The others were not measured."""
    assert word_of("comp 3 60 psi", "comp 3 140 psi with oil") == "rises"
    assert word_of("comp 3 60 psi", "comp 3 63 psi with oil") == "stays low"


def test_number_weighs_as_much_as_its_word() -> None:
    """The rings of 3 stand as high by 140 psi as by "rises", and well above what they were."""

    def rings(*lines: str) -> float:
        belief = state_after(CAR, ROW, *lines).belief
        chances = zip(belief.faults, belief.chances(), strict=True)
        return sum(float(chance) for at, chance in chances if at.fault == "rings_worn" and at.place.name == "3")

    by_number, by_word, before = rings("wet comp 3 140 psi"), rings("compression wet 3: rises"), rings()
    assert by_number == pytest.approx(by_word, abs=1e-6)
    assert by_number > before + 0.2
    assert rings("wet comp 3 65 psi") < before


def test_wet_without_dry_is_asked_about() -> None:
    """It says nothing by itself, and says so."""
    state = state_after(CAR, "wet comp 3 140 psi")
    assert [str(place) for place in wet_without_dry(state.entries)] == ["cylinder 3"]
    assert "What did cylinder 3 read dry? The wet compression says nothing without it." in asks_of(state, ())
    assert word_of("wet comp 3 140 psi", ROW) == "rises"
