"""Equivalent leak holes: two orifices in series worked out independently with a general-purpose root finder.

Sources: isentropic flow of a perfect gas (textbook); scipy.optimize.brentq.
"""

import math

import pytest
from scipy.optimize import brentq

from knowngood.measure.sealing_hole import leak_hole, percent_of_hole

PSI = 6.894757293168361
AIR = 101.325
ORIFICE = 1.016

TABLE = {
    ("r1.16", 5): ((0.518, 0.4331, 0.669), (0.578, 0.4370, 0.672), (0.637, 0.4402, 0.674)),
    ("r1.17", 10): ((0.715, 0.6253, 0.803), (0.797, 0.6313, 0.807), (0.879, 0.6361, 0.810)),
    ("r1.18", 20): ((0.960, 0.9245, 0.977), (1.069, 0.9341, 0.982), (1.177, 0.9420, 0.986)),
    ("r1.19", 25): ((1.043, 1.0586, 1.045), (1.161, 1.0701, 1.051), (1.278, 1.0796, 1.056)),
    ("r1.20", 30): ((1.109, 1.1889, 1.108), (1.233, 1.2026, 1.114), (1.356, 1.2138, 1.119)),
    ("r1.21", 40): ((1.199, 1.4492, 1.223), (1.330, 1.4678, 1.231), (1.462, 1.4832, 1.237)),
    ("r1.22", 50): ((1.243, 1.7220, 1.333), (1.376, 1.7470, 1.343), (1.509, 1.7678, 1.351)),
    ("r1.23", 60): ((1.249, 2.0279, 1.447), (1.381, 2.0652, 1.460), (1.513, 2.0970, 1.471)),
}
CELLS = [
    pytest.param(percent, psi, *cell, id=f"{row}-{psi}psi")
    for (row, percent), cells in TABLE.items()
    for psi, cell in zip((80, 90, 100), cells, strict=True)
]


@pytest.mark.parametrize(("percent", "psi", "g_s", "ratio", "hole_mm"), CELLS)
def test_equivalent_leak(percent: float, psi: float, g_s: float, ratio: float, hole_mm: float) -> None:
    """Flow, area ratio and hole of every cell of the table."""
    supply = psi * PSI
    hole = leak_hole(supply, supply * (1.0 - percent / 100.0), ORIFICE, supply_se_kpa=0.1, cylinder_se_kpa=0.1)
    assert hole.flow_g_s == pytest.approx(g_s, abs=6e-4)
    assert hole.area_ratio == pytest.approx(ratio, abs=6e-5)
    assert hole.hole_mm == pytest.approx(hole_mm, abs=6e-4)


def flux(before: float, behind: float) -> float:
    """Flow of a perfect gas by area, written out again from the energy balance."""
    r = max(behind / before, (2.0 / 2.4) ** 3.5)
    return before * math.sqrt(7.0 * (r ** (2.0 / 1.4) - r ** (2.4 / 1.4)))


@pytest.mark.parametrize("hole_mm", [0.3, 0.8, 1.016, 1.5, 3.0])
@pytest.mark.parametrize("psi", [80, 100])
def test_reading_of_a_hole_against_a_root_finder(hole_mm: float, psi: float) -> None:
    """brentq on inflow less outflow gives the same cylinder pressure."""
    supply = psi * PSI + AIR
    balance = lambda p: ORIFICE**2 * flux(supply, p) - hole_mm**2 * flux(p, AIR)  # noqa: E731
    cylinder = brentq(balance, AIR + 1e-6, supply - 1e-9, xtol=1e-10)
    percent, _ = percent_of_hole(hole_mm, psi * PSI, ORIFICE)
    assert percent == pytest.approx(100.0 * (supply - cylinder) / (psi * PSI), abs=1e-5)


@pytest.mark.parametrize(
    ("psi", "ratio", "shown_psi"),
    [(80, 1.0, 61.77), (90, 1.0, 69.84), (100, 1.0, 77.92), (80, 0.5, 74.74), (80, 2.0, 32.65)],
)
def test_invariants(psi: float, ratio: float, shown_psi: float) -> None:
    """A leak as large as the orifice, half and double, shows these pressures (computed with the same textbook)."""
    percent, _ = percent_of_hole(ORIFICE * math.sqrt(ratio), psi * PSI, ORIFICE)
    assert psi * (1.0 - percent / 100.0) == pytest.approx(shown_psi, abs=0.006)


def test_both_choked_is_the_pressure_ratio() -> None:
    """When both holes choke the area ratio is the ratio of absolute pressures: 94.696/46.696 psi = 2.0279."""
    hole = leak_hole(80 * PSI, 32 * PSI, ORIFICE)
    assert hole.area_ratio == pytest.approx((80 * PSI + AIR) / (32 * PSI + AIR), rel=1e-9)
    assert hole.area_ratio == pytest.approx(2.0279, abs=6e-5)
