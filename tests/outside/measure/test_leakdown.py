"""Leak-down figures of the aircraft procedure and of the trade.

Sources: FAA AC 43.13-1B, chapter 8, p. 8-15; FAA Safety Team maintenance tip, November 2011; a technical note on
differential pressure checks, 2010; common practice where said.
"""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure import leakdown as ld

PSI = 6.894757293168361


@pytest.mark.parametrize("shop_psi", [pytest.param(100.0, id="r1.01-100psi"), pytest.param(120.0, id="r1.01-120psi")])
def test_shop_air(shop_psi: float) -> None:
    """About 100 to 120 psi is enough (AC 43.13-1B ¶8-14b(5)(c)); 90 is not."""
    assert ld.check_tester(80 * PSI, 80 * PSI, shop_air_kpa=shop_psi * PSI)[0] == 0.0
    with pytest.raises(NotMeasurable, match="Shop air"):
        ld.check_tester(80 * PSI, 80 * PSI, shop_air_kpa=90 * PSI)


@pytest.mark.parametrize(
    ("psi", "held"), [pytest.param(20.0, False, id="r1.02-20psi"), pytest.param(80.0, True, id="r1.02-80psi")]
)
def test_setting_sequence(psi: float, held: bool) -> None:
    """20 psi while turning, 80 psi at top dead centre (AC 43.13-1B p. 8-15 (e) to (h))."""
    assert ld.check_setting(psi * PSI, held_at_top=held) == pytest.approx(psi * PSI)
    assert pytest.approx(80 * PSI) == ld.READING_KPA


@pytest.mark.parametrize("minutes", [pytest.param(3.0, id="r1.05")])
def test_suspect_limit(minutes: float) -> None:
    """Loss over 25 % of the input is suspect, recheck after 3 min running (AC 43.13-1B p. 8-15 (i))."""
    assert ld.leak_row([10.0, 25.0], percent_se=0.0).over == ()
    assert ld.leak_row([10.0, 25.1], percent_se=0.0).over == (2,)
    assert f"{minutes:.0f} min" in ld.leak_word(25.1, percent_se=0.0).advice
    assert ld.leak_word(25.0, percent_se=0.0).advice == ""


@pytest.mark.parametrize("psi", [pytest.param(60.0, id="r1.06")])
def test_reject_limit_is_the_same_share(psi: float) -> None:
    """60/80 (common practice quoting ¶8-14b(5)) is the 25 % of the suspect limit."""
    assert ld.leak_percent(80 * PSI, psi * PSI)[0] == pytest.approx(ld.SUSPECT_PERCENT)


@pytest.mark.parametrize(
    ("bore_in", "orifice_in"), [pytest.param(4.99, 0.040, id="r1.07"), pytest.param(5.00, 0.060, id="r1.08")]
)
def test_orifice_by_bore(bore_in: float, orifice_in: float) -> None:
    """0.040 in under 5.00 in bore, 0.060 in from there (FAA Safety Team tip, November 2011)."""
    assert ld.standard_orifice(25.4 * bore_in) == pytest.approx(25.4 * orifice_in)


@pytest.mark.parametrize("off_psi", [pytest.param(2.0, id="r1.09-over"), pytest.param(-2.0, id="r1.09-under")])
def test_self_check(off_psi: float) -> None:
    """80 ±2 psi with the outlet shut (technical note, 2010)."""
    assert ld.check_tester(80 * PSI, (80 + off_psi) * PSI)[0] == pytest.approx(off_psi * PSI)
    with pytest.raises(NotMeasurable, match="The gauges differ"):
        ld.check_tester(80 * PSI, (80 + 1.05 * off_psi) * PSI)


@pytest.mark.parametrize(
    ("cylinder", "supply", "percent"),
    [
        pytest.param(72, 80, 10.0, id="r1.10-72"),
        pytest.param(60, 80, 25.0, id="r1.10-60"),
        pytest.param(90, 100, 10.0, id="r1.10-90"),
    ],
)
def test_percent(cylinder: float, supply: float, percent: float) -> None:
    """By definition, on gauge pressures."""
    assert ld.leak_percent(supply * PSI, cylinder * PSI)[0] == pytest.approx(percent)


@pytest.mark.parametrize(
    ("percent", "word"),
    [
        pytest.param(5.0, "good", id="r1.24-5"),
        pytest.param(10.0, "good", id="r1.24-10"),
        pytest.param(20.0, "serviceable", id="r1.24-20"),
        pytest.param(31.0, "trouble", id="r1.24-31"),
    ],
)
def test_word_of_the_trade(percent: float, word: str) -> None:
    """5 to 10 % good, to 20 % serviceable, over 30 % trouble (common practice, 80 to 90 psi testers)."""
    assert ld.leak_word(percent, percent_se=0.0).words == (word,)


@pytest.mark.parametrize("points", [pytest.param(5.0, id="r1.25-points")])
def test_points_between_cylinders(points: float) -> None:
    """No more than 5 points between cylinders (common practice)."""
    assert ld.leak_row([5.0, 5.0 + points], percent_se=0.0).all_alike
    assert not ld.leak_row([5.0, 5.1 + points], percent_se=0.0).all_alike
