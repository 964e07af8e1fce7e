"""The leak of a cylinder as one hole, which any tester would find, and what another tester would show for it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.constant import SEA_LEVEL_KPA
from knowngood.measure.given import above_zero, between, not_below_zero
from knowngood.measure.leakdown import GAUGE_SE_KPA, ORIFICE_SMALL_BORE_MM, READING_KPA
from knowngood.measure.sealing_flow import area_ratio, critical_ratio, hole_area, hole_flow, pressure_between


@dataclass(frozen=True, slots=True)
class LeakHole:
    """The leak as one round hole with the tester's discharge coefficient.

    `area_ratio` is leak over orifice area; `flow_g_s` the air it takes at this setting; `orifice_choked` and
    `leak_choked` say where the flow no longer depends on the pressure behind.
    """

    hole_mm: float
    hole_se_mm: float
    area_mm2: float
    area_se_mm2: float
    area_ratio: float
    area_ratio_se: float
    flow_g_s: float
    flow_se_g_s: float
    orifice_choked: bool
    leak_choked: bool


def leak_hole(
    supply_kpa: float,
    cylinder_kpa: float,
    orifice_mm: float,
    *,
    air_kpa: float = SEA_LEVEL_KPA,
    air_c: float = 20.0,
    air_se_c: float = 3.0,
    supply_se_kpa: float = GAUGE_SE_KPA,
    cylinder_se_kpa: float = GAUGE_SE_KPA,
    orifice_se_mm: float = 0.02,
) -> LeakHole:
    """The leak as a hole: what flows in through the tester's orifice flows out through it.

    Parameters
    ----------
    supply_kpa, cylinder_kpa : float [kPa]
        Above the air around, as the gauges show.
    orifice_mm : float [mm]
        Diameter of the tester's orifice.
    air_kpa : float [kPa]
        Absolute pressure of the air around.
    air_c, air_se_c : float [degC], [K]
        Temperature of the air, and its standard error.
    supply_se_kpa, cylinder_se_kpa, orifice_se_mm : float [kPa], [kPa], [mm]
        One standard error of each.

    Returns
    -------
    LeakHole

    Raises
    ------
    NotMeasurable
        The loss is less than three of its standard errors, the cylinder holds no pressure, or a number is not finite
        or outside its span.

    Notes
    -----
    Cannot tell: where the leak is, nor one leak from several; a hole with another discharge coefficient than the
    orifice is off by the root of their ratio.

    References
    ----------
    gas_dynamics : isentropic flow of a perfect gas through two orifices in series.

    Examples
    --------
    >>> hole = leak_hole(551.58, 413.69, 1.016)
    >>> f"{hole.hole_mm:.3f} ± {hole.hole_se_mm:.3f} mm, {hole.flow_g_s:.2f} g/s"
    '1.045 ± 0.032 mm, 1.04 g/s'
    """
    supply = above_zero("Supply pressure", supply_kpa, "kPa")
    cylinder = above_zero("Cylinder pressure", cylinder_kpa, "kPa")
    orifice = above_zero("Orifice", orifice_mm, "mm")
    air = between("Absolute air pressure", air_kpa, 50.0, 110.0, "kPa")
    loss_se = math.hypot(supply_se_kpa, cylinder_se_kpa)
    if supply - cylinder < 3.0 * loss_se:
        raise NotMeasurable(
            f"The loss is {supply - cylinder:.1f} kPa, its standard error {loss_se:.1f} kPa: less than three of them.",
            "It seals as well as this tester can see; no hole can be named.",
        )

    p0, p1 = supply + air, cylinder + air
    errors = supply_se_kpa, cylinder_se_kpa, orifice_se_mm
    hole_mm, se = with_error(lambda a, b, mm: mm * math.sqrt(area_ratio(a, b, air)[0]), (p0, p1, orifice), errors)
    area_mm2, area_se = hole_area(hole_mm, hole_se_mm=se)
    ratio, ratio_se = area_ratio(p0, p1, air, supply_se_kpa=supply_se_kpa, between_se_kpa=cylinder_se_kpa)
    flow_g_s, flow_se = hole_flow(
        orifice,
        p0,
        p1,
        air_c=air_c,
        hole_se_mm=orifice_se_mm,
        before_se_kpa=supply_se_kpa,
        behind_se_kpa=cylinder_se_kpa,
        air_se_c=air_se_c,
    )
    return LeakHole(
        hole_mm=hole_mm,
        hole_se_mm=se,
        area_mm2=area_mm2,
        area_se_mm2=area_se,
        area_ratio=ratio,
        area_ratio_se=ratio_se,
        flow_g_s=flow_g_s,
        flow_se_g_s=flow_se,
        orifice_choked=p1 / p0 <= critical_ratio(),
        leak_choked=air / p1 <= critical_ratio(),
    )


def percent_of_hole(
    hole_mm: float, supply_kpa: float, orifice_mm: float, *, air_kpa: float = SEA_LEVEL_KPA, hole_se_mm: float = 0.0
) -> tuple[float, float]:
    """What a tester would show for a hole of known size: the inverse of `leak_hole`.

    Parameters
    ----------
    hole_mm : float [mm]
        Leak as a round hole; 0 is no leak.
    supply_kpa : float [kPa]
        Setting of the tester, above the air around.
    orifice_mm : float [mm]
        Its orifice.
    air_kpa : float [kPa]
        Absolute pressure of the air around.
    hole_se_mm : float [mm]
        One standard error of the hole; taken as given when nothing is said.

    Returns
    -------
    percent, se : tuple of float [percent], [percent]

    Raises
    ------
    NotMeasurable
        A number is not finite or outside its span.

    Notes
    -----
    Cannot tell: what a tester with a long or worn orifice shows.

    References
    ----------
    gas_dynamics : isentropic flow of a perfect gas through two orifices in series.

    Examples
    --------
    >>> round(percent_of_hole(1.016, 551.58, 1.016)[0], 1)
    22.8
    """
    hole = not_below_zero("Leak hole", hole_mm, "mm")
    supply = above_zero("Supply pressure", supply_kpa, "kPa")
    orifice = above_zero("Orifice", orifice_mm, "mm")
    air = between("Absolute air pressure", air_kpa, 50.0, 110.0, "kPa")

    def percent(diameter: float) -> float:
        cylinder = pressure_between(supply + air, air, (diameter / orifice) ** 2)[0] - air
        return 100.0 * (1.0 - cylinder / supply)

    return with_error(percent, (hole,), (not_below_zero("Leak hole error", hole_se_mm, "mm"),))


def convert_percent(
    percent: float,
    *,
    from_supply_kpa: float,
    from_orifice_mm: float,
    to_supply_kpa: float = READING_KPA,
    to_orifice_mm: float = ORIFICE_SMALL_BORE_MM,
    percent_se: float = 2.0,
    air_kpa: float = SEA_LEVEL_KPA,
) -> tuple[float, float]:
    """What another tester would show for the same leak.

    Parameters
    ----------
    percent, percent_se : float [percent]
        Reading of the first tester and its standard error.
    from_supply_kpa, to_supply_kpa : float [kPa]
        Settings of both testers, above the air around.
    from_orifice_mm, to_orifice_mm : float [mm]
        Their orifices. Left out: the aircraft procedure's 80 psi and 1.016 mm.
    air_kpa : float [kPa]
        Absolute pressure of the air around.

    Returns
    -------
    percent, se : tuple of float [percent], [percent]

    Raises
    ------
    NotMeasurable
        The percent is outside 0.1 to 99, or a number is not finite or outside its span.

    Notes
    -----
    Cannot tell: anything for a tester whose orifice is not known.

    References
    ----------
    gas_dynamics : isentropic flow of a perfect gas through two orifices in series.

    Examples
    --------
    >>> shown, se = convert_percent(
    ...     10.0, from_supply_kpa=551.58, from_orifice_mm=1.016, to_supply_kpa=689.5, to_orifice_mm=1.524)
    >>> f"{shown:.1f} ± {se:.1f} %"
    '2.0 ± 0.4 %'
    """
    shown = between("Leak", percent, 0.1, 99.0, "%")
    supply = above_zero("Supply pressure of the first tester", from_supply_kpa, "kPa")
    air = between("Absolute air pressure", air_kpa, 50.0, 110.0, "kPa")
    orifice = above_zero("Orifice of the first tester", from_orifice_mm, "mm")

    def there(value: float) -> float:
        kept = min(max(value, 0.01), 99.9)  # its error may carry a reading past none or all
        cylinder = supply * (1.0 - kept / 100.0)
        hole = orifice * math.sqrt(area_ratio(supply + air, cylinder + air, air)[0])
        return percent_of_hole(hole, to_supply_kpa, to_orifice_mm, air_kpa=air)[0]

    return with_error(there, (shown,), (not_below_zero("Leak error", percent_se, "%"),))
