"""Spark plug leads."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.lead import lead_kind, lead_per_metre, lead_row, plug_resistor
from tests.unit.measure.scatter import scatter


def test_one_high_lead_stands_apart() -> None:
    """18 kΩ among fives."""
    row = lead_row([5100.0, 5300.0, 18000.0, 5200.0, 6000.0, 5500.0])
    assert (row.apart, row.open_line, row.over_limit, row.per_metre) == ((3,), (), (), False)


def test_long_lead_is_not_accused_for_its_length() -> None:
    """By the metre a long lead is like the others; by the ohm it is not."""
    ohms, lengths = [4000.0, 4200.0, 8000.0, 4100.0], [330.0, 350.0, 660.0, 340.0]
    assert lead_row(ohms).apart == (3,)
    assert lead_row(ohms, lengths).apart == ()


def test_open_lead_is_named_and_left_out_of_the_middle() -> None:
    """No continuity is found at once; a missing reading is not one."""
    row = lead_row([5000.0, math.inf, 5200.0, None, 5100.0, 31000.0])
    assert (row.open_line, row.over_limit, row.apart) == ((2,), (6,), (6,))


def test_shorted_lead_stands_apart_too() -> None:
    """A lead without its core resistance is the wrong kind, or shorted."""
    assert lead_row([5000.0, 5200.0, 5100.0, 300.0]).apart == (4,)


@given(st.permutations([5100.0, 5300.0, 18000.0, 5200.0]))
def test_order_of_the_leads_does_not_matter(ohms: list[float]) -> None:
    """The accused follows the value."""
    assert lead_row(ohms).apart == (ohms.index(18000.0) + 1,)


def test_error_by_the_metre_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    _, se = lead_per_metre(5100.0, 400.0, ohms_se=60.0)
    assert se == pytest.approx(scatter(lambda r, mm: 1000.0 * r / mm, (5100.0, 400.0), (60.0, 10.0)), rel=0.05)


@pytest.mark.parametrize(
    ("ohms", "word"),
    [(5.0, "no resistor"), (4800.0, "resistor"), (25000.0, "unusual"), (300.0, "unusual"), (math.inf, "open")],
)
def test_plug_by_its_resistance(ohms: float, word: str) -> None:
    """About 5 kΩ, nothing, or something to look at."""
    assert plug_resistor(ohms) == word


def test_between_the_kinds_is_no_kind() -> None:
    """9 kΩ a metre is neither."""
    assert lead_kind(9000.0) == ()
    assert lead_kind(45000.0) == ("over the ceiling",)


def test_open_lead_has_no_resistance_a_metre() -> None:
    """It is a finding already."""
    with pytest.raises(NotMeasurable) as refused:
        lead_per_metre(math.inf, 400.0)
    assert str(refused.value) == "The lead has no continuity: no resistance a metre. Write it down as open."


def test_two_leads_are_no_row() -> None:
    """Two against each other accuse nobody."""
    with pytest.raises(NotMeasurable) as refused:
        lead_row([5000.0, 9000.0, None])
    assert str(refused.value) == (
        "Leads: 2 with a reading. At least 3 are needed for a row; open leads are already found."
    )


def test_lengths_for_some_are_refused() -> None:
    """All or none."""
    with pytest.raises(NotMeasurable) as refused:
        lead_row([5000.0, 5000.0, 5000.0], [300.0])
    assert str(refused.value) == "3 leads, 1 lengths. Give a length for each lead, or none."


def test_middle_of_an_even_row_is_better_known_than_one_lead() -> None:
    """The mean of two has their error over root two; a lead that is the middle itself, its own."""
    assert lead_row([5000.0, 5200.0, 5400.0, 5600.0], ohms_se=60.0).middle_se == pytest.approx(60.0 / math.sqrt(2.0))
    assert lead_row([5000.0, 5200.0, 5400.0], ohms_se=60.0).middle_se == pytest.approx(60.0)


def test_resistance_below_zero_is_no_lead() -> None:
    """In a row as by itself."""
    with pytest.raises(NotMeasurable) as refused:
        lead_row([5000.0, -5000.0, 5000.0])
    assert str(refused.value) == "Resistance of the lead is -5000 Ω. Give 0 or more in Ω."
