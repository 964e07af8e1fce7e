"""How mechanics write readings.

Source: common practice; the forms (separators, missing units, missing letters of codes, ways to name a cylinder) are
those met in public repair threads, every number is our own.
"""

from __future__ import annotations

import pytest

from knowngood.car import Car
from tests.unit.lines.said import EIGHT, FOUR, SIX, said

TWO = Car(cylinders=2)
BY_BANK = Car(cylinders=8, form="V", numbering="by bank")

FORMS: list[tuple[Car, str, list[str]]] = [
    # compression, all cylinders
    (
        FOUR,
        "comp 180-180-170-50",
        [f"compression c{n} {k} psi" for n, k in enumerate((1241.06, 1241.06, 1172.11, 344.738), 1)],
    ),
    (
        FOUR,
        "compression 190 / 180 / 195 / 90",
        [f"compression c{n} {k} psi" for n, k in enumerate((1310, 1241.06, 1344.48, 620.528), 1)],
    ),
    (FOUR, "comp 160/170", ["compression c1 1103.16 psi", "compression c2 1172.11 psi"]),
    (FOUR, "comp 110 to 130 PSI", [f"compression c{n} 827.371 range psi" for n in range(1, 5)]),
    (FOUR, "compression ~160psi all", [f"compression c{n} 1103.16 about psi" for n in range(1, 5)]),
    (FOUR, "compression 130 lbs across all", [f"compression c{n} 896.318 psi" for n in range(1, 5)]),
    (FOUR, "comp all 12kgf/cm2", [f"compression c{n} 1176.8 kgf_cm2" for n in range(1, 5)]),
    (FOUR, "comp 10-10.5 bar", [f"compression c{n} 1025 range bar" for n in range(1, 5)]),
    (FOUR, "comp 1.2MPa / 0.9", ["compression c1 1200 MPa", "compression c2 900 MPa"]),
    (FOUR, "comp high 180, low 175", [f"compression c{n} 1223.82 range psi" for n in range(1, 5)]),
    (FOUR, "Cyl#1=180psi, cyl#2=175", ["compression c1 1241.06 psi", "compression c2 1206.58 psi"]),
    # compression, one cylinder
    (FOUR, "cyl 2 - 0 psi", ["compression c2 0 psi"]),
    (FOUR, "comp none in 2 and 4", ["compression c2 0 none seen psi", "compression c4 0 none seen psi"]),
    (FOUR, "cyl 4 around 80psi", ["compression c4 551.581 about psi"]),
    (FOUR, "comp c2 9k", ["compression c2 882.599 kgf_cm2"]),
    # trims
    (FOUR, "LTFT 20-25%", ["long_trim b1 22.5 range percent"]),
    (FOUR, "LT +7 ST +3", ["long_trim b1 7 percent", "short_trim b1 3 percent"]),
    (FOUR, "LTFT 28% at 50% load", ["long_trim b1 28 percent [pull, 50 % load]"]),
    (FOUR, "Long Term Fuel Trim - Bank 1 23.0%", ["long_trim b1 23 percent"]),
    (SIX, "ltft ~18% both banks", ["long_trim b1 18 about percent", "long_trim b2 18 about percent"]),
    (SIX, "ltft -20% and -8%", ["long_trim b1 -20 percent", "long_trim b2 -8 percent"]),
    (FOUR, "LT FTRM1=2%", ["long_trim b1 2 percent"]),
    (FOUR, "lt 122%", ["long_trim b1 22 percent"]),
    # codes
    (SIX, "P0300, 301, 303, 305", ["code P0300", "code c1 P0301", "code c3 P0303", "code c5 P0305"]),
    (FOUR, "0302, 0304", ["code c2 P0302", "code c4 P0304"]),
    (FOUR, "code 35", ["code 35 ?"]),
    (FOUR, "codes 3 & 15", ["code 3 ?", "code 15 ?"]),
    (FOUR, "code 1134 (or somesuch)", ["code 1134 ?"]),
    (FOUR, "no codes", ["code none"]),
    (FOUR, "normal code", ["code none"]),
    # resistance
    (TWO, "leads 12.6Kohm / 12.9Kohm", ["lead_resistance c1 12600 kohm", "lead_resistance c2 12900 kohm"]),
    (FOUR, "injectors 12-13 ohms", [f"injector_resistance c{n} 12.5 range ohm" for n in range(1, 5)]),
    (FOUR, "c3 lead 3.3kΩ", ["lead_resistance c3 3300 kohm"]),
    (FOUR, "coolant sensor 3.7k Ohms at 13c", ["coolant_sensor_resistance 3700 kohm [at 13 c]"]),
    (FOUR, "coil 2 0 / infinite", ["coil_primary c2 0 ohm", "coil_primary c2 1e+06 over Mohm"]),
    # voltage
    (FOUR, "battery 14.60", ["charging_volts 14.6 V"]),
    (FOUR, "battery 12.21", ["battery_rested 12.21 V"]),
    (FOUR, "battery 12.x", ["battery_rested 12.5 range V"]),
    (FOUR, "10.5 volts cranking", ["battery_cranking 10.5 V [cranking]"]),
    (FOUR, "o2 0.06v to 0.8v", ["oxygen_volts b1 0.43 range V"]),
    (FOUR, "charging over 15V", ["charging_volts 15 over V"]),
    # pressure, vacuum, air
    (FOUR, "fuel 300KPa", ["fuel_pressure 300 kPa"]),
    (FOUR, "fuel pressure 40-45 psi", ["fuel_pressure 293.027 range psi"]),
    (FOUR, "fuel 42 psi then 0 after prime", ["fuel_pressure 289.58 psi", "fuel_hold 0 psi falls [key on]"]),
    (FOUR, "vacuum 15 -> 19 inHg", ["vacuum 50.7958 inHg", "vacuum 64.3414 inHg"]),
    (FOUR, '9.1" Hg', ["vacuum 30.8161 inHg"]),
    (FOUR, "maf 5.10 g/s", ["air_flow 5.1 g/s"]),
    (FOUR, "maf 4.1 lb/min", ["air_flow 30.9955 lb/min"]),
    # temperature
    (FOUR, "coolant 203 deg F", ["coolant_reading 95 degF"]),
    (
        EIGHT,
        "headers 300C+ except #6 at 90",
        [f"header_temperature c{n} 300 over degC" for n in (1, 2, 3, 4, 5, 7, 8)] + ["header_temperature c6 90 degC"],
    ),
    (
        FOUR,
        "header circa 140c for #3 and circa 290 for the rest",
        ["header_temperature c3 140 about degC", *(f"header_temperature c{n} 290 about degC" for n in (1, 2, 4))],
    ),
    (FOUR, "coolant -25", ["coolant_reading -25 degC"]),
    # gap and current
    (FOUR, "plug gap 1.1mm", [f"plug_gap c{n} 1.1 mm" for n in range(1, 5)]),
    (FOUR, "c2 gap .041in", ["plug_gap c2 1.0414 in"]),
    (FOUR, 'c2 gap .022"', ["plug_gap c2 0.5588 in"]),
    (FOUR, "drain 310mA", ["drain_current 0.31 mA"]),
    (FOUR, "drain 8.5A", ["drain_current 8.5 A"]),
    # naming
    (FOUR, "#4 comp 95 psi", ["compression c4 655.002 psi"]),
    (FOUR, "cyl. #3 comp 95 psi", ["compression c3 655.002 psi"]),
    (SIX, "No. 6 lead 4k", ["lead_resistance c6 4000 kohm"]),
    (FOUR, "leads 1 & 4 6.1k", ["lead_resistance c1 6100 kohm", "lead_resistance c4 6100 kohm"]),
    (BY_BANK, "5~8 bank ltft 9%", ["long_trim b2 9 percent"]),
    (FOUR, "rear cylinder lead 4k", ["lead_resistance c4 4000 kohm"]),
    (FOUR, "3番 comp 95 psi", ["compression c3 655.002 psi"]),
    (SIX, "L2 lead 4k", ["lead_resistance cL2 4000 kohm"]),
    # swaps
    (SIX, "coil 5->2, now P0302", ["swapped coil 5 with 2: moved 2", "code c2 P0302 now"]),
    (SIX, "coil 5->2, now P0305", ["swapped coil 5 with 2: stayed 5", "code c5 P0305 now"]),
    (FOUR, "swapped 1 and 3 plugs. Code returned", ["swapped plug 1 with 3: returned"]),
    (EIGHT, "swapped all coil packs bank to bank, misfire still present", ["swapped coil 1 with 2: no change"]),
    # mileage
    (FOUR, "137k", ["mileage_km = 137000.0"]),
    (FOUR, "140 thousand miles", ["mileage_km = 225308.2"]),
]


@pytest.mark.parametrize(("car", "line", "bodies"), FORMS, ids=[line for _, line, _ in FORMS])
def test_form_is_read(car: Car, line: str, bodies: list[str]) -> None:
    """Each form says what a mechanic means by it, in base units."""
    assert said(line, car) == bodies
