"""Temperature sensors whose resistance falls as they warm: resistance to temperature and back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.constant import ZERO_C_K
from knowngood.measure.given import above_zero, between, not_below_zero


@dataclass(frozen=True, slots=True)
class Curve:
    """Steinhart and Hart's equation: 1/T = a + b ln R + c (ln R)^3, T in kelvin, R in ohm."""

    a: float
    b: float
    c: float


COLDEST_C, HOTTEST_C = -80.0, 400.0
"""What such sensors are used for at most (ours): a curve carried further says nothing."""
ROUNDING_K = 0.05
"""So that a resistance reckoned for the very end of the span is a temperature of it again."""
COLDEST_INVERSE, HOTTEST_INVERSE = (
    1.0 / (COLDEST_C + ZERO_C_K - ROUNDING_K),
    1.0 / (HOTTEST_C + ZERO_C_K + ROUNDING_K),
)


def _kelvin(temperature_c: float) -> float:
    return between("Temperature", temperature_c, COLDEST_C, HOTTEST_C, "°C") + ZERO_C_K


def fit_curve(points: Sequence[tuple[float, float]]) -> Curve:
    """The curve through three points of a sensor.

    Parameters
    ----------
    points : sequence of (float, float) [degC, ohm]
        Three readings, well apart.

    Returns
    -------
    Curve

    Raises
    ------
    NotMeasurable
        Not three points, two of them alike, a number outside its span, or a resistance that does not fall with the
        temperature.

    Notes
    -----
    Cannot tell: anything far outside the three points.

    References
    ----------
    steinhart_hart : Steinhart and Hart, Calibration curves for thermistors, Deep-Sea Research 15 (1968), 497.

    Examples
    --------
    >>> curve = fit_curve([(-20.0, 15971.0), (25.0, 2044.0), (100.0, 175.7)])
    >>> f"{curve.a:.4e} {curve.b:.4e} {curve.c:.4e}"
    '1.3359e-03 2.5598e-04 1.5084e-07'
    """
    if len(points) != 3:
        raise NotMeasurable(f"{len(points)} points.", "Give three: cold, middle and hot.")
    ordered = sorted(points)
    logs = [math.log(above_zero("Resistance of the sensor", ohm, "Ω")) for _, ohm in ordered]
    inverse = [1.0 / _kelvin(celsius) for celsius, _ in ordered]
    if not (logs[0] > logs[1] > logs[2] and inverse[0] > inverse[1] > inverse[2]):
        raise NotMeasurable(
            "The resistance does not fall from the coldest to the hottest point.",
            "Check which reading belongs to which temperature; some sensors rise instead.",
        )
    first = (inverse[1] - inverse[0]) / (logs[1] - logs[0])
    second = (inverse[2] - inverse[0]) / (logs[2] - logs[0])
    c = (second - first) / (logs[2] - logs[1]) / sum(logs)
    b = first - c * (logs[0] ** 2 + logs[0] * logs[1] + logs[1] ** 2)
    return Curve(inverse[0] - (b + c * logs[0] ** 2) * logs[0], b, c)


