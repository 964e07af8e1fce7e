"""Injectors against each other."""

from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.injector_balance import drop_balance, flow_balance


def test_dead_injector_does_not_accuse_the_others() -> None:
    """Against the mean three good ones would stand 33 % too high."""
    shares = flow_balance({1: 40.0, 2: 41.0, 3: 40.0, 4: 0.0})
    assert [share.word for share in shares] == ["alike", "alike", "alike", "low"]
    assert shares[0].from_mean > 30.0
    assert [share.word for share in drop_balance({1: 40.0, 2: 41.0, 3: 40.0, 4: 0.0})][-1] == "low"


def test_error_of_a_share() -> None:
    """Half a millilitre of 50 is 1 %; of a drop the error is as given."""
    assert flow_balance({1: 50.0, 2: 50.0, 3: 50.0})[0].from_middle_se == pytest.approx(1.0)
    assert drop_balance({1: 50.0, 2: 50.0, 3: 50.0})[0].from_middle_se == pytest.approx(2.0)


def test_own_reading_is_part_of_the_mean() -> None:
    """Off the mean of n by an error of s sqrt(1 - 1/n) (arithmetic of residuals)."""
    four = drop_balance({1: 60.0, 2: 62.0, 3: 41.0, 4: 57.0}, drop_se_kpa=2.0)
    assert [share.from_mean for share in four] == pytest.approx([5.0, 7.0, -14.0, 2.0])
    assert [share.from_mean_se for share in four] == pytest.approx([2.0 * 0.75**0.5] * 4)


def test_cylinders_keep_their_numbers() -> None:
    """Injectors not measured are absent, not zero."""
    assert [share.cylinder for share in flow_balance({2: 40.0, 5: 41.0, 6: 39.0})] == [2, 5, 6]


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: flow_balance({1: 40.0, 2: 20.0}),
            "2 injectors measured. Three or more are needed to say which one is off.",
        ),
        (lambda: flow_balance({1: 40.0, 2: -1.0, 3: 2.0}), "Amount of injector 2 is -1 mL. Give 0 or more in mL."),
        (
            lambda: flow_balance({1: 0.0, 2: 0.0, 3: 40.0}),
            "The middle amount is 0 mL with an error of 0.5 mL. Run longer, or feed the injectors.",
        ),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words
