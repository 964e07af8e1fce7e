"""The two glycols of coolants: what is known of each, by the name it is asked for."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.errors import Refused


@dataclass(frozen=True, slots=True)
class Glycol:
    """A glycol.

    Parameters
    ----------
    density_kg_l, molar_g : float [kg/L], [g/mol]
        At 20 °C.
    a, b, c, d, e : float
        Of its vapour pressure: ln(p / Pa) = a + b / T + c ln T + d T ** e, T in kelvin.
    first_ice : tuple of (float [%], float [°C])
        Share by volume, and where the first ice forms, in rising order of the share.

    References
    ----------
    perry_8 : Perry's Chemical Engineers' Handbook, 8th edition, table 2-8, vapour pressure coefficients.
    ashrae_fundamentals : ASHRAE Handbook Fundamentals, secondary coolants, ethylene glycol by volume.
    lange : Lange's Handbook of Chemistry, table 5.13, propylene glycol by volume.
    """

    density_kg_l: float
    molar_g: float
    a: float
    b: float
    c: float
    d: float
    e: float
    first_ice: tuple[tuple[float, float], ...]


GLYCOLS = {
    "ethylene": Glycol(
        1.1135, 62.068, 84.09, -10411.0, -8.1976, 1.6536e-18, 6.0,
        ((0, 0.0), (10, -3.6), (20, -9.0), (30, -15.7), (40, -24.8), (50, -36.8), (60, -52.0)),
    ),
    "propylene": Glycol(
        1.0361, 76.094, 212.8, -15420.0, -28.109, 2.1564e-05, 2.0,
        (
            (0, 0.0), (5, -1.1), (10, -2.2), (15, -3.9), (20, -6.7), (25, -8.9),
            (30, -12.8), (35, -16.1), (40, -20.6), (45, -26.7), (50, -33.3),
        ),
    ),
}  # fmt: skip


def glycol_named(kind: str) -> Glycol:
    """What is known of a glycol.

    Raises
    ------
    Refused
        The kind is not one of the two.
    """
    if kind not in GLYCOLS:
        raise Refused(f"No glycol is called '{kind}'.", f"Give one of: {', '.join(GLYCOLS)}.")
    return GLYCOLS[kind]
