"""Asbestos in brakes and clutches: OSHA 29 CFR 1910.1001 (f)(3) and appendix F."""

import pytest

from knowngood.measure.brake_dust import dust_methods


@pytest.mark.parametrize(
    ("pairs", "clutches", "wet"),
    [
        pytest.param(5, 0, True, id="r12.06-5-pairs"),
        pytest.param(0, 5, True, id="r12.06-5-clutches"),
        pytest.param(6, 0, False, id="r12.06-6-pairs"),
        pytest.param(0, 6, False, id="r12.06-6-clutches"),
    ],
)
def test_wet_method(pairs: int, clutches: int, wet: bool) -> None:
    """Up to 5 pairs of brakes or 5 clutches a week may use the wet method; dry brushing and blowing never."""
    methods = " ".join(dust_methods(pairs, clutches))
    assert ("wet:" in methods) is wet
    assert "dry" not in methods
    assert "blow" not in methods
