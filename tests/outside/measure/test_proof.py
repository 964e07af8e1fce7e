"""Clean drives: Bayes' rule by hand and by simulation."""

import numpy
import pytest

from knowngood.measure.proof import chance_left, clean_drives_from_history, clean_drives_needed, clean_run_needed


def test_worked_case() -> None:
    """p = 0.3 left, shows on 20 % of drives: 14 clean drives bring it to 1.85 %, 13 to 2.3 % (own, by enumeration)."""
    plan = clean_drives_needed(0.3, 0.2, 0.02)
    assert plan.drives == 14
    assert plan.chance_left == pytest.approx(0.0185, abs=5e-5)
    assert plan.chance_one_short == pytest.approx(0.023, abs=5e-4)


@pytest.mark.parametrize("clean", [30, 100, 300, 1500])
def test_rule_of_three(clean: int) -> None:
    """None in n leaves at 95 % a rate of 1 - 0.05^(1/n): that rate asks for just n clean drives.

    Encyclopaedia article on the rule of three (statistics): n = 30, 100, 300, 1500. Even odds before, and a chance
    left of 1 in 21, is that a fault of that rate stays hidden 1 time in 20.
    """
    rate = 1.0 - 0.05 ** (1.0 / clean)
    assert rate == pytest.approx({30: 0.0950, 100: 0.02951, 300: 0.009936, 1500: 0.001995}[clean], rel=1e-3)
    assert clean_drives_needed(0.5, rate, (1.0 + 1e-9) / 21.0).drives == clean


def test_chance_left_agrees_with_simulated_cars() -> None:
    """Of simulated cars that drove clean eight times, the share that still had the fault is the chance given."""
    dice = numpy.random.default_rng(14)
    faulty = dice.random(400_000) < 0.3
    shows = (dice.random((400_000, 8)) < 0.2).any(axis=1) & faulty
    share = faulty[~shows].mean()
    assert chance_left(0.3, 0.2, 8) == pytest.approx(share, abs=0.004)


def test_history_agrees_with_simulated_cars() -> None:
    """With how often it shows drawn from what two in ten leaves open, the plan's chance is met."""
    dice = numpy.random.default_rng(15)
    plan = clean_drives_from_history(0.3, 2, 10, 0.02)
    shows = dice.beta(2.5, 8.5, 1_000_000)
    hidden = ((1.0 - shows) ** plan.drives).mean()
    assert plan.chance_left == pytest.approx(0.3 * hidden / (0.3 * hidden + 0.7), rel=0.02)


def test_run_agrees_with_simulated_cars() -> None:
    """The same for a fault that shows at random along the road."""
    dice = numpy.random.default_rng(16)
    run = clean_run_needed(0.3, 6, 100.0, 0.02)
    rate = dice.gamma(6.5, 1.0 / 100.0, 1_000_000)
    hidden = numpy.exp(-rate * run.distance_km).mean()
    assert run.chance_left == pytest.approx(0.3 * hidden / (0.3 * hidden + 0.7), rel=0.02)
