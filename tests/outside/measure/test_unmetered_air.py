"""Unmetered air: leak flows and the trims they make."""

import fluids
import pytest

from knowngood.measure.unmetered_air import hole_from_leak, intake_leak_flow, leak_from_trim, leak_trim


@pytest.mark.parametrize(
    ("metered", "trim"),
    [
        pytest.param(3.0, 20.0, id="r6.03-3"),
        pytest.param(6.0, 10.0, id="r6.03-6"),
        pytest.param(12.0, 5.0, id="r6.03-12"),
        pytest.param(25.0, 2.4, id="r6.03-25"),
        pytest.param(50.0, 1.2, id="r6.03-50"),
    ],
)
def test_leak_of_0_6(metered: float, trim: float) -> None:
    """0.6 g/s beside the meter (model: leak over metered flow)."""
    assert leak_trim(0.6, metered)[0] == pytest.approx(trim, abs=1e-9)
    assert leak_from_trim(trim, metered, trim_se_pct=0.1)[0] == pytest.approx(0.6, abs=1e-9)


@pytest.mark.parametrize(
    ("manifold", "flow"),
    [
        pytest.param(30.0, 0.601, id="r6.04-30"),
        pytest.param(50.0, 0.601, id="r6.04-50"),
        pytest.param(60.0, 0.596, id="r6.04-60"),
        pytest.param(70.0, 0.565, id="r6.04-70"),
        pytest.param(80.0, 0.501, id="r6.04-80"),
        pytest.param(90.0, 0.389, id="r6.04-90"),
        pytest.param(95.0, 0.300, id="r6.04-95"),
        pytest.param(100.0, 0.141, id="r6.04-100"),
    ],
)
def test_hole_of_2_mm(manifold: float, flow: float) -> None:
    """2.0 mm, discharge 0.8, 20 °C air (isentropic nozzle flow, gas dynamics)."""
    assert intake_leak_flow(2.0, manifold)[0] == pytest.approx(flow, abs=0.0006)
    assert hole_from_leak(flow, manifold)[0] == pytest.approx(2.0, abs=0.01)


@pytest.mark.parametrize("choked_kpa", [pytest.param(53.5, id="r6.04-choked-limit")])
def test_choked_below(choked_kpa: float) -> None:
    """Choked while the manifold is below 53.5 kPa; the limit agrees with the general-purpose library fluids."""
    assert fluids.P_critical_flow(101.325, 1.4) == pytest.approx(choked_kpa, abs=0.05)
    below, at = intake_leak_flow(2.0, 20.0)[0], intake_leak_flow(2.0, choked_kpa)[0]
    assert below == pytest.approx(at, rel=1e-6)
    assert intake_leak_flow(2.0, 56.0)[0] < at * 0.9995
