"""Air that enters through a hole: how much, what trim it makes, and how large the hole is for a trim met.

On an engine with an air flow meter, air entering behind it makes trim = leak / metered flow. Where the air is reckoned
from manifold pressure the same air is metered: the trim stays and the idle speed rises.
"""

from __future__ import annotations

import math

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.constant import SEA_LEVEL_KPA, ZERO_C_K
from knowngood.measure.given import above_zero, between, not_below_zero, resolved
from knowngood.measure.nozzle import ideal_flux
from knowngood.measure.trim import BETWEEN_DRIVES_PCT

DISCHARGE = 0.8
DISCHARGE_SE = 0.08
"""Flow of a real hole as a share of the ideal one: 0.6 for a sharp edge to 0.9 for a rounded one (from memory)."""


def intake_leak_flow(
    hole_mm: float,
    manifold_kpa: float,
    *,
    hole_se_mm: float = 0.0,
    manifold_se_kpa: float = 1.0,
    air_c: float = 20.0,
    outside_kpa: float = SEA_LEVEL_KPA,
    discharge: float = DISCHARGE,
    discharge_se: float = DISCHARGE_SE,
) -> tuple[float, float]:
    """Air through a round hole into the manifold.

    Flow of an ideal gas through a nozzle; under 53 % of the outside pressure it is choked and stays the same.

    Parameters
    ----------
    hole_mm : float [mm]
        Diameter of a round hole of the same area.
    manifold_kpa : float [kPa]
        Manifold pressure, absolute.
    hole_se_mm, manifold_se_kpa : float [mm], [kPa]
        One standard error of each; the hole is taken as given when nothing is said.
    air_c : float [°C]
        Temperature of the air outside.
    outside_kpa : float [kPa]
        Pressure of the air outside, absolute.
    discharge, discharge_se : float
        Flow as a share of the ideal one, and its standard error.

    Returns
    -------
    flow_g_s, se : tuple of float [g/s], [g/s]

    Raises
    ------
    NotMeasurable
        A number is not finite, hole or a pressure not above zero, or the manifold not below the outside pressure.

    Notes
    -----
    Cannot tell: slits and cracks that open with movement, heat or vacuum.

    References
    ----------
    gas_dynamics : isentropic nozzle flow of an ideal gas, heat ratio 1.4.

    Examples
    --------
    >>> flow_g_s, se = intake_leak_flow(2.0, 35.0)
    >>> f"{flow_g_s:.2f} ± {se:.2f} g/s"
    '0.60 ± 0.06 g/s'
    """
    above_zero("Hole", hole_mm, "mm")
    _manifold(manifold_kpa, outside_kpa)
    before_k = between("Air temperature", air_c, -60.0, 150.0, "°C") + ZERO_C_K
    resolved("Discharge coefficient", discharge, discharge_se, "")

    def flow(mm: float, inside_kpa: float, coefficient: float) -> float:
        return coefficient * 0.25 * math.pi * mm**2 * ideal_flux(outside_kpa, inside_kpa, before_k)

    return with_error(flow, (hole_mm, manifold_kpa, discharge), (hole_se_mm, manifold_se_kpa, discharge_se))


def leak_trim(
    leak_g_s: float, metered_g_s: float, *, leak_se_g_s: float = 0.0, metered_se_g_s: float = 0.0
) -> tuple[float, float]:
    """Trim that unmetered air makes on an engine with an air flow meter.

    Parameters
    ----------
    leak_g_s, metered_g_s : float [g/s]
        Air that passes the meter by, and air it shows.
    leak_se_g_s, metered_se_g_s : float [g/s]
        One standard error of each; both are taken as given when nothing is said.

    Returns
    -------
    trim_pct, se : tuple of float [%], [%]

    Raises
    ------
    NotMeasurable
        The leak is negative, or the metered flow not above zero by three of its standard errors.

    Notes
    -----
    Cannot tell: anything on an engine that reckons air from manifold pressure: there the trim stays near zero.

    Examples
    --------
    >>> f"{leak_trim(0.6, 3.0)[0]:.0f} %, {leak_trim(0.6, 25.0)[0]:.1f} %"
    '20 %, 2.4 %'
    """
    not_below_zero("Leak", leak_g_s, "g/s")
    resolved("Metered air flow", metered_g_s, metered_se_g_s, "g/s")
    return with_error(
        lambda leak, metered: 100.0 * leak / metered, (leak_g_s, metered_g_s), (leak_se_g_s, metered_se_g_s)
    )


