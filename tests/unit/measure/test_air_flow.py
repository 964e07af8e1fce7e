"""Air flow of an engine."""

from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.air_flow import absolute_load, expected_air_flow, meter_check, volumetric_efficiency
from knowngood.measure.bracket import Bracket
from tests.unit.measure.scatter import scatter


def test_error_is_what_throws_scatter() -> None:
    """Each error agrees with 4000 thrown readings within 5 %."""
    expected = expected_air_flow(2.0, 800, 35.0, 40.0)
    assert expected[1] == pytest.approx(
        scatter(
            lambda ve, rpm, kpa, c: expected_air_flow(2.0, rpm, kpa, c, filling=ve)[0],
            (0.85, 800.0, 35.0, 40.0),
            (0.06, 10.0, 1.0, 5.0),
        ),
        rel=0.05,
    )
    filling = volumetric_efficiency(33.1, 2.0, 2000, 100.0, 25.0, air_flow_se_g_s=0.7)
    assert filling[1] == pytest.approx(
        scatter(
            lambda flow, rpm, kpa, c: volumetric_efficiency(flow, 2.0, rpm, kpa, c)[0],
            (33.1, 2000.0, 100.0, 25.0),
            (0.7, 10.0, 1.0, 5.0),
        ),
        rel=0.05,
    )


@pytest.mark.parametrize(
    ("flow", "verdict"), [(21.0, "reads too little"), (33.0, "can be right"), (45.0, "reads too much")]
)
def test_meter(flow: float, verdict: str) -> None:
    """Only outside of the whole range of filling is the meter accused."""
    assert meter_check(flow, 2.0, 2000, 100.0, 25.0).verdict == verdict


def test_own_filling_narrows_the_check() -> None:
    """With this engine's filling known, a smaller error shows."""
    assert meter_check(28.0, 2.0, 2000, 100.0, 25.0).verdict == "can be right"
    own = meter_check(28.0, 2.0, 2000, 100.0, 25.0, filling=Bracket(0.80, 0.85, 0.90))
    assert own.verdict == "reads too little"
    full_g_s = 100.0 / (0.28705 * 298.15) * 1.0 * 2000 / 60.0  # a litre a turn, by the gas law
    expected = own.expected_g_s
    assert (expected.low, expected.value, expected.high) == pytest.approx([f * full_g_s for f in (0.80, 0.85, 0.90)])


def test_absolute_load_at_full_filling() -> None:
    """Air of 1.184 g/L filling every stroke whole is 100 %."""
    assert absolute_load(2.0 * 1.184 * 1000 / 60.0, 2.0, 2000)[0] == pytest.approx(100.0)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: expected_air_flow(0.0, 800, 35, 40), "Displacement is 0 L. Give a number above 0 in L."),
        (
            lambda: expected_air_flow(2.0, 800, 35, 313),
            "Intake air temperature is 313 °C: outside -60 to 150 °C. Check the reading and its unit.",
        ),
        (
            lambda: expected_air_flow(2.0, 800, 35, 40, filling=85),
            "Filling is 85: outside 0.2 to 1.5. Check the reading and its unit.",
        ),
        (lambda: meter_check(-1.0, 2.0, 800, 35, 40), "Air flow is -1 g/s. Give a number above 0 in g/s."),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word; kelvin and per cent typed for others are met."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words


@pytest.mark.parametrize(
    ("flow", "displacement", "rpm", "words"),
    [
        (0.0, 2.0, 2000.0, "Air flow is 0 g/s."),
        (33.1, 0.0, 2000.0, "Displacement is 0 L."),
        (33.1, -2.0, 2000.0, "Displacement is -2 L."),
        (33.1, 2.0, 0.0, "Engine speed is 0 rpm."),
    ],
)
def test_load_of_no_engine_is_refused(flow: float, displacement: float, rpm: float, words: str) -> None:
    """No load is reckoned from a number that no running engine has."""
    with pytest.raises(NotMeasurable, match=words):
        absolute_load(flow, displacement, rpm)


def test_error_of_the_load_goes_with_that_of_the_flow() -> None:
    """A tenth of the flow is a tenth of the load."""
    load, se = absolute_load(33.1, 2.0, 2000, air_flow_se_g_s=3.31)
    assert se == pytest.approx(load / 10.0)


def test_filling_out_of_order_is_refused() -> None:
    """Turned round it would call a good meter wrong both ways."""
    with pytest.raises(NotMeasurable) as refused:
        meter_check(28.0, 2.0, 2000, 100.0, 25.0, filling=Bracket(0.90, 0.85, 0.80))
    assert str(refused.value) == "Filling is 0.9, 0.85, 0.8. Give lowest, usual and highest in order."
