"""Zirconia oxygen sensor: voltage by temperature and oxygen, and what a narrow band reading says."""

from __future__ import annotations

import math

from knowngood.measure.carried import with_error
from knowngood.measure.constant import ZERO_C_K
from knowngood.measure.given import between, resolved

GAS_J_MOL_K = 8.314462618
FARADAY_C_MOL = 96485.33212
AIR_OXYGEN_ATM = 0.209
"""As the published curves have it; dry air's 0.20946 would be 0.06 mV more at 900 °C."""
USABLE_FROM_C = 350.0
"""Below this the cell does not conduct enough to be read (from memory)."""
MIDDLE_V = 0.45
"""Where a narrow band signal crosses; about 0.1 V is lean, 0.9 V rich (common practice)."""
BIAS_V = 0.05
"""This near the middle it may as well be the computer's own bias (from memory)."""
LOWEST_V, HIGHEST_V = -0.1, 1.275
"""Less than no working cell gives (from memory), and the most the standard parameter carries (SAE J1979)."""


def nernst_mv(
    oxygen_atm: float, temperature_c: float, *, oxygen_se_atm: float = 0.0, temperature_se_c: float = 20.0
) -> tuple[float, float]:
    """Voltage of a zirconia cell between the air around and the exhaust.

    Parameters
    ----------
    oxygen_atm : float [atm]
        Partial pressure of oxygen in the exhaust at the electrode: near 1e-20 when rich.
    temperature_c : float [degC]
        Of the cell, 350 to 1100.
    oxygen_se_atm, temperature_se_c : float [atm], [K]
        One standard error of each; the oxygen is taken as given when nothing is said, a cell's temperature is seldom
        known better than 20 K.

    Returns
    -------
    millivolts, se : tuple of float [mV], [mV]

    Raises
    ------
    NotMeasurable
        The oxygen is not above zero, or the cell is colder than 350 °C or hotter than 1100 °C.

    Notes
    -----
    Cannot tell: the mixture by itself: an exhaust leak or a dead cylinder lets in oxygen and reads lean.

    References
    ----------
    nernst : E = R T / 4 F ln(p_air / p_exhaust), with 0.209 atm oxygen in air.

    Examples
    --------
    >>> millivolts, se = nernst_mv(1e-20, 600.0)
    >>> f"{millivolts:.0f} ± {se:.0f} mV"
    '837 ± 19 mV'
    """
    oxygen = resolved("Oxygen", oxygen_atm, oxygen_se_atm, "atm")
    kelvin = between("Temperature of the cell", temperature_c, USABLE_FROM_C, 1100.0, "°C") + ZERO_C_K
    return with_error(
        lambda share, hot: 1000.0 * GAS_J_MOL_K * hot / (4.0 * FARADAY_C_MOL) * math.log(AIR_OXYGEN_ATM / share),
        (oxygen, kelvin),
        (oxygen_se_atm, temperature_se_c),
    )


def oxygen_from_mv(
    millivolts: float, temperature_c: float, *, signal_se_mv: float = 5.0, temperature_se_c: float = 20.0
) -> tuple[float, float]:
    """Oxygen at the electrode that a voltage stands for: the inverse of `nernst_mv`.

    Parameters
    ----------
    millivolts : float [mV]
        Of the cell, -100 to 1300.
    temperature_c : float [degC]
        Of the cell, 350 to 1100.
    signal_se_mv, temperature_se_c : float [mV], [K]
        One standard error of each; a cell's temperature is seldom known better than 20 K.

    Returns
    -------
    oxygen_atm, factor_se : tuple of float [atm], factor
        Oxygen runs over twenty decades, so its error is a factor: 1.3 is from 1.3 times less to 1.3 times more.

    Raises
    ------
    NotMeasurable
        A number is not finite or outside its span.

    Notes
    -----
    Cannot tell: how rich. Around 0.8 V a millivolt is a tenth of a decade of oxygen and almost no mixture.

    References
    ----------
    nernst : as in `nernst_mv`.

    Examples
    --------
    >>> oxygen_atm, factor_se = oxygen_from_mv(57.15, 600.0)
    >>> f"{oxygen_atm:.3f} atm, times or by {factor_se:.2f}"
    '0.010 atm, times or by 1.32'
    """
    volts = between("Voltage of the cell", millivolts, -100.0, 1300.0, "mV") / 1000.0
    kelvin = between("Temperature of the cell", temperature_c, USABLE_FROM_C, 1100.0, "°C") + ZERO_C_K
    logarithm, se = with_error(
        lambda volt, hot: math.log(AIR_OXYGEN_ATM) - 4.0 * FARADAY_C_MOL * volt / (GAS_J_MOL_K * hot),
        (volts, kelvin),
        (
            between("Voltage error", signal_se_mv, 0.0, 1300.0, "mV") / 1000.0,
            between("Temperature error", temperature_se_c, 0.0, 300.0, "K"),
        ),
    )
    return math.exp(logarithm), math.exp(se)


def narrow_band_word(signal_v: float, *, signal_se_v: float = 0.02) -> str:
    """What a narrow band signal says at this moment.

    Parameters
    ----------
    signal_v, signal_se_v : float [V]
        Signal, and its standard error.

    Returns
    -------
    word : str
        `lean`, `rich`, `in between` near 0.45 V (switching, cold or unplugged), or `outside` what such a sensor gives.

    Raises
    ------
    NotMeasurable
        The signal is not finite, or the error is below zero.

    Notes
    -----
    Cannot tell: a working sensor from one reading; it has to swing. A shorted heater wire lifts the signal, a broken
    one leaves the bias of the computer.

    References
    ----------
    common_practice : about 0.1 V lean, 0.9 V rich, 0.45 V in between; sae_j1979 for 0 to 1.275 V.

    Examples
    --------
    >>> narrow_band_word(0.82)
    'rich'
    """
    margin = 2.0 * between("Signal error", signal_se_v, 0.0, 1.0, "V")
    signal = between("Signal", signal_v, -20.0, 20.0, "V")
    if not LOWEST_V - margin <= signal <= HIGHEST_V + margin:
        return "outside"
    if abs(signal - MIDDLE_V) <= max(margin, BIAS_V):
        return "in between"
    return "lean" if signal < MIDDLE_V else "rich"
