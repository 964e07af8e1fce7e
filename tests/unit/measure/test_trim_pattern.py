"""Trim over air flow."""

from collections.abc import Callable

import pytest

from knowngood.errors import KnownGoodError
from knowngood.measure.trim_pattern import MEANS, METERS, meanings, trim_pattern

FLOWS = [3.0, 6.0, 12.0, 25.0]


@pytest.mark.parametrize(
    ("trims", "verdict", "patterns"),
    [
        ([2.0, 1.0, 2.0, 1.0], "usual", ()),
        ([-20.0, -10.0, -5.0, -2.4], "found", ("rich at low flow",)),
        ([-12.0, -12.5, -11.0, -12.0], "found", ("rich at every flow",)),
        ([0.0, -2.0, -6.0, -16.0], "found", ("rich at high flow",)),
        ([30.0, 20.0, 15.0, 12.4], "found", ("lean at low flow", "lean at every flow")),
        ([5.0, -5.0, -10.0, -12.6], "found", ("lean at low flow", "rich at every flow")),
        ([10.0, 12.0, 16.0, 26.0], "found", ("lean at high flow", "lean at every flow")),
        ([20.0, -10.0, 20.0, -10.0], "unclear", ()),
    ],
)
def test_patterns(trims: list[float], verdict: str, patterns: tuple[str, ...]) -> None:
    """One fault, two faults at once, and trims that fit none."""
    found = trim_pattern(FLOWS, trims, "air_flow")
    assert (found.verdict, found.patterns) == (verdict, patterns)


def test_two_readings_that_differ_a_little_are_unclear() -> None:
    """11 and 3 % at idle and 2500 rpm: lean, but neither curve can be told."""
    assert trim_pattern([3.0, 12.0], [11.0, 3.0], "air_flow").verdict == "unclear"
    assert trim_pattern([3.0, 12.0], [11.0, 3.0], "air_flow", trim_se_pct=0.8).patterns == ("lean at low flow",)


def test_small_effects_are_left_alone_however_sure() -> None:
    """A leak worth 4 % at the lowest flow, and a rise of 4 % to the highest, are under the 5 % that count."""
    falling = [12.0 / flow for flow in FLOWS]
    rising = [4.0 * (flow - 3.0) / 22.0 for flow in FLOWS]
    assert trim_pattern(FLOWS, falling, "air_flow", trim_se_pct=0.2).patterns == ()
    assert trim_pattern(FLOWS, rising, "air_flow", trim_se_pct=0.2).patterns == ()
    assert trim_pattern(FLOWS, [1.3 * t for t in falling], "air_flow", trim_se_pct=0.2).patterns == (
        "lean at low flow",
    )
    assert trim_pattern(FLOWS, [1.3 * t for t in rising], "air_flow", trim_se_pct=0.2).patterns == (
        "lean at high flow",
    )


@pytest.mark.parametrize(("at_low", "verdict"), [(12.5, "found"), (14.5, "unclear")])
def test_scale_is_said_only_when_both_ends_agree(at_low: float, verdict: str) -> None:
    """8 % at the highest flow: up to 6 % between the ends it is a scale, beyond it is not told."""
    assert trim_pattern([3.0, 12.0], [at_low, 8.0], "air_flow", trim_se_pct=3.0).verdict == verdict


def test_coefficients_are_those_of_least_squares() -> None:
    """Against a general-purpose fit, errors included."""
    import numpy

    trims = [21.0, 8.5, 6.0, 2.0]
    (slope, level), cover = numpy.polyfit([1.0 / flow for flow in FLOWS], trims, 1, w=[1 / 2.1] * 4, cov="unscaled")
    found = trim_pattern(FLOWS, trims, "air_flow")
    assert (found.unmetered_g_s, found.scale_pct) == pytest.approx((slope / 100.0, level))
    assert (found.unmetered_se_g_s, found.scale_se_pct) == pytest.approx(
        (cover[0, 0] ** 0.5 / 100.0, cover[1, 1] ** 0.5)
    )


def test_range_is_always_said() -> None:
    """Nothing found carries the range; delivery is cleared only at half of the rated flow."""
    usual = trim_pattern([3.0, 11.0], [1.0, 1.0], "air_flow", rated_flow_g_s=150.0)
    assert usual.says == (
        "Nothing found between 3 and 11 g/s. Fuel delivery is not cleared: half of 150 g/s was not reached."
    )
    assert not usual.delivery_exercised
    assert trim_pattern([3.0, 80.0], [1.0, 1.0], "air_flow", rated_flow_g_s=150.0).says == (
        "Nothing found between 3 and 80 g/s."
    )
    assert trim_pattern([3.0, 11.0], [1.0, 1.0], "air_flow").says.endswith("the rated air flow is not known.")


def test_leak_is_sized() -> None:
    """The part that falls with flow is the unmetered air."""
    found = trim_pattern(FLOWS, [60.0 / flow + 2.0 for flow in FLOWS], "air_flow")
    assert found.unmetered_g_s == pytest.approx(0.6)
    assert found.scale_pct == pytest.approx(2.0)
    assert 0.0 < found.unmetered_se_g_s < 0.12


def test_every_pattern_has_a_meaning_for_every_meter() -> None:
    """No verdict is left without words."""
    words = {f"{side} at {where} flow" for side in ("lean", "rich") for where in ("low", "every", "high")}
    assert set(MEANS) == {(meter, word) for meter in METERS for word in words}
    assert all(meanings(word, meter) for meter, word in MEANS)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: trim_pattern([3.0, 12.0], [1.0, 1.0], "unknown"),
            "What meters the air is 'unknown'. Find out first, then give one of: air_flow, manifold_pressure.",
        ),
        (
            lambda: trim_pattern([6.0, 12.0], [1.0, 1.0], "air_flow"),
            "Air flow went from 6 to 12 g/s only. "
            "Read again at a flow at least 2.5 times the lowest: 2500 rpm, or a pull.",
        ),
        (
            lambda: trim_pattern([3.0, 12.0, 20.0], [1.0, 1.0], "air_flow"),
            "3 air flows and 2 trims. Give one trim for each air flow.",
        ),
        (lambda: trim_pattern([3.0], [1.0], "air_flow"), "Air flow: 1 given. At least 2 are needed."),
        (lambda: trim_pattern([0.0, 3.0], [1.0, 1.0], "air_flow"), "Air flow is 0 g/s. Give a number above 0 in g/s."),
        (
            lambda: meanings("wobbly", "air_flow"),
            "No meaning is known for 'wobbly' with 'air_flow'. Give one of: lean at every flow, lean at high flow, "
            "lean at low flow, rich at every flow, rich at high flow, rich at low flow; "
            "and one of: air_flow, manifold_pressure.",
        ),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(KnownGoodError) as refused:
        ask()
    assert str(refused.value) == words
