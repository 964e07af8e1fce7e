"""Air through a small hole, and two holes in a row: the physics behind a leak-down tester.

All pressures here are absolute. Flow is choked (it no longer depends on the pressure behind the hole) when the
pressure behind is under 0.528 of the pressure before.
"""

from __future__ import annotations

import math

from knowngood.measure.given import above_zero, between, not_below_zero

GAMMA_AIR = 1.4
R_AIR_J_KG_K = 287.05
ZERO_C_K = 273.15


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
    g = between("Ratio of heat capacities", gamma, 1.05, 1.67, "")
    return float((2.0 / (g + 1.0)) ** (g / (g - 1.0)))


def flow_coefficient(before_kpa: float, behind_kpa: float) -> float:
    """Mass flow of air through a hole without its size and temperature: flow = coefficient * area * p / sqrt(R T).

    Parameters
    ----------
    before_kpa, behind_kpa : float [kPa]
        Absolute pressures on both sides of the hole.

    Returns
    -------
    coefficient : float
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
    >>> round(flow_coefficient(652.9, 101.3), 6)
    0.684731
    """
    before = above_zero("Absolute pressure before the hole", before_kpa, "kPa")
    behind = between("Absolute pressure behind the hole", behind_kpa, 0.0, before, "kPa")
    ratio = max(behind / before, critical_ratio())
    g = GAMMA_AIR
    return math.sqrt(max(0.0, 2.0 * g / (g - 1.0) * (ratio ** (2.0 / g) - ratio ** ((g + 1.0) / g))))


def hole_area(hole_mm: float) -> float:
    """Area of a round hole.

    Parameters
    ----------
    hole_mm : float [mm]
        Diameter, above zero.

    Returns
    -------
    area_mm2 : float [mm2]

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
    >>> round(hole_area(1.016), 5)
    0.81073
    """
    return 0.25 * math.pi * above_zero("Hole", hole_mm, "mm") ** 2


def hole_flow(
    hole_mm: float, before_kpa: float, behind_kpa: float, *, air_c: float = 20.0, discharge: float = 1.0
) -> float:
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

    Returns
    -------
    flow_g_s : float [g/s]

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
    >>> round(hole_flow(1.016, 101.325 + 551.58, 101.325), 4)
    1.2495
    """
    kelvin = between("Air temperature", air_c, -60.0, 300.0, "°C") + ZERO_C_K
    share = between("Discharge coefficient", discharge, 0.3, 1.0, "")
    # kPa * mm2 = 1e-3 N, kg/s = 1e3 g/s: the powers of ten cancel
    return (
        share
        * hole_area(hole_mm)
        * before_kpa
        * flow_coefficient(before_kpa, behind_kpa)
        / math.sqrt(R_AIR_J_KG_K * kelvin)
    )


def area_ratio(supply_kpa: float, between_kpa: float, air_kpa: float) -> float:
    """Area of the second of two holes in a row over the first, from the pressure between them.

    What flows in through the first hole flows out through the second, so size, temperature and discharge
    coefficient cancel when both are alike.

    Parameters
    ----------
    supply_kpa, between_kpa, air_kpa : float [kPa]
        Absolute pressures before, between and behind.

    Returns
    -------
    ratio : float

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
    >>> round(area_ratio(652.905, 321.958, 101.325), 4)
    2.0279
    """
    supply = above_zero("Absolute supply pressure", supply_kpa, "kPa")
    air = between("Absolute air pressure", air_kpa, 0.0, supply, "kPa")
    middle = between("Absolute cylinder pressure", between_kpa, air, supply, "kPa")
    above_zero("Cylinder pressure above the air around", middle - air, "kPa")
    return supply * flow_coefficient(supply, middle) / (middle * flow_coefficient(middle, air))


def pressure_between(supply_kpa: float, air_kpa: float, ratio: float) -> float:
    """Absolute pressure between two holes in a row, from their areas.

    Parameters
    ----------
    supply_kpa, air_kpa : float [kPa]
        Absolute pressures before the first and behind the second hole.
    ratio : float
        Area of the second hole over the first, zero or more.

    Returns
    -------
    between_kpa : float [kPa]

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
    >>> round(pressure_between(652.905, 101.325, 2.0279), 1)
    322.0
    """
    air = above_zero("Absolute air pressure", air_kpa, "kPa")
    above_zero("Supply pressure above the air around", supply_kpa - air, "kPa")
    wanted = not_below_zero("Area ratio", ratio, "")
    low, high = air, supply_kpa  # the outflow rises and the inflow falls with the pressure between
    for _ in range(80):
        middle = 0.5 * (low + high)
        inflow = supply_kpa * flow_coefficient(supply_kpa, middle)
        outflow = wanted * middle * flow_coefficient(middle, air)
        low, high = (middle, high) if inflow > outflow else (low, middle)
    return 0.5 * (low + high)
