"""Air through a small hole, and two holes in a row: the physics behind a leak-down tester.

All pressures here are absolute. Flow is choked (it no longer depends on the pressure behind the hole) when the
pressure behind is under 0.528 of the pressure before.
"""

from __future__ import annotations

import math

from knowngood.measure.carried import with_error
from knowngood.measure.constant import ZERO_C_K
from knowngood.measure.given import above_zero, between, not_below_zero
from knowngood.measure.nozzle import GAMMA_AIR, choking_ratio, coefficient, ideal_flux


def critical_ratio(gamma: float = GAMMA_AIR) -> float:
    """Pressure behind a hole over pressure before it at which the flow just chokes, both absolute.

    Parameters
    ----------
    gamma : float
        Ratio of the heat capacities, 1.05 to 1.67.

    Returns
    -------
    ratio : float

    Raises
    ------
    NotMeasurable
        Gamma is not finite or outside 1.05 to 1.67.

    Notes
    -----
    Cannot tell: where a long or rounded passage chokes; it is a rule for a thin hole.

    References
    ----------
    gas_dynamics : isentropic flow of a perfect gas, any textbook of gas dynamics.

    Examples
    --------
    >>> round(critical_ratio(), 6)
    0.528282
    """
    return choking_ratio(between("Ratio of heat capacities", gamma, 1.05, 1.67, ""))


def flow_coefficient(
    before_kpa: float, behind_kpa: float, *, before_se_kpa: float = 0.0, behind_se_kpa: float = 0.0
) -> tuple[float, float]:
    """Mass flow of air through a hole without its size and temperature: flow = coefficient * area * p / sqrt(R T).

    Parameters
    ----------
    before_kpa, behind_kpa : float [kPa]
        Absolute pressures on both sides of the hole.
    before_se_kpa, behind_se_kpa : float [kPa]
        One standard error of each; the laws take what they are given as exact when nothing is said.

    Returns
    -------
    coefficient, se : tuple of float
        0.684731 when choked, less when not, 0 without a difference.

    Raises
    ------
    NotMeasurable
        A pressure is not finite, the one before is not above zero, or the one behind is higher.

    Notes
    -----
    Cannot tell: the discharge coefficient of a real hole, 0.6 to 1.

    References
    ----------
    gas_dynamics : isentropic flow of a perfect gas, any textbook of gas dynamics.

    Examples
    --------
    >>> round(flow_coefficient(652.9, 101.3)[0], 6)
    0.684731
    >>> coefficient, se = flow_coefficient(300.0, 250.0, before_se_kpa=3.0, behind_se_kpa=3.0)
    >>> f"{coefficient:.3f} ± {se:.3f}"
    '0.523 ± 0.016'
    """
    _check_fall(before_kpa, behind_kpa)
    return with_error(coefficient, (before_kpa, behind_kpa), (before_se_kpa, behind_se_kpa))


def hole_area(hole_mm: float, *, hole_se_mm: float = 0.02) -> tuple[float, float]:
    """Area of a round hole.

    Parameters
    ----------
    hole_mm : float [mm]
        Diameter, above zero.
    hole_se_mm : float [mm]
        One standard error of the diameter; 0.02 mm is a drill or a pin gauge.

    Returns
    -------
    area_mm2, se : tuple of float [mm2], [mm2]

    Raises
    ------
    NotMeasurable
        The diameter is not finite or not above zero.

    Notes
    -----
    Cannot tell: the shape of a leak. A burnt valve is a slit; the same area is all that counts here.

    References
    ----------
    geometry : area of a circle.

    Examples
    --------
    >>> area_mm2, se = hole_area(1.016)
    >>> f"{area_mm2:.5f} ± {se:.2f} mm²"
    '0.81073 ± 0.03 mm²'
    """
    return with_error(lambda mm: 0.25 * math.pi * mm**2, (above_zero("Hole", hole_mm, "mm"),), (hole_se_mm,))


def hole_flow(
    hole_mm: float,
    before_kpa: float,
    behind_kpa: float,
    *,
    air_c: float = 20.0,
    discharge: float = 1.0,
    hole_se_mm: float = 0.02,
    before_se_kpa: float = 0.0,
    behind_se_kpa: float = 0.0,
    air_se_c: float = 3.0,
    discharge_se: float = 0.0,
) -> tuple[float, float]:
    """Mass flow of air through a round hole.

    Parameters
    ----------
    hole_mm : float [mm]
        Diameter.
    before_kpa, behind_kpa : float [kPa]
        Absolute pressures on both sides.
    air_c : float [degC]
        Temperature of the air before the hole, -60 to 300.
    discharge : float
        Discharge coefficient, 0.3 to 1.
    hole_se_mm, before_se_kpa, behind_se_kpa, air_se_c, discharge_se : float [mm], [kPa], [kPa], [K], share
        One standard error of each; pressures and coefficient are taken as given when nothing is said.

    Returns
    -------
    flow_g_s, se : tuple of float [g/s], [g/s]

    Raises
    ------
    NotMeasurable
        A number is not finite or outside its span, or the pressure behind is the higher one.

    Notes
    -----
    Cannot tell: the discharge coefficient of a real hole; it scales the flow and cancels where two holes are compared.

    References
    ----------
    gas_dynamics : isentropic flow of a perfect gas, any textbook of gas dynamics.

    Examples
    --------
    >>> flow_g_s, se = hole_flow(1.016, 101.325 + 551.58, 101.325)
    >>> f"{flow_g_s:.4f} ± {se:.2f} g/s"
    '1.2495 ± 0.05 g/s'
    """
    kelvin = between("Air temperature", air_c, -60.0, 300.0, "°C") + ZERO_C_K
    share = between("Discharge coefficient", discharge, 0.3, 1.0, "")
    above_zero("Hole", hole_mm, "mm")
    _check_fall(before_kpa, behind_kpa)

    def flow(mm: float, before: float, behind: float, hot: float, let_through: float) -> float:
        return let_through * 0.25 * math.pi * mm**2 * ideal_flux(before, behind, hot)

    errors = (hole_se_mm, before_se_kpa, behind_se_kpa, air_se_c, discharge_se)
    return with_error(flow, (hole_mm, before_kpa, behind_kpa, kelvin, share), errors)