def leak_from_trim(
    trim_pct: float, metered_g_s: float, *, trim_se_pct: float = BETWEEN_DRIVES_PCT, metered_se_g_s: float = 0.0
) -> tuple[float, float]:
    """Unmetered air that would explain a trim, on an engine with an air flow meter.

    Parameters
    ----------
    trim_pct : float [%]
        Total trim at this air flow.
    metered_g_s : float [g/s]
        Air flow shown at the same moment.
    trim_se_pct, metered_se_g_s : float [%], [g/s]
        One standard error of each; 2.1 % is the scatter between drives, the flow is taken as given when nothing is
        said.

    Returns
    -------
    leak_g_s, se : tuple of float [g/s], [g/s]

    Raises
    ------
    NotMeasurable
        The trim is not above three of its standard errors, or the metered flow not above three of its own.

    Notes
    -----
    Cannot tell: a leak from a meter that reads too little; a second reading at a higher flow does (`trim_pattern`).

    Examples
    --------
    >>> leak_g_s, se = leak_from_trim(20.0, 3.0)
    >>> f"{leak_g_s:.2f} ± {se:.2f} g/s"
    '0.60 ± 0.06 g/s'
    """
    resolved("Trim", trim_pct, trim_se_pct, "%")
    resolved("Metered air flow", metered_g_s, metered_se_g_s, "g/s")
    return with_error(
        lambda trim, metered: trim / 100.0 * metered, (trim_pct, metered_g_s), (trim_se_pct, metered_se_g_s)
    )


def hole_from_leak(
    leak_g_s: float,
    manifold_kpa: float,
    *,
    leak_se_g_s: float = 0.0,
    manifold_se_kpa: float = 1.0,
    air_c: float = 20.0,
    outside_kpa: float = SEA_LEVEL_KPA,
    discharge: float = DISCHARGE,
    discharge_se: float = DISCHARGE_SE,
) -> tuple[float, float]:
    """Diameter of the round hole that lets in this much air: what size to look for.

    Parameters
    ----------
    leak_g_s : float [g/s]
        Unmetered air.
    manifold_kpa, manifold_se_kpa : float [kPa]
        Manifold pressure, absolute, and its standard error.
    leak_se_g_s : float [g/s]
        One standard error of the leak; taken as given when nothing is said.
    air_c, outside_kpa, discharge, discharge_se
        As in `intake_leak_flow`.

    Returns
    -------
    hole_mm, se : tuple of float [mm], [mm]

    Raises
    ------
    NotMeasurable
        The leak is not above three of its standard errors, or a pressure, temperature or coefficient is out of range.

    Notes
    -----
    Cannot tell: one hole from several with the same area together.

    References
    ----------
    gas_dynamics : as in `intake_leak_flow`.

    Examples
    --------
    >>> hole_mm, se = hole_from_leak(0.6, 35.0, leak_se_g_s=0.06)
    >>> f"{hole_mm:.1f} ± {se:.1f} mm"
    '2.0 ± 0.1 mm'
    """
    resolved("Leak", leak_g_s, leak_se_g_s, "g/s")
    _manifold(manifold_kpa, outside_kpa)
    before_k = between("Air temperature", air_c, -60.0, 150.0, "°C") + ZERO_C_K
    resolved("Discharge coefficient", discharge, discharge_se, "")

    def hole(leak: float, inside_kpa: float, coefficient: float) -> float:
        area_mm2 = leak / (coefficient * ideal_flux(outside_kpa, inside_kpa, before_k))
        return math.sqrt(4.0 * area_mm2 / math.pi)

    return with_error(hole, (leak_g_s, manifold_kpa, discharge), (leak_se_g_s, manifold_se_kpa, discharge_se))


def _manifold(manifold_kpa: float, outside_kpa: float) -> None:
    above_zero("Manifold pressure", manifold_kpa, "kPa")
    above_zero("Outside pressure", outside_kpa, "kPa")
    if manifold_kpa >= outside_kpa:
        raise NotMeasurable(
            f"Manifold pressure of {manifold_kpa:g} kPa is not below the outside pressure of {outside_kpa:g} kPa.",
            "No air is drawn in: read at idle, and give pressures above vacuum, not below the air.",
        )
