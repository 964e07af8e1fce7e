"""Wire against the standards.

Sources: AWG table after ASTM B258 (a university physics table, Ω/1000 ft); IEC 60228; IEC 60028 for the temperature
coefficient (from memory, held against the factors of IEC 60228).
"""

import pytest

from knowngood.measure.wire import (
    RHO_20C_OHM_MM2_KM,
    at_20c,
    awg_area,
    copper_factor,
    largest_resistance,
    wire_resistance,
)

FOOT_M = 0.3048
GAUGES = [
    (10, 0.9989, 3.28, 5.261), (12, 1.588, 5.21, 3.309), (14, 2.525, 8.28, 2.081), (16, 4.016, 13.18, 1.309),
    (18, 6.385, 20.95, 0.823), (20, 10.15, 33.3, 0.518), (22, 16.14, 52.95, 0.326),
]  # fmt: skip


@pytest.mark.parametrize(
    ("gauge", "ohm_kft", "mohm_m"), [pytest.param(*row[:3], id=f"r4.01-{row[0]}") for row in GAUGES]
)
def test_gauge_resistance(gauge: float, ohm_kft: float, mohm_m: float) -> None:
    """Solid copper at 20 °C: the table within 0.1 %."""
    metre = wire_resistance(awg_area(gauge), 1.0, stranding=1).value
    assert metre * 1000.0 * FOOT_M == pytest.approx(ohm_kft, rel=1e-3)
    assert 1000.0 * metre == pytest.approx(mohm_m, rel=1e-3)


@pytest.mark.parametrize(("gauge", "mm2"), [pytest.param(row[0], row[3], id=f"r4.02-{row[0]}") for row in GAUGES])
def test_gauge_area(gauge: float, mm2: float) -> None:
    """ASTM B258's formula of the diameter."""
    assert awg_area(gauge) == pytest.approx(mm2, abs=6e-4)


@pytest.mark.parametrize("mohm_m", [pytest.param(7.10, id="r4.03")])
def test_stranded_copper(mohm_m: float) -> None:
    """IEC 60228: 17.241 Ω mm²/km, class 2 1.02 to 1.04; 2.5 mm² is 7.10 mΩ/m."""
    found = wire_resistance(2.5, 1.0, stranding=2)
    assert 1000.0 * found.value == pytest.approx(mohm_m, abs=0.006)
    assert (1000.0 * found.low * 2.5, 1000.0 * found.high * 2.5) == pytest.approx(
        (RHO_20C_OHM_MM2_KM * 1.02, RHO_20C_OHM_MM2_KM * 1.04)
    )
    flexible = wire_resistance(2.5, 1.0, stranding=5)
    assert (flexible.low / found.low, flexible.high / found.high) == pytest.approx((1.05 / 1.02, 1.08 / 1.04))


CLASS_5 = [
    (0.5, 39.0), (0.75, 26.0), (1.0, 19.5), (1.5, 13.3), (2.5, 7.98), (4.0, 4.95), (6.0, 3.30), (10.0, 1.91),
    (16.0, 1.21), (25.0, 0.780), (35.0, 0.554),
]  # fmt: skip


@pytest.mark.parametrize(("area", "mohm_m"), [pytest.param(*row, id=f"r4.04-{row[0]:g}") for row in CLASS_5])
def test_class_5(area: float, mohm_m: float) -> None:
    """IEC 60228 class 5 plain, and physics within the stranding of it: 8 % under to 1 % over."""
    assert 1000.0 * largest_resistance(area, 1.0) == pytest.approx(mohm_m)
    assert 0.92 <= 1000.0 * wire_resistance(area, 1.0).value / mohm_m <= 1.01


@pytest.mark.parametrize(
    ("degrees", "factor"),
    [
        pytest.param(0.0, 0.921, id="r4.06-0"),
        pytest.param(60.0, 1.157, id="r4.06-60"),
        pytest.param(80.0, 1.236, id="r4.06-80"),
        pytest.param(100.0, 1.314, id="r4.06-100"),
    ],
)
def test_temperature(degrees: float, factor: float) -> None:
    """1 + 0.00393 (T - 20); copper's 254.5/(234.5 + t) says the same within a thousandth."""
    assert copper_factor(degrees)[0] == pytest.approx(factor, abs=6e-4)
    assert 1.0 / at_20c(1.0, degrees)[0] == pytest.approx(factor, abs=1.5e-3)


@pytest.mark.parametrize(
    ("degrees", "factor"),
    [
        pytest.param(5.0, 1.064, id="r4.07-5"),
        pytest.param(50.0, 0.893, id="r4.07-50"),
        pytest.param(100.0, 0.758, id="r4.07-100"),
    ],
)
def test_standard_s_factor(degrees: float, factor: float) -> None:
    """IEC 60228: 250/(230 + t)."""
    assert at_20c(1.0, degrees, by_standard=True)[0] == pytest.approx(factor, abs=6e-4)


@pytest.mark.parametrize("factor", [pytest.param(0.8946, id="r4.07-exact")])
def test_copper_s_own_factor(factor: float) -> None:
    """254.5/(234.5 + t) at 50 °C."""
    assert at_20c(1.0, 50.0)[0] == pytest.approx(factor, abs=6e-5)
