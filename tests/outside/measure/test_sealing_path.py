"""Openings and the parts they name (common practice: several workshop texts agreeing)."""

import pytest

from knowngood.measure.sealing_path import parts_heard


@pytest.mark.parametrize(
    ("opening", "part"),
    [
        pytest.param("intake", "intake valve", id="r1.28"),
        pytest.param("exhaust", "exhaust valve", id="r1.29"),
        pytest.param("oil filler", "rings", id="r1.30"),
        pytest.param("coolant", "head gasket", id="r1.31"),
        pytest.param("neighbour", "head gasket between the cylinders", id="r1.32"),
    ],
)
def test_opening_names_the_part(opening: str, part: str) -> None:
    """The first part named is the one the trade names."""
    assert parts_heard([opening], percent=40.0).parts[0] == part


@pytest.mark.parametrize("percent", [pytest.param(98.0, id="r1.34")])
def test_total_leak_asks_for_the_other_stroke(percent: float) -> None:
    """An open valve looks like a total leak: 360 degrees off."""
    assert "wrong stroke" in parts_heard([], percent=percent).remark
