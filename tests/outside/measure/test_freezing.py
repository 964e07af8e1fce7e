"""Freezing of glycol mixtures."""

import pytest
from CoolProp.CoolProp import PropsSI

from knowngood.measure.freezing import freezing_point


@pytest.mark.parametrize(
    ("glycol", "kind", "celsius"),
    [
        pytest.param(50, "ethylene", -36.8, id="r9.11-EG50"),
        pytest.param(50, "ethylene", -37.0, id="r9.11-EG50-rounded"),
        pytest.param(50, "propylene", -33.3, id="r9.12-PG50"),
        pytest.param(30, "propylene", -12.8, id="r9.12-PG30"),
    ],
)
def test_published(glycol: float, kind: str, celsius: float) -> None:
    """-34.2 °F and -37 °C (common practice); Lange's handbook, table 5.13."""
    assert freezing_point(glycol, kind)[0] == pytest.approx(celsius, abs=0.3)


@pytest.mark.parametrize("celsius", [-52.0])
def test_60_percent_against_coolprop(celsius: float) -> None:
    """The end of the ethylene table."""
    assert PropsSI("T_FREEZE", "T", 300.0, "P", 1e5, "INCOMP::AEG[0.6]") - 273.15 == pytest.approx(celsius, abs=0.2)
    assert freezing_point(60)[0] == pytest.approx(celsius, abs=0.2)


@pytest.mark.parametrize("glycol", [10, 20, 25, 30, 40, 45, 50])
@pytest.mark.parametrize(("kind", "fluid"), [("ethylene", "AEG"), ("propylene", "APG")])
def test_against_coolprop(glycol: float, kind: str, fluid: str) -> None:
    """Within 1.3 °C of the volume-based ASHRAE data that CoolProp carries."""
    other = PropsSI("T_FREEZE", "T", 300.0, "P", 1e5, f"INCOMP::{fluid}[{glycol / 100}]") - 273.15
    assert freezing_point(glycol, kind)[0] == pytest.approx(other, abs=1.3)
