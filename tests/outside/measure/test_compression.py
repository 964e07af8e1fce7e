"""Rules for a row of cylinders (common practice; the worked example is a maker's text)."""

import pytest

from knowngood.measure.compression import SPREAD_RULES, compression_row, wet_gain

PSI = 6.894757293168361
RULES = {rule.name: rule for rule in SPREAD_RULES}


@pytest.mark.parametrize("share", [pytest.param(0.75, id="r2.01")])
def test_three_quarters(share: float) -> None:
    """Lowest at least 75 % of highest."""
    rule = RULES["three quarters"]
    assert compression_row([1000.0, 1000.0 * share], rule=rule, gauge_se_kpa=0.0).passes
    assert not compression_row([1000.0, 999.0 * share], rule=rule, gauge_se_kpa=0.0).passes


@pytest.mark.parametrize(
    ("highest", "lowest"),
    [pytest.param(1035.0, 725.0, id="r2.02-kPa"), pytest.param(150 * PSI, 105 * PSI, id="r2.02-psi")],
)
def test_seventy_percent_and_690(highest: float, lowest: float) -> None:
    """Worked in the text: 1035 kPa allows 725 kPa, 150 psi allows 105 psi; none under 690 kPa (100 psi)."""
    rule = RULES["seventy percent"]
    assert compression_row([highest, lowest], rule=rule, gauge_se_kpa=0.0).passes
    assert not compression_row([highest, lowest - 7.0], rule=rule, gauge_se_kpa=0.0).passes
    assert compression_row([800.0, 690.0], rule=rule, gauge_se_kpa=0.0).passes
    assert not compression_row([800.0, 689.0], rule=rule, gauge_se_kpa=0.0).passes


@pytest.mark.parametrize("oil_ml", [pytest.param(15.0, id="r2.04")])
def test_tablespoon_of_oil(oil_ml: float) -> None:
    """A tablespoon, about 15 ml, is what the volume part is worked out for unless said."""
    from knowngood.measure.compression import oil_volume_gain

    said = oil_volume_gain(690.0, swept_ml=499.0, ratio=9.5, oil_ml=oil_ml)[0]
    assert oil_volume_gain(690.0, swept_ml=499.0, ratio=9.5)[0] == said
    assert wet_gain(690.0, 690.0)[0] == 0.0


@pytest.mark.parametrize(
    ("name", "share", "floor_kpa"),
    [
        pytest.param("ten percent apart", 0.90, 0.0, id="r2.09-10"),
        pytest.param("twenty percent apart", 0.80, 100 * PSI, id="r2.09-20"),
    ],
)
def test_trade_variants(name: str, share: float, floor_kpa: float) -> None:
    """10 % apart; 20 % apart and 100 psi at least."""
    assert RULES[name].least_share == share
    assert RULES[name].least_kpa == pytest.approx(floor_kpa, abs=1.0)
