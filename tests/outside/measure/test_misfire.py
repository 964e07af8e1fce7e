"""Misfire shares: 13 CCR 1968.2 (e)(3.1.3) and the arithmetic of firings."""

import pytest

from knowngood.measure.misfire import cylinder_shares, dead_cylinder_pct, firings, misfire_rate


@pytest.mark.parametrize(
    ("counts", "code", "cylinders"),
    [
        pytest.param({1: 91, 2: 3, 3: 3, 4: 3}, "one cylinder", (1,), id="r7.25-over-90"),
        pytest.param({1: 90, 2: 4, 3: 3, 4: 3}, "either", (1,), id="r7.25-90-itself"),
        pytest.param({1: 80, 2: 11, 3: 5, 4: 4}, "several cylinders", (1, 2), id="r7.25-two-over-10"),
        pytest.param({1: 80, 2: 10, 3: 6, 4: 4}, "either", (1,), id="r7.25-10-itself"),
    ],
)
def test_which_code(counts: dict[int, int], code: str, cylinders: tuple[int, ...]) -> None:
    """Over 90 % in one may store that cylinder only; two or more each over 10 % require the multiple code."""
    shares = cylinder_shares(counts)
    assert (shares.code, shares.cylinders) == (code, cylinders)


@pytest.mark.parametrize(
    ("revolutions", "cylinders", "count"),
    [
        pytest.param(200, 4, 400, id="r7.31-200-4"),
        pytest.param(200, 6, 600, id="r7.31-200-6"),
        pytest.param(200, 8, 800, id="r7.31-200-8"),
        pytest.param(1000, 4, 2000, id="r7.31-1000-4"),
        pytest.param(1000, 6, 3000, id="r7.31-1000-6"),
        pytest.param(1000, 8, 4000, id="r7.31-1000-8"),
    ],
)
def test_firings(revolutions: int, cylinders: int, count: int) -> None:
    """Revolutions times cylinders over two (four-stroke)."""
    assert firings(revolutions, cylinders) == count


@pytest.mark.parametrize(
    ("cylinders", "misfires", "dead"),
    [
        pytest.param(4, 20, 25.0, id="r7.32-4"),
        pytest.param(6, 30, 16.7, id="r7.32-6"),
        pytest.param(8, 40, 12.5, id="r7.32-8"),
    ],
)
def test_arithmetic(cylinders: int, misfires: int, dead: float) -> None:
    """1 % of 1000 and 5 % of 200 revolutions are 20/30/40 misfires; one dead cylinder is 25/16.7/12.5 %."""
    assert misfire_rate(misfires, 1000, cylinders).percent.value == pytest.approx(1.0)
    assert misfire_rate(misfires, 200, cylinders).percent.value == pytest.approx(5.0)
    assert dead_cylinder_pct(cylinders) == pytest.approx(dead, abs=0.05)
