"""Air through an ideal hole: the bare laws, of numbers that the computations have checked.

All pressures are absolute. Source of all three: isentropic flow of a perfect gas, any textbook of gas dynamics.
"""

from __future__ import annotations

import math

from knowngood.measure.constant import R_AIR_J_KG_K

GAMMA_AIR = 1.4
"""Ratio of the heat capacities of air, cold and dry (textbook)."""


def choking_ratio(gamma: float) -> float:
    """Pressure behind a hole over pressure before it, under which the flow no longer depends on the one behind."""
    return float((2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))


CHOKING_RATIO_AIR = choking_ratio(GAMMA_AIR)


def coefficient(before_kpa: float, behind_kpa: float) -> float:
    """Mass flow by area and by p / sqrt(R T) before the hole, no unit; 0 where the pressure does not fall.

    >>> round(coefficient(652.9, 101.3), 6)
    0.684731
    """
    ratio = max(behind_kpa / before_kpa, CHOKING_RATIO_AIR)
    g = GAMMA_AIR
    return math.sqrt(max(0.0, 2.0 * g / (g - 1.0) * (ratio ** (2.0 / g) - ratio ** ((g + 1.0) / g))))


def ideal_flux(before_kpa: float, behind_kpa: float, before_k: float) -> float:
    """Mass flow by area [g/(s·mm²)] of air that has the temperature ``before_k`` [K] before the hole.

    >>> round(ideal_flux(652.905, 101.325, 293.15), 3)
    1.541
    """
    # kPa * mm2 = 1e-3 N, kg/s = 1e3 g/s: the powers of ten cancel
    return before_kpa * coefficient(before_kpa, behind_kpa) / math.sqrt(R_AIR_J_KG_K * before_k)