def area_ratio(
    supply_kpa: float,
    between_kpa: float,
    air_kpa: float,
    *,
    supply_se_kpa: float = 0.0,
    between_se_kpa: float = 0.0,
    air_se_kpa: float = 0.0,
) -> tuple[float, float]:
    """Area of the second of two holes in a row over the first, from the pressure between them.

    What flows in through the first hole flows out through the second, so size, temperature and discharge
    coefficient cancel when both are alike.

    Parameters
    ----------
    supply_kpa, between_kpa, air_kpa : float [kPa]
        Absolute pressures before, between and behind.
    supply_se_kpa, between_se_kpa, air_se_kpa : float [kPa]
        One standard error of each; the laws take what they are given as exact when nothing is said.

    Returns
    -------
    ratio, se : tuple of float

    Raises
    ------
    NotMeasurable
        The pressures do not fall along the way, or nothing is above the air around.

    Notes
    -----
    Cannot tell: anything where the holes differ in kind (long passage, sharp edge): the ratio is then one of
    effective areas.

    References
    ----------
    gas_dynamics : isentropic flow of a perfect gas, any textbook of gas dynamics.

    Examples
    --------
    >>> ratio, se = area_ratio(652.905, 321.958, 101.325, supply_se_kpa=8.0, between_se_kpa=8.0)
    >>> f"{ratio:.4f} ± {se:.2f}"
    '2.0279 ± 0.06'
    """
    supply = above_zero("Absolute supply pressure", supply_kpa, "kPa")
    air = between("Absolute air pressure", air_kpa, 0.0, supply, "kPa")
    middle = between("Absolute cylinder pressure", between_kpa, air, supply, "kPa")
    above_zero("Cylinder pressure above the air around", middle - air, "kPa")

    def ratio(p0: float, p1: float, p2: float) -> float:
        return p0 * coefficient(p0, p1) / (p1 * coefficient(p1, p2))

    return with_error(ratio, (supply, middle, air), (supply_se_kpa, between_se_kpa, air_se_kpa))


def pressure_between(
    supply_kpa: float,
    air_kpa: float,
    ratio: float,
    *,
    supply_se_kpa: float = 0.0,
    air_se_kpa: float = 0.0,
    ratio_se: float = 0.0,
) -> tuple[float, float]:
    """Absolute pressure between two holes in a row, from their areas.

    Parameters
    ----------
    supply_kpa, air_kpa : float [kPa]
        Absolute pressures before the first and behind the second hole.
    ratio : float
        Area of the second hole over the first, zero or more.
    supply_se_kpa, air_se_kpa, ratio_se : float [kPa], [kPa], ratio
        One standard error of each; the laws take what they are given as exact when nothing is said.

    Returns
    -------
    between_kpa, se : tuple of float [kPa], [kPa]

    Raises
    ------
    NotMeasurable
        A number is not finite, the supply is not above the air, or the ratio is below zero.

    Notes
    -----
    Cannot tell: anything where the holes differ in kind; see `area_ratio`, whose inverse this is.

    References
    ----------
    gas_dynamics : isentropic flow of a perfect gas, any textbook of gas dynamics.

    Examples
    --------
    >>> between_kpa, se = pressure_between(652.905, 101.325, 2.0279, supply_se_kpa=8.0)
    >>> f"{between_kpa:.0f} ± {se:.0f} kPa"
    '322 ± 4 kPa'
    """
    air = above_zero("Absolute air pressure", air_kpa, "kPa")
    above_zero("Supply pressure above the air around", supply_kpa - air, "kPa")
    wanted = not_below_zero("Area ratio", ratio, "")

    def middle(p0: float, p2: float, area: float) -> float:
        low, high = p2, p0  # the outflow rises and the inflow falls with the pressure between
        for _ in range(50):
            half = 0.5 * (low + high)
            inflow, outflow = p0 * coefficient(p0, half), area * half * coefficient(half, p2)
            low, high = (half, high) if inflow > outflow else (low, half)
        return 0.5 * (low + high)

    return with_error(middle, (supply_kpa, air, wanted), (supply_se_kpa, air_se_kpa, ratio_se))


def _check_fall(before_kpa: float, behind_kpa: float) -> None:
    """Refuse pressures that rise along the way."""
    before = above_zero("Absolute pressure before the hole", before_kpa, "kPa")
    between("Absolute pressure behind the hole", behind_kpa, 0.0, before, "kPa")
