"""Freezing points."""

import pytest

from knowngood.errors import KnownGoodError
from knowngood.measure.freezing import freezing_point
from knowngood.measure.glycol import GLYCOLS


@pytest.mark.parametrize("kind", list(GLYCOLS))
def test_points_of_the_table_are_met(kind: str) -> None:
    """At the points themselves and half way between the first two."""
    for glycol_pct, celsius in GLYCOLS[kind].first_ice:
        assert freezing_point(glycol_pct, kind)[0] == pytest.approx(celsius)
    first, second = GLYCOLS[kind].first_ice[:2]
    assert freezing_point((first[0] + second[0]) / 2, kind)[0] == pytest.approx((first[1] + second[1]) / 2)


def test_outside_the_table() -> None:
    """Neat concentrate is refused: it freezes higher again."""
    with pytest.raises(KnownGoodError, match="Glycol is 100 %: outside 0 to 60 %"):
        freezing_point(100)
    with pytest.raises(KnownGoodError, match="No glycol is called 'salt'"):
        freezing_point(10, "salt")
