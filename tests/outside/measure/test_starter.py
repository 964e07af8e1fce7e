"""Starter circuit: US Army TM 10-3930-671-24, p. F-303."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.starter import check_cranking, starter_loss


@pytest.mark.parametrize(
    ("volts", "amps"), [pytest.param(0.20, 100.0, id="r4.08-100A"), pytest.param(0.40, 200.0, id="r4.08-200A")]
)
def test_loss_per_hundred_amps(volts: float, amps: float) -> None:
    """At most 0.20 V for each 100 A."""
    sharp = {"drop_se_v": 0.0, "current_se_a": 0.0}
    assert starter_loss(volts, amps, **sharp).v_per_100_a == pytest.approx(0.20)
    assert starter_loss(volts - 0.001, amps, **sharp).word == "within"
    assert starter_loss(volts + 0.001, amps, **sharp).word == "over"


@pytest.mark.parametrize(("crank_s", "rest_s"), [pytest.param(30.0, 120.0, id="r4.08-rest")])
def test_crank_and_rest(crank_s: float, rest_s: float) -> None:
    """30 s at most, then 2 min at least."""
    check_cranking(crank_s, rest_s)
    with pytest.raises(NotMeasurable):
        check_cranking(crank_s, rest_s - 1.0)
    with pytest.raises(NotMeasurable):
        check_cranking(crank_s + 1.0, rest_s)
