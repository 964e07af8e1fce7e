"""Constants of nature, and units turned into each other, that several topics share."""

from __future__ import annotations

ZERO_C_K = 273.15
"""0 °C in kelvin: exact, SI Brochure, 2.3.4."""
SEA_LEVEL_KPA = 101.325
"""Air of the standard atmosphere at sea level, and the standard atmosphere as a unit: exact, ISO 2533:1975."""
R_AIR_J_KG_K = 287.05
"""Gas constant of dry air: ISO 2533:1975, rounded."""
MM_PER_INCH = 25.4
"""Exact: NIST SP 811, appendix B."""
KPA_PER_PSI = 6.894757293168361
"""From the exact pound, gravity and inch: NIST SP 811, appendix B."""
