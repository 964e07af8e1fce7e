"""How the readings of a topic are written in a line of the journal: their words, their kind, where they sit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Written:
    """How one field is written in a line.

    Parameters
    ----------
    field : str
        Field of the topic; what it takes comes in a row of cylinders where the field is a row.
    words : str
        What stands before the numbers.
    kind : str
        Kind of reading of the library that the line is read as.
    place : str
        ``cylinder`` or ``bank``; empty where there is one of it in a car.
    number : str
        Which one, where the field says it itself.
    """

    field: str
    words: str
    kind: str
    place: str = ""
    number: str = ""


CURRENT = Written("current", "starter current", "starter_current")
PRIMARY = Written("winding", "coil primary", "coil_primary", "cylinder")
SECONDARY = Written("winding", "coil secondary", "coil_secondary", "cylinder")

KEPT: Mapping[str, tuple[Written, ...]] = {
    "compression": (Written("cylinder", "comp", "compression", "cylinder"),),
    "leakdown": (Written("cylinder", "leakdown", "leakdown", "cylinder"),),
    "leaks": (Written("leak", "leakdown", "leakdown", "cylinder"),),
    "gap": (Written("plug", "gap", "plug_gap", "cylinder"),),
    "lead": (Written("lead", "lead", "lead_resistance", "cylinder"),),
    "coil": (PRIMARY, SECONDARY),
    "drops": (Written("drop", "injector balance", "injector_balance", "cylinder"),),
    "battery": (Written("voltage", "battery rested", "battery_rested"),),
    "drain": (Written("draw", "drain", "drain_current"),),
    "charging": (Written("voltage", "charging", "charging_volts"),),
    "ripple": (Written("ripple", "ripple", "charge_ripple"),),
    "sag": (
        Written("rest", "battery rested", "battery_rested"),
        Written("cranking", "battery cranking", "battery_cranking"),
        CURRENT,
    ),
    "sensor": (Written("sensor", "coolant sensor resistance", "coolant_sensor_resistance"),),
    "oxygen": (Written("signal", "oxygen", "oxygen_volts", "bank"),),
    "trim": (
        Written("short", "short trim", "short_trim", "bank", "1"),
        Written("long", "long trim", "long_trim", "bank", "1"),
        Written("short2", "short trim", "short_trim", "bank", "2"),
        Written("long2", "long trim", "long_trim", "bank", "2"),
    ),
    "airflow": (Written("airflow", "air flow", "air_flow"),),
    "coolant": (Written("coolant", "coolant temperature", "coolant_reading"),),
    "rail": (Written("pressure", "fuel pressure", "fuel_pressure"),),
    "starter": (Written("drop", "", ""), CURRENT),
    "drop": (Written("drop", "", ""),),
    "joint": (Written("drop", "", ""),),
}
"""Topic -> how its line is written. ``starter``, ``drop`` and ``joint`` go by the path they were measured on."""

DROPS: Mapping[str, Written] = {
    "post to clamp": Written("drop", "drop post to clamp", "drop_clamps"),
    "positive post to starter stud": Written("drop", "drop starter cable", "drop_starter_cable"),
    "alternator output line": Written("drop", "charging cable drop", "charge_line_drop"),
    "sensor ground": Written("drop", "drop ecu ground", "drop_ground"),
}
SIDES: Mapping[str, Written] = {
    "ground side": Written("drop", "drop engine to body while cranking", "drop_ground_cranking"),
    "positive side": DROPS["positive post to starter stud"],
}
