"""Speedometers: UN Regulation No. 39."""

import pytest

from knowngood.measure.road_speed import highest_lawful_shown, speed_shown


@pytest.mark.parametrize(
    ("true", "highest"),
    [
        pytest.param(50.0, 59.0, id="r11.04-50"),
        pytest.param(70.0, 81.0, id="r11.04-70"),
        pytest.param(80.0, 92.0, id="r11.04-80"),
        pytest.param(90.0, 103.0, id="r11.04-90"),
        pytest.param(110.0, 125.0, id="r11.04-110"),
        pytest.param(130.0, 147.0, id="r11.04-130"),
    ],
)
def test_highest_shown(true: float, highest: float) -> None:
    """0 <= V1 - V2 <= 0.1 V2 + 4 km/h (paragraph 5.3)."""
    assert highest_lawful_shown(true) == pytest.approx(highest, abs=1e-9)
    exact = {"shown_se_kmh": 0.0, "true_se_kmh": 0.0}
    assert speed_shown(highest, true, **exact).verdict == "lawful"
    assert speed_shown(highest + 0.1, true, **exact).verdict == "shows too much"
    assert speed_shown(true, true, **exact).verdict == "lawful"
    assert speed_shown(true - 0.1, true, **exact).verdict == "shows too little"
