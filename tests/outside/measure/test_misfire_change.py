"""How long to drive clean, and tests on blocks of clustered misfires."""

import numpy
import pytest

from knowngood.measure.counting import same_rate
from knowngood.measure.misfire_change import clean_revolutions_needed, misfire_change


@pytest.mark.parametrize(("misfires", "revolutions", "clean"), [pytest.param(6, 1000.0, 500.0, id="r8.08-6-per-1000")])
def test_clean_exposure(misfires: int, revolutions: float, clean: float) -> None:
    """Clean exposure of 3 / r for 95 %: 6 per 1000 revolutions asks for 500."""
    assert clean_revolutions_needed(misfires, revolutions).value == pytest.approx(clean, rel=2e-3)


def bursts(dice: numpy.random.Generator, blocks: int) -> list[int]:
    """Misfires in blocks when one block in five holds a burst of 1 to 60."""
    return [int(count) for count in dice.integers(1, 61, blocks) * (dice.random(blocks) < 0.2)]


def test_blocks_stay_honest_where_counts_do_not() -> None:
    """Nothing changed, misfires in bursts: the test on blocks errs in at most 5 %, on single misfires in most."""
    dice = numpy.random.default_rng(200)
    wrong_blocks = wrong_counts = done = 0
    for _ in range(300):
        before, after = bursts(dice, 25), bursts(dice, 25)
        if sum(before) + sum(after) == 0:
            continue
        done += 1
        wrong_blocks += misfire_change(before, after).verdict != "no change shown"
        wrong_counts += same_rate(sum(before), 25, sum(after), 25).conditional_either < 0.05
    assert wrong_blocks / done <= 0.05
    assert wrong_counts / done >= 0.5
