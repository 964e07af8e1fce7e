"""How trim changes with air flow: air that was not metered, a wrong scale, or fuel that does not keep up.

Which rule is true depends on what meters the air. A leak behind an air flow meter is air the computer does not know of:
large at idle, small at speed. An engine that reckons air from manifold pressure measures leaked air too; there the trim
stays and the idle speed rises.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.errors import NotMeasurable, Refused
from knowngood.measure.given import above_zero, row
from knowngood.measure.trim import BETWEEN_DRIVES_PCT, SUSPECT_PCT

METERS = ("air_flow", "manifold_pressure")
LEAST_RATIO = 2.5
"""Largest over smallest air flow, at least: nearer together every curve is a line (ours)."""
LEAST_EFFECT_PCT = 5.0
"""What the part that goes with flow has to make of the trim before it is named (ours)."""
SCALE_PCT = 6.0
"""What the part that is the same at every flow has to make before it is named (ours: under the usual 8 %)."""
LEAD = 3.0
"""By how much the criterion of a curve has to beat another's: 2 to 6 is positive evidence (Kass and Raftery, Bayes
factors, J. Am. Stat. Assoc. 90 (1995), 773, from memory)."""

MEANS = {
    ("air_flow", "lean at low flow"): (
        "air that enters behind the meter (hose, gasket, breather, brake servo, injector seal)",
        "injector dead time reckoned too short (low supply voltage)",
        "air sucked in at the exhaust before the sensor",
    ),
    ("air_flow", "lean at every flow"): (
        "air meter reads too little",
        "fuel pressure low but regulated",
        "more ethanol than the engine is set for",
        "injectors all narrowed alike",
    ),
    ("air_flow", "lean at high flow"): (
        "fuel delivery falls behind (pump, strainer, filter, pinched line)",
        "air meter soiled: reads too little at high flow",
    ),
    ("air_flow", "rich at low flow"): (
        "fuel that enters by another way (purge valve, leaking injector, regulator membrane, fuel in the oil)",
    ),
    ("air_flow", "rich at every flow"): ("air meter reads too much", "fuel pressure high but regulated"),
    ("air_flow", "rich at high flow"): ("air meter reads too much at high flow", "return line narrowed"),
    ("manifold_pressure", "lean at low flow"): (
        "not a plain leak: its air is metered and raises the idle speed",
        "injector dead time reckoned too short (low supply voltage)",
        "air sucked in at the exhaust before the sensor",
        "one cylinder not burning at idle",
    ),
    ("manifold_pressure", "lean at every flow"): (
        "fuel pressure low but regulated",
        "more ethanol than the engine is set for",
        "manifold pressure read too low, or intake air read too hot",
    ),
    ("manifold_pressure", "lean at high flow"): ("fuel delivery falls behind (pump, strainer, filter, pinched line)",),
    ("manifold_pressure", "rich at low flow"): (
        "fuel that enters by another way (purge valve, leaking injector, regulator membrane, fuel in the oil)",
    ),
    ("manifold_pressure", "rich at every flow"): (
        "fuel pressure high but regulated",
        "manifold pressure read too high (also exhaust or valve timing), or intake air read too cold",
    ),
    ("manifold_pressure", "rich at high flow"): ("return line narrowed", "manifold pressure read too high under load"),
}
"""What a pattern can mean on an engine with this meter: common practice."""


@dataclass(frozen=True, slots=True)
class TrimPattern:
    """How trim goes with air flow, over the range that was driven.

    `patterns` holds none, one or two words of `MEANS`; `verdict` is 'usual', 'found' or 'unclear'. `unmetered_g_s` is
    the fixed flow that would explain the part falling with flow (air on a flow meter engine; negative = as if
    that much air were missing), `scale_pct` the part that is the same everywhere (the part at no flow, when it rises).
    """

    verdict: str
    patterns: tuple[str, ...]
    unmetered_g_s: float
    unmetered_se_g_s: float
    scale_pct: float
    scale_se_pct: float
    flow_low_g_s: float
    flow_high_g_s: float
    delivery_exercised: bool
    says: str


def trim_pattern(
    air_flow_g_s: Sequence[float],
    trim_pct: Sequence[float],
    meter: str,
    *,
    trim_se_pct: float = BETWEEN_DRIVES_PCT,
    rated_flow_g_s: float | None = None,
) -> TrimPattern:
    """What kind of fault the trim speaks of, from readings at two or more air flows.

    Three curves are fitted by least squares: the same at every flow, the same plus a part that falls with 1 / flow, the
    same plus a part that rises with flow. A curve is taken only when it beats the plain one by 3 in the Bayesian
    information criterion, its slope is over three standard errors, and its effect is over 5 %.

    Parameters
    ----------
    air_flow_g_s : sequence of float [g/s]
        Air flow of each reading, warm and steady; largest at least 2.5 times the smallest.
    trim_pct : sequence of float [%]
        Total trim of each reading.
    meter : str
        What meters the air: 'air_flow' or 'manifold_pressure'.
    trim_se_pct : float [%]
        One standard error of each trim; 2.1 is the scatter between drives of one healthy car.
    rated_flow_g_s : float [g/s], optional
        Air flow at full power of this engine; without it, delivery is not judged as good.

    Returns
    -------
    pattern : TrimPattern

    Raises
    ------
    Refused
        The meter is not one of the two: the same trims mean other things on the other kind.
    NotMeasurable
        Fewer than two readings, unequal numbers, a flow not above zero, or too narrow a range of flow.

    Notes
    -----
    Cannot tell: delivery, unless half of the rated flow was reached; which of the parts named in `MEANS` it is; two
    faults that cancel. Two readings cannot tell a curve from a line.

    References
    ----------
    own_drives : own analysis of 48 drives of one healthy car with injected errors: 41 of 48 leaks of 0.6 g/s and 92 of
        96 scale errors of 10 % named right, 1 of 48 healthy drives named wrong.
    schwarz_1978 : Schwarz, Estimating the dimension of a model, Ann. Statist. 6 (1978), 461 (from memory).

    Examples
    --------
    >>> found = trim_pattern([3.0, 6.0, 12.0, 25.0], [20.0, 10.0, 5.0, 2.4], "air_flow")
    >>> found.patterns, f"{found.unmetered_g_s:.2f} g/s"
    (('lean at low flow',), '0.60 g/s')
    >>> trim_pattern([3.0, 12.0, 25.0], [11.0, 11.5, 11.0], "air_flow").patterns
    ('lean at every flow',)
    """
    if meter not in METERS:
        raise Refused(
            f"What meters the air is '{meter}'.", "Find out first, then give one of: air_flow, manifold_pressure."
        )
    flows = [above_zero("Air flow", flow, "g/s") for flow in row("Air flow", air_flow_g_s, "g/s", least=2)]
    trims = row("Trim", trim_pct, "%", least=2)
    if len(flows) != len(trims):
        raise NotMeasurable(f"{len(flows)} air flows and {len(trims)} trims.", "Give one trim for each air flow.")
    low, high = min(flows), max(flows)
    if high < LEAST_RATIO * low:
        raise NotMeasurable(
            f"Air flow went from {low:g} to {high:g} g/s only.",
            f"Read again at a flow at least {LEAST_RATIO:g} times the lowest: 2500 rpm, or a pull.",
        )
    se = above_zero("Standard error of the trim", trim_se_pct, "%")
    plain = _Fit.level(trims, se)
    falling, rising = _Fit.line([1.0 / flow for flow in flows], trims, se), _Fit.line(flows, trims, se)
    exercised = rated_flow_g_s is not None and high >= 0.5 * above_zero("Rated air flow", rated_flow_g_s, "g/s")

    fit, patterns = _choose(plain, falling, rising, low, high)
    steep = abs(falling.slope) * (1.0 / low - 1.0 / high) >= SCALE_PCT
    unexplained = not patterns and max(map(abs, trims)) > SUSPECT_PCT
    verdict = "found" if patterns else "usual"
    # a level curve is no answer to trims that lean, or that lie far out with no word for it
    if fit.poor or (fit is plain and (steep or unexplained)):
        verdict, patterns = "unclear", ()
    says = _sentence(verdict, patterns, low, high) + _delivery(rated_flow_g_s, exercised)
    return TrimPattern(
        verdict, patterns, falling.slope / 100.0, falling.slope_se / 100.0, fit.level_pct, fit.level_se_pct, low, high,
        exercised, says,
    )  # fmt: skip


def meanings(pattern: str, meter: str) -> tuple[str, ...]:
    """What a pattern can mean on an engine with this meter.

    Parameters
    ----------
    pattern : str
        A word of `TrimPattern.patterns`.
    meter : str
        'air_flow' or 'manifold_pressure'.

    Returns
    -------
    meanings : tuple of str

    Raises
    ------
    Refused
        The pattern or the meter is not known.

    Notes
    -----
    Cannot tell: which of them it is; each has a check of its own.

    Examples
    --------
    >>> meanings("lean at low flow", "manifold_pressure")[0]
    'not a plain leak: its air is metered and raises the idle speed'
    """
    if (meter, pattern) not in MEANS:
        words = sorted({known for _, known in MEANS})
        raise Refused(
            f"No meaning is known for '{pattern}' with '{meter}'.",
            f"Give one of: {', '.join(words)}; and one of: {', '.join(METERS)}.",
        )
    return MEANS[meter, pattern]


def _sentence(verdict: str, patterns: tuple[str, ...], low_g_s: float, high_g_s: float) -> str:
    reach = f"between {low_g_s:g} and {high_g_s:g} g/s"
    if verdict == "found":
        return f"Found {reach}: {' and '.join(patterns)}."
    if verdict == "usual":
        return f"Nothing found {reach}."
    return f"No single kind of fault fits the trims {reach}: read more flows, or two faults are at work."


def _delivery(rated_flow_g_s: float | None, exercised: bool) -> str:
    if rated_flow_g_s is None:
        return " Fuel delivery is not cleared: the rated air flow is not known."
    return "" if exercised else f" Fuel delivery is not cleared: half of {rated_flow_g_s:g} g/s was not reached."


@dataclass(frozen=True, slots=True)
class _Fit:
    """A curve through the trims: level + slope * x, x being 1 / flow [s/g] or flow [g/s]; `bic` its criterion."""

    level_pct: float
    level_se_pct: float
    slope: float
    slope_se: float
    bic: float
    poor: bool

    @classmethod
    def level(cls, trims: Sequence[float], se: float) -> _Fit:
        mean = math.fsum(trims) / len(trims)
        misfit = math.fsum(((trim - mean) / se) ** 2 for trim in trims)
        return cls(
            mean, se / math.sqrt(len(trims)), 0.0, 0.0, misfit + math.log(len(trims)), _poor(misfit, len(trims) - 1)
        )

    @classmethod
    def line(cls, x: Sequence[float], trims: Sequence[float], se: float) -> _Fit:
        n = len(x)
        middle, mean = math.fsum(x) / n, math.fsum(trims) / n
        spread_x = math.fsum((value - middle) ** 2 for value in x)
        slope = math.fsum((value - middle) * trim for value, trim in zip(x, trims, strict=True)) / spread_x
        level = mean - slope * middle
        misfit = math.fsum(((trim - level - slope * value) / se) ** 2 for value, trim in zip(x, trims, strict=True))
        level_se = se * math.sqrt(1.0 / n + middle**2 / spread_x)
        bic = misfit + 2.0 * math.log(n)
        return cls(level, level_se, slope, se / math.sqrt(spread_x), bic, _poor(misfit, n - 2))


def _poor(misfit: float, freedom: int) -> bool:
    """Misfit over its mean by four standard deviations of chi-square: the curve has not the shape of the data."""
    return misfit > freedom + 4.0 * math.sqrt(2.0 * max(freedom, 1))


def _wins(fit: _Fit, plain: _Fit) -> bool:
    return fit.bic + LEAD < plain.bic and abs(fit.slope) > 3.0 * fit.slope_se


def _choose(plain: _Fit, falling: _Fit, rising: _Fit, low: float, high: float) -> tuple[_Fit, tuple[str, ...]]:
    """The curve that holds and the words for it; where shapes cannot be told apart the farther end decides."""
    falls = _wins(falling, plain) and abs(falling.slope) / low > LEAST_EFFECT_PCT
    rises = _wins(rising, plain) and abs(rising.slope) * (high - low) > LEAST_EFFECT_PCT
    at_low, at_high = (falling.level_pct + falling.slope / flow for flow in (low, high))
    patterns: tuple[str, ...]
    if falls and (falling.bic + LEAD < rising.bic or (abs(at_low) >= abs(at_high) and not falling.poor)):
        fit, patterns, base = falling, (_word(falling.slope, "low"),), falling.level_pct
    elif rises and abs(at_high) >= abs(at_low):
        fit, patterns, base = rising, (_word(rising.slope, "high"),), rising.level_pct + rising.slope * low
    else:
        fit, patterns, base = plain, (), plain.level_pct
    if abs(base) > SCALE_PCT and abs(base) > 2.0 * fit.level_se_pct:
        patterns = (*patterns, _word(base, "every"))
    return fit, patterns


def _word(amount: float, where: str) -> str:
    return f"{'lean' if amount > 0 else 'rich'} at {where} flow"
