"""Windows of the misfire monitor: 13 CCR 1968.2 (e)(3.2) and (3.4)."""

import pytest

from knowngood.measure.misfire_rules import WINDOWS, window_standing


@pytest.mark.parametrize(
    ("window", "revolutions", "floor", "exceedances"),
    [
        pytest.param("catalyst", 200, 5.0, 3, id="r7.26-catalyst-from-memory"),
        pytest.param("emissions", 1000, 1.0, 4, id="r7.27-emissions-from-memory"),
        pytest.param("catalyst", 200, 5.0, 3, id="r7.28-exceedances-from-memory"),
    ],
)
def test_windows(window: str, revolutions: int, floor: float, exceedances: int) -> None:
    """200 revolutions, 5 %, 3 times; 1000 revolutions, 1 %, 4 times: rule text from memory, seen in makers' texts."""
    rule = WINDOWS[window]
    assert (rule.revolutions, rule.floor_pct, rule.exceedances) == (revolutions, floor, exceedances)
    assert "1968.2" in rule.rule
    assert "memory" in rule.basis
    for cylinders, limit in ((4, 20), (6, 30), (8, 40)):
        standing = window_standing(limit, revolutions, cylinders, window)
        assert standing.limit_misfires == pytest.approx(limit)
        assert not standing.over_floor
        assert window_standing(limit + 1, revolutions, cylinders, window).over_floor
