"""Fuel trims: the trade's windows and the rules between trim and its causes."""

import pytest

from knowngood.measure.trim import bank_split, meter_trim, pressure_trim, total_trim, trim_standing


@pytest.mark.parametrize(
    ("short", "long", "total"),
    [
        pytest.param(10.0, 10.0, 21.0, id="r6.01-both-lean"),
        pytest.param(2.0, 3.0, 5.06, id="r6.01-small-is-the-sum"),
        pytest.param(-10.0, 10.0, -1.0, id="r6.01-opposite"),
    ],
)
def test_trims_multiply(short: float, long: float, total: float) -> None:
    """Total = (1 + short) (1 + long) - 1 (common practice; SAE J1979 definition from memory)."""
    assert total_trim(short, long)[0] == pytest.approx(total, abs=1e-9)


@pytest.mark.parametrize(
    ("trim", "word"),
    [
        pytest.param(8.0, "usual", id="r6.02-8"),
        pytest.param(-8.0, "usual", id="r6.02-minus-8"),
        pytest.param(9.0, "edge", id="r6.02-9"),
        pytest.param(10.0, "edge", id="r6.02-10"),
        pytest.param(10.1, "beyond", id="r6.02-over-10"),
    ],
)
def test_trade_windows(trim: float, word: str) -> None:
    """Usual within 8 %, some say 10 %; beyond 10 % suspect (common practice)."""
    assert trim_standing(trim, 1.0).word == word


@pytest.mark.parametrize(
    ("share", "trim"), [pytest.param(0.9, 11.1, id="r6.05-10-low"), pytest.param(1.1, -9.1, id="r6.05-10-high")]
)
def test_meter_that_reads_wrong(share: float, trim: float) -> None:
    """10 % too little gives +11.1 % everywhere (model: 1 / share - 1)."""
    assert meter_trim(share)[0] == pytest.approx(trim, abs=0.05)


@pytest.mark.parametrize(("share", "trim"), [pytest.param(0.5, 41.4, id="r6.06-half")])
def test_regulated_pressure(share: float, trim: float) -> None:
    """Half the pressure gives +41.4 % (model: root of the pressure)."""
    assert pressure_trim(share * 300.0, 300.0)[0] == pytest.approx(trim, abs=0.05)
    assert 100.0 * (1.0 / (1.0 + trim / 100.0) - 1.0) == pytest.approx(-29.3, abs=0.05)


@pytest.mark.parametrize(
    ("banks", "verdict"),
    [
        pytest.param((19.0, 2.0), "bank 1", id="r6.08-one-bank"),
        pytest.param((2.0, 19.0), "bank 2", id="r6.08-other-bank"),
    ],
)
def test_one_bank_only(banks: tuple[float, float], verdict: str) -> None:
    """One bank only: look on that bank (common practice)."""
    assert bank_split(*banks).verdict == verdict
