"""Statistics of proof: rule of three, exact limits, the conditional test and the E-test."""

import pytest
from scipy import stats

from knowngood.measure.counting import count_limits, none_seen, none_seen_events, rate_ratio, same_rate, share_limits


@pytest.mark.parametrize(
    ("tries", "exact", "rule"),
    [
        pytest.param(30, 0.0950, 0.1000, id="r8.01-30"),
        pytest.param(100, 0.02951, 0.03, id="r8.01-100"),
        pytest.param(300, 0.009936, 0.01, id="r8.01-300"),
        pytest.param(1500, 0.001995, 0.002, id="r8.01-1500"),
    ],
)
def test_rule_of_three(tries: int, exact: float, rule: float) -> None:
    """0 in n: 1 - 0.05^(1/n), and 3/n ('1500 subjects: under 1 in 500'; Rule of three (statistics), encyclopaedia)."""
    limit = none_seen(tries)
    assert limit.highest_share == pytest.approx(exact, rel=5e-4)
    assert limit.three_over_n == pytest.approx(rule, rel=2e-3)
    assert limit.highest_share == pytest.approx(share_limits(0, tries, confidence=0.90).high, rel=1e-12)


@pytest.mark.parametrize(
    ("confidence", "numerator"),
    [
        pytest.param(0.97, 3.51, id="r8.02-97"),
        pytest.param(0.99, 4.61, id="r8.02-99"),
        pytest.param(0.995, 5.30, id="r8.02-99.5"),
    ],
)
def test_numerators(confidence: float, numerator: float) -> None:
    """-ln alpha (Rule of three (statistics), encyclopaedia)."""
    assert none_seen_events(confidence) == pytest.approx(numerator, abs=0.006)


@pytest.mark.parametrize(
    ("count", "low", "high"),
    [
        pytest.param(0, 0.0, 3.689, id="r8.03-0"),
        pytest.param(1, 0.0253, 5.572, id="r8.03-1"),
        pytest.param(2, 0.242, 7.225, id="r8.03-2"),
        pytest.param(3, 0.619, 8.767, id="r8.03-3"),
        pytest.param(5, 1.623, 11.668, id="r8.03-5"),
        pytest.param(10, 4.795, 18.390, id="r8.03-10"),
        pytest.param(20, 12.217, 30.888, id="r8.03-20"),
    ],
)
def test_garwood(count: int, low: float, high: float) -> None:
    """Chi-square limits (Garwood 1936), and the same from scipy's chi-square."""
    limits = count_limits(count)
    assert (limits.low, limits.high) == pytest.approx((low, high), abs=0.0006)
    assert limits.high == pytest.approx(stats.chi2.ppf(0.975, 2 * count + 2) / 2, rel=1e-10)


@pytest.mark.parametrize(
    ("count", "high"), [pytest.param(0, 2.996, id="r8.03-one-sided-0"), pytest.param(1, 4.744, id="r8.03-one-sided-1")]
)
def test_garwood_one_sided(count: int, high: float) -> None:
    """The one-sided 95 % upper limit is the upper end of the two-sided 90 %."""
    assert count_limits(count, confidence=0.90).high == pytest.approx(high, abs=0.0006)


@pytest.mark.parametrize(
    ("statistic", "chance"), [pytest.param(-1.7320508075688772, 0.0883790093, id="r8.04-documented")]
)
def test_e_test(statistic: float, chance: float) -> None:
    """poisson_means_test(0, 100, 3, 100) of the scipy documentation (Krishnamoorthy and Thomson 2004)."""
    test = same_rate(0, 100, 3, 100)
    assert test.statistic == pytest.approx(statistic, rel=1e-12)
    assert test.e_test == pytest.approx(chance, abs=1e-7)


@pytest.mark.parametrize(
    ("counts", "chance"),
    [
        pytest.param((3, 0), 0.088, id="r8.04-3-0"),
        pytest.param((4, 0), 0.041, id="r8.04-4-0"),
        pytest.param((5, 0), 0.020, id="r8.04-5-0"),
    ],
)
def test_e_test_with_nothing_after(counts: tuple[int, int], chance: float) -> None:
    """Finding 0.10 of the references: 3 against 0 at equal exposure gives 0.088, 4 0.041, 5 0.020."""
    assert same_rate(counts[0], 100, counts[1], 100).e_test == pytest.approx(chance, abs=0.0005)


@pytest.mark.parametrize(
    ("counts", "exposures"),
    [((12, 2), (1000, 1000)), ((7, 9), (300, 800)), ((0, 6), (50, 90)), ((40, 22), (10, 10)), ((150, 90), (20, 15))],
)
def test_e_test_against_scipy(counts: tuple[int, int], exposures: tuple[int, int]) -> None:
    """The general-purpose library gives the same chance."""
    other = stats.poisson_means_test(counts[0], exposures[0], counts[1], exposures[1])
    assert same_rate(counts[0], exposures[0], counts[1], exposures[1]).e_test == pytest.approx(other.pvalue, abs=1e-7)


@pytest.mark.parametrize(("one_sided", "two_sided"), [pytest.param(0.125, 0.25, id="r8.05-3-0")])
def test_conditional(one_sided: float, two_sided: float) -> None:
    """k1 is binomial given the total: 3 against 0 at equal exposure (also scipy's binomial test)."""
    test = same_rate(3, 100, 0, 100)
    assert test.conditional_fewer == pytest.approx(one_sided, rel=1e-12)
    assert test.conditional_either == pytest.approx(two_sided, rel=1e-12)
    assert stats.binomtest(3, 3, 0.5, alternative="greater").pvalue == pytest.approx(one_sided)


@pytest.mark.parametrize(
    ("counts", "conditional", "e_test"),
    [
        pytest.param((12, 2), 0.00647, 0.00642, id="r8.06-12-2"),
        pytest.param((5, 0), 0.03125, 0.0198, id="r8.06-5-0"),
        pytest.param((6, 1), 0.0625, 0.0695, id="r8.06-6-1"),
    ],
)
def test_before_after(counts: tuple[int, int], conditional: float, e_test: float) -> None:
    """1000 revolutions each: one-sided conditional, two-sided E-test (computed with scipy)."""
    test = same_rate(counts[0], 1000, counts[1], 1000)
    assert test.conditional_fewer == pytest.approx(conditional, abs=6e-6)
    assert test.e_test == pytest.approx(e_test, abs=6e-5)


@pytest.mark.parametrize(("share", "ratio"), [pytest.param((0.5719, 0.9822), (1.34, 55.0), id="r8.07-12-of-14")])
def test_ratio_limits(share: tuple[float, float], ratio: tuple[float, float]) -> None:
    """Clopper-Pearson on the share (also scipy's binomial test), then p / (1 - p) n2 / n1."""
    limits, other = share_limits(12, 14), stats.binomtest(12, 14).proportion_ci(method="exact")
    assert (limits.low, limits.high) == pytest.approx(share, abs=6e-5)
    assert (limits.low, limits.high) == pytest.approx((other.low, other.high), rel=1e-9)
    found = rate_ratio(12, 1000, 2, 1000)
    assert (found.low, found.high) == pytest.approx(ratio, rel=0.01)
    assert rate_ratio(12, 1000, 2, 500).low == pytest.approx(found.low / 2.0)