def temperature_of(curve: Curve, ohms: float, *, ohms_se: float | None = None) -> tuple[float, float]:
    """Temperature at which a sensor has a resistance.

    Parameters
    ----------
    curve : Curve
        Of the sensor.
    ohms, ohms_se : float [ohm]
        Reading, and its standard error; 1 % when left out.

    Returns
    -------
    temperature_c, se : tuple of float [degC], [degC]

    Raises
    ------
    NotMeasurable
        The resistance is not above zero, or far outside what the curve can carry.

    Notes
    -----
    Cannot tell: a sensor of another kind; its temperature comes out wrong everywhere but at one point.

    References
    ----------
    steinhart_hart : as in `fit_curve`.

    Examples
    --------
    >>> curve = fit_curve([(-20.0, 15971.0), (25.0, 2044.0), (100.0, 175.7)])
    >>> temperature_c, se = temperature_of(curve, 308.6)
    >>> f"{temperature_c:.1f} ± {se:.1f} °C"
    '80.0 ± 0.3 °C'
    """
    resistance = above_zero("Resistance of the sensor", ohms, "Ω")
    error = 0.01 * resistance if ohms_se is None else not_below_zero("Resistance error", ohms_se, "Ω")

    def celsius(ohm: float) -> float:
        log = math.log(max(ohm, 1e-9))
        inverse = curve.a + curve.b * log + curve.c * log**3
        if not HOTTEST_INVERSE <= inverse <= COLDEST_INVERSE:
            raise NotMeasurable(
                f"{resistance:g} Ω lies outside -80 to 400 °C on this sensor's curve.",
                "Take it for open or shorted, or for another sensor.",
            )
        return 1.0 / inverse - ZERO_C_K

    return with_error(celsius, (resistance,), (error,))


def resistance_of(curve: Curve, temperature_c: float, *, temperature_se_c: float = 0.5) -> tuple[float, float]:
    """Resistance a sensor should have at a temperature: the inverse of `temperature_of`.

    Parameters
    ----------
    curve : Curve
        Of the sensor.
    temperature_c : float [degC]
        -80 to 400.
    temperature_se_c : float [K]
        One standard error of the temperature; 0.5 K is a good thermometer beside the sensor.

    Returns
    -------
    ohms, se : tuple of float [ohm], [ohm]

    Raises
    ------
    NotMeasurable
        The temperature is outside -80 to 400 °C.

    Notes
    -----
    Cannot tell: the tolerance of the sensor; 2 to 20 % by make and temperature.

    References
    ----------
    steinhart_hart : the cubic solved for ln R (Cardano).

    Examples
    --------
    >>> curve = fit_curve([(-20.0, 15971.0), (25.0, 2044.0), (100.0, 175.7)])
    >>> ohms, se = resistance_of(curve, 80.0)
    >>> f"{ohms:.1f} ± {se:.1f} Ω"
    '308.6 ± 4.6 Ω'
    """
    return with_error(lambda kelvin: _ohms(curve, kelvin), (_kelvin(temperature_c),), (temperature_se_c,))


def beta_of(
    first: tuple[float, float],
    second: tuple[float, float],
    *,
    temperature_se_c: float = 0.5,
    ohms_se_share: float = 0.01,
) -> tuple[float, float]:
    """Beta of a sensor from two points.

    Parameters
    ----------
    first, second : (float, float) [degC, ohm]
        Two readings at different temperatures.
    temperature_se_c, ohms_se_share : float [K], share
        One standard error of each temperature, and of each resistance as a share of it.

    Returns
    -------
    beta_k, se : tuple of float [K], [K]

    Raises
    ------
    NotMeasurable
        Both temperatures are alike, or a number is outside its span.

    Notes
    -----
    Cannot tell: the curve's bend. Beta from other points differs by a percent or more.

    References
    ----------
    thermistor_beta : R = R0 exp(B (1/T - 1/T0)), textbook.

    Examples
    --------
    >>> beta_k, se = beta_of((25.0, 2044.0), (100.0, 175.7))
    >>> f"{beta_k:.0f} ± {se:.0f} K"
    '3640 ± 42 K'
    """
    kelvins = (_kelvin(first[0]), _kelvin(second[0]))
    if kelvins[0] == kelvins[1]:
        raise NotMeasurable(f"Both points are at {first[0]:g} °C.", "Give two temperatures well apart.")
    ohms = [above_zero("Resistance of the sensor", point[1], "Ω") for point in (first, second)]
    share = not_below_zero("Resistance error", ohms_se_share, "of the reading")
    return with_error(
        lambda t1, t2, r1, r2: math.log(r1 / r2) / (1.0 / t1 - 1.0 / t2),
        (*kelvins, *ohms),
        (temperature_se_c, temperature_se_c, share * ohms[0], share * ohms[1]),
    )


