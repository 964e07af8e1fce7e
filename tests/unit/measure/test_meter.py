"""Meters and their leads."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.meter import less_leads, meter_limit, meter_se
from tests.unit.measure.scatter import scatter


@given(st.floats(0.0, 1e6), st.floats(0.0, 1e6))
def test_larger_reading_has_the_larger_limit(one: float, other: float) -> None:
    """Percent of reading grows with it; the digits stay."""
    low, high = sorted((one, other))
    limits = [meter_limit(value, percent=1.0, digits=3, resolution=0.1) for value in (low, high)]
    assert limits[0] + 1e-12 >= 0.3 and limits[0] <= limits[1]


def test_sign_of_the_reading_does_not_matter() -> None:
    """Swapped probes read as exactly."""
    assert meter_se(-12.6, percent=0.5, digits=1, resolution=0.01) == meter_se(
        12.6, percent=0.5, digits=1, resolution=0.01
    )


def test_error_without_leads_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    _, se = less_leads(0.9, 0.3, ohms_se=0.06, leads_se_ohm=0.03)
    assert se == pytest.approx(scatter(lambda a, b: a - b, (0.9, 0.3), (0.06, 0.03)), rel=0.05)


def test_part_below_its_leads_by_noise_is_zero() -> None:
    """0.2 Ω with leads of 0.3 Ω is a part of none."""
    assert less_leads(0.2, 0.3)[0] == 0.0


def test_part_far_below_its_leads_is_refused() -> None:
    """The leads were read badly."""
    with pytest.raises(NotMeasurable) as refused:
        less_leads(0.1, 0.6)
    assert str(refused.value) == (
        "The part shows 0.1 Ω, the leads alone 0.6 Ω. Hold the probes together firmly and read the leads again."
    )


def test_negative_accuracy_is_refused() -> None:
    """A meter does not err by less than nothing."""
    with pytest.raises(NotMeasurable, match=r"^Percent of reading is -1 %"):
        meter_se(1.0, percent=-1.0, digits=1, resolution=0.1)
