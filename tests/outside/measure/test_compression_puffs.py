"""Build-up patterns (common practice)."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.compression_puffs import build_up, puff_pattern


@pytest.mark.parametrize("puffs", [pytest.param(4, id="r2.03")])
def test_four_puffs(puffs: int) -> None:
    """Four puffs from zero are a reading; three are not."""
    readings = [600.0, 900.0, 1000.0, 1100.0]
    assert build_up(readings[:puffs]).gained_kpa == 500.0
    with pytest.raises(NotMeasurable):
        build_up(readings[: puffs - 1])


@pytest.mark.parametrize(
    ("puffs", "wet_kpa", "parts"),
    [
        pytest.param([250.0, 480.0, 640.0, 760.0], 1020.0, ("rings",), id="r2.05"),
        pytest.param([430.0, 450.0, 455.0, 460.0], 470.0, ("valves or gasket",), id="r2.06"),
        pytest.param([430.0, 450.0, 455.0, 460.0], 460.0, ("valves or gasket",), id="r2.07"),
    ],
)
def test_signs_of_the_trade(puffs: list[float], wet_kpa: float, parts: tuple[str, ...]) -> None:
    """Rings: low first puff, builds, rises with oil. Valves and gasket: do not build, oil changes little."""
    assert puff_pattern(build_up(puffs), last_kpa=puffs[-1], usual_kpa=1200.0, wet_kpa=wet_kpa) == parts