def beta_temperature(
    beta_k: float, known: tuple[float, float], ohms: float, *, beta_se_k: float = 40.0, ohms_se: float | None = None
) -> tuple[float, float]:
    """Temperature of a sensor by its beta and one known point.

    Parameters
    ----------
    beta_k, beta_se_k : float [K]
        Beta, and its standard error: 1 % is usual between pairs of points.
    known : (float, float) [degC, ohm]
        A point that is met exactly.
    ohms, ohms_se : float [ohm]
        Reading, and its standard error; 1 % when left out.

    Returns
    -------
    temperature_c, se : tuple of float [degC], [degC]

    Raises
    ------
    NotMeasurable
        A number is not above zero, or outside its span.

    Notes
    -----
    Cannot tell: better than a few kelvin far from the known point.

    References
    ----------
    thermistor_beta : as in `beta_of`.

    Examples
    --------
    >>> temperature_c, se = beta_temperature(3640.1, (25.0, 2044.0), 806.9)
    >>> f"{temperature_c:.1f} ± {se:.1f} °C"
    '49.6 ± 0.4 °C'
    """
    inverse_known = 1.0 / _kelvin(known[0])
    reading = above_zero("Resistance of the sensor", ohms, "Ω")
    at_known = above_zero("Known resistance", known[1], "Ω")
    error = 0.01 * reading if ohms_se is None else not_below_zero("Resistance error", ohms_se, "Ω")

    def celsius(beta: float, ohm: float) -> float:
        inverse = inverse_known + math.log(ohm / at_known) / beta
        if inverse <= 0.0:
            raise NotMeasurable(
                f"{ohm:g} Ω is no temperature with a beta of {beta:g} K and {at_known:g} Ω at {known[0]:g} °C.",
                "Take it for shorted, or check beta, the known point and the unit.",
            )
        return 1.0 / inverse - ZERO_C_K

    errors = (not_below_zero("Beta error", beta_se_k, "K"), error)
    return with_error(celsius, (above_zero("Beta", beta_k, "K"), reading), errors)


def beta_resistance(
    beta_k: float,
    known: tuple[float, float],
    temperature_c: float,
    *,
    beta_se_k: float = 40.0,
    temperature_se_c: float = 0.5,
) -> tuple[float, float]:
    """Resistance of a sensor at a temperature by its beta and one known point.

    Parameters
    ----------
    beta_k, known
        As in `beta_temperature`.
    temperature_c : float [degC]
    beta_se_k, temperature_se_c : float [K], [K]
        One standard error of each; the known point is met exactly.

    Returns
    -------
    ohms, se : tuple of float [ohm], [ohm]

    Raises
    ------
    NotMeasurable
        A number is not above zero, or outside its span.

    Notes
    -----
    Cannot tell: the tolerance of the sensor.

    References
    ----------
    thermistor_beta : as in `beta_of`.

    Examples
    --------
    >>> ohms, se = beta_resistance(3977.0, (25.0, 10000.0), 20.0)
    >>> f"{ohms:.0f} ± {se:.0f} Ω"
    '12555 ± 292 Ω'
    """
    at_known, known_k = above_zero("Known resistance", known[1], "Ω"), _kelvin(known[0])
    return with_error(
        lambda beta, kelvin: at_known * math.exp(beta * (1.0 / kelvin - 1.0 / known_k)),
        (above_zero("Beta", beta_k, "K"), _kelvin(temperature_c)),
        (beta_se_k, temperature_se_c),
    )


def _ohms(curve: Curve, kelvin: float) -> float:
    inverse = 1.0 / kelvin
    if abs(curve.c) < 1e-15:  # a straight line in ln R
        return math.exp((inverse - curve.a) / curve.b)
    half = 0.5 * (curve.a - inverse) / curve.c
    root = math.sqrt((curve.b / (3.0 * curve.c)) ** 3 + half**2)
    return math.exp(math.cbrt(root - half) - math.cbrt(root + half))
