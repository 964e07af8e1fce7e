"""Air that a fuel needs, what ethanol changes, and how much ethanol would explain a trim."""

from __future__ import annotations

import math

from knowngood.errors import NotMeasurable
from knowngood.measure.bracket import Bracket
from knowngood.measure.carried import with_error
from knowngood.measure.given import between, not_below_zero, resolved
from knowngood.measure.trim import BETWEEN_DRIVES_PCT

PETROL_AIR = 14.7
"""Air to fuel by mass, petrol without ethanol: common practice."""
ETHANOL_AIR = 9.0
"""Air to fuel by mass, ethanol, from its formula."""
PETROL_KG_L = 0.745
ETHANOL_KG_L = 0.789
"""Densities at 15 to 20 °C: middle of the petrol standard's range, and pure ethanol."""
OXYGEN_SHARE = 0.20946
"""Oxygen in dry air by volume: ISO 2533."""
AIR_G_MOL = 28.9644
CARBON_G_MOL, HYDROGEN_G_MOL, OXYGEN_G_MOL = 12.011, 1.008, 15.999


def air_for_formula(carbon: float, hydrogen: float, oxygen: float = 0.0) -> float:
    """Air to fuel by mass for complete burning of a fuel of known formula.

    Parameters
    ----------
    carbon, hydrogen, oxygen : float
        Atoms in the molecule, or their ratio.

    Returns
    -------
    air_fuel : float
        Mass of air over mass of fuel.

    Raises
    ------
    NotMeasurable
        A number is not finite or negative, or there is nothing to burn.

    Notes
    -----
    Cannot tell: the ratio of a petrol whose formula is not known; road petrol is near CH1.85.

    Examples
    --------
    >>> f"{air_for_formula(8, 18):.2f} {air_for_formula(2, 6, 1):.2f}"
    '15.13 9.00'
    """
    for name, atoms in (("Carbon", carbon), ("Hydrogen", hydrogen), ("Oxygen", oxygen)):
        not_below_zero(name, atoms, "atoms")
    mass = carbon * CARBON_G_MOL + hydrogen * HYDROGEN_G_MOL + oxygen * OXYGEN_G_MOL
    needed = carbon + hydrogen / 4.0 - oxygen / 2.0
    if needed <= 0.0:
        raise NotMeasurable(
            f"C {carbon:g}, H {hydrogen:g}, O {oxygen:g} takes up no more oxygen.", "Give the formula of a fuel."
        )
    return needed * AIR_G_MOL / OXYGEN_SHARE / mass


def air_for_blend(ethanol_pct: float, *, ethanol_se_pct: float = 1.0) -> tuple[float, float]:
    """Air to fuel by mass of petrol with ethanol.

    The two mix by mass; the share at the pump is by volume and is turned into mass first.

    Parameters
    ----------
    ethanol_pct : float [%]
        Ethanol by volume, 0 to 100.
    ethanol_se_pct : float [%]
        One standard error of the share; 1 % is a measuring glass read once.

    Returns
    -------
    air_fuel, se : tuple of float

    Raises
    ------
    NotMeasurable
        The share is not finite or outside 0 to 100 %.

    Notes
    -----
    Cannot tell: the share in the tank; a pump label is an upper limit in many places.

    References
    ----------
    common_practice : petrol 14.7, ethanol 9.0.

    Examples
    --------
    >>> air_fuel, se = air_for_blend(10)
    >>> f"{air_fuel:.2f} ± {se:.2f}"
    '14.10 ± 0.06'
    """
    return with_error(_air_for_blend, (between("Ethanol", ethanol_pct, 0.0, 100.0, "%"),), (ethanol_se_pct,))


def blend_trim(ethanol_pct: float) -> Bracket:
    """Trim that ethanol causes on an engine set for petrol without it.

    More fuel is needed in proportion to the air-fuel ratios. Through an injector the denser blend flows a little more,
    with the root of its density; that makes the lower end of the range.

    Parameters
    ----------
    ethanol_pct : float [%]
        Ethanol by volume, 0 to 100.

    Returns
    -------
    trim_pct : Bracket [%]

    Raises
    ------
    NotMeasurable
        The share is not finite or outside 0 to 100 %.

    Notes
    -----
    Cannot tell: what the engine was set for; many are set for some ethanol. An engine with a fuel sensor shows nothing.

    Examples
    --------
    >>> trim = blend_trim(10)
    >>> f"{trim.low:.1f} to {trim.high:.1f} %"
    '3.9 to 4.3 %'
    """
    by_mass = PETROL_AIR / air_for_blend(ethanol_pct)[0]
    volume = ethanol_pct / 100.0
    density = volume * ETHANOL_KG_L + (1.0 - volume) * PETROL_KG_L
    high = 100.0 * (by_mass - 1.0)
    return Bracket(100.0 * (by_mass * math.sqrt(PETROL_KG_L / density) - 1.0), high, high)


def ethanol_from_trim(trim_pct: float, *, trim_se_pct: float = BETWEEN_DRIVES_PCT) -> tuple[float, float]:
    """Ethanol that would explain a trim that is the same at every flow.

    Parameters
    ----------
    trim_pct, trim_se_pct : float [%]
        Total trim on an engine set for petrol without ethanol, and its standard error.

    Returns
    -------
    ethanol_pct, se : tuple of float [%], [%]
        By volume.

    Raises
    ------
    NotMeasurable
        The trim is not above three of its standard errors, or over 63 % (pure ethanol).

    Notes
    -----
    Cannot tell: ethanol from anything else that scales the mixture (meter, fuel pressure). A shake of fuel with water
    in a measuring glass tells: the ethanol goes into the water.

    Examples
    --------
    >>> ethanol_pct, se = ethanol_from_trim(30.0)
    >>> f"{ethanol_pct:.0f} ± {se:.0f} %"
    '58 ± 3 %'
    """
    resolved("Trim", trim_pct, trim_se_pct, "%")
    between("Trim", trim_pct, 0.0, 100.0 * (PETROL_AIR / ETHANOL_AIR - 1.0), "%")

    def ethanol(trim: float) -> float:
        share = (PETROL_AIR - PETROL_AIR / (1.0 + trim / 100.0)) / (PETROL_AIR - ETHANOL_AIR)
        return 100.0 * (share / ETHANOL_KG_L) / (share / ETHANOL_KG_L + (1.0 - share) / PETROL_KG_L)

    return with_error(ethanol, (trim_pct,), (trim_se_pct,))


def _ethanol_mass_share(ethanol_pct: float) -> float:
    ethanol = ethanol_pct * ETHANOL_KG_L
    return ethanol / (ethanol + (100.0 - ethanol_pct) * PETROL_KG_L)


def _air_for_blend(ethanol_pct: float) -> float:
    share = _ethanol_mass_share(ethanol_pct)
    return share * ETHANOL_AIR + (1.0 - share) * PETROL_AIR
