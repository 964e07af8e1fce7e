"""Draw of a parked car (common practice: a training course; three makers' figures)."""

import pytest

from knowngood.measure.draw import days_to_share, draw_verdict


@pytest.mark.parametrize(
    ("ma", "waited", "word"),
    [
        pytest.param(20.0, 31.0, "usual", id="r4.19-usual"),
        pytest.param(34.9, 31.0, "within", id="r4.19-limit"),
        pytest.param(35.1, 31.0, "over", id="r4.19-over"),
        pytest.param(35.1, 29.0, "awake", id="r4.19-awake"),
    ],
)
def test_limit_and_sleep(ma: float, waited: float, word: str) -> None:
    """Under 35 mA, about 20 mA usual; modules may stay awake 30 min."""
    assert draw_verdict(ma, waited, draw_se_ma=0.01).word == word


@pytest.mark.parametrize(
    ("limit_ma", "asleep_min"),
    [
        pytest.param(30.0, 5.0, id="r4.20-30mA"),
        pytest.param(50.0, 75.0, id="r4.20-50mA"),
        pytest.param(25.0, 30.0, id="r4.20-25mA"),
    ],
)
def test_maker_s_figure_wins(limit_ma: float, asleep_min: float) -> None:
    """10 to 30 mA after 5 min; 25 to 50 mA after 75 min; 5 to 25 mA."""
    given = {"draw_se_ma": 0.01, "limit_ma": limit_ma, "asleep_min": asleep_min}
    assert draw_verdict(limit_ma - 0.1, asleep_min, **given).word in ("usual", "within")
    assert draw_verdict(limit_ma + 0.1, asleep_min, **given).word == "over"
    assert draw_verdict(limit_ma + 0.1, asleep_min - 1.0, **given).word == "awake"


@pytest.mark.parametrize(
    ("ma", "days"),
    [
        pytest.param(25.0, 50.0, id="r4.21-25mA"),
        pytest.param(50.0, 25.0, id="r4.21-50mA"),
        pytest.param(100.0, 12.5, id="r4.21-100mA"),
        pytest.param(250.0, 5.0, id="r4.21-250mA"),
    ],
)
def test_days_to_half(ma: float, days: float) -> None:
    """24 h times current times days is half of 60 Ah."""
    assert days_to_share(ma, 60.0)[0] == pytest.approx(days)
