"""Meter accuracy (accuracy notes of makers of meters; JCGM 100:2008, 4.3.7)."""

import math

import pytest
from scipy.stats import uniform

from knowngood.measure.meter import less_leads, meter_limit, meter_se


@pytest.mark.parametrize(
    ("reading", "percent", "digits", "resolution", "limit"),
    [
        pytest.param(120.0, 1.0, 3, 0.1, 1.5, id="r3.21-120V"),
        pytest.param(2.0, 0.5, 10, 0.0001, 0.0110, id="r3.21-2.0000V"),
        pytest.param(2.0, 0.08, 2, 0.001, 0.0036, id="r3.21-2.000V"),
    ],
)
def test_printed_accuracy(reading: float, percent: float, digits: int, resolution: float, limit: float) -> None:
    """The notes' own examples; the standard error is that of an even spread between the limits."""
    given = {"percent": percent, "digits": digits, "resolution": resolution}
    assert meter_limit(reading, **given) == pytest.approx(limit, rel=1e-9)
    assert meter_se(reading, **given) == pytest.approx(uniform(-limit, 2.0 * limit).std(), rel=1e-9)


@pytest.mark.parametrize("leads_ohm", [pytest.param(0.2, id="r3.22-0.2"), pytest.param(0.5, id="r3.22-0.5")])
def test_leads_are_taken_off(leads_ohm: float) -> None:
    """0.2 to 0.5 Ω is usual and comes off."""
    ohms, se = less_leads(0.8, leads_ohm, ohms_se=0.1 / math.sqrt(3.0), leads_se_ohm=0.1 / math.sqrt(3.0))
    assert ohms == pytest.approx(0.8 - leads_ohm)
    assert se == pytest.approx(0.1 * math.sqrt(2.0 / 3.0))
