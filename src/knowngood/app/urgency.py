"""Why a fault must not wait, or may: danger, harm from driving, the cost of waiting, comfort.

It follows from the mechanisms a fault acts on; the order of the questions is the order of harm. Common practice.
"""

from __future__ import annotations

from collections.abc import Set

from knowngood.library.records import Fault, Library
from knowngood.planner.remains import COMFORT, COST, DANGER, HARM

Reasons = tuple[tuple[tuple[str, ...], str], ...]
"""Ladders or parts, and why a fault that acts there matters."""
BURN = "burn"
HARMS: Reasons = (
    (("oil_pressure", "oil_level", "oil_leak", "oil_use", "oil_quality", "crankcase"), "the engine lives on its oil"),
    (
        ("heat", "flow", "fan", "coolant_loss", "coolant_level", "gas_in_coolant", "coolant_in_cylinder"),
        "heat takes the head gasket",
    ),
    (("knock", "knock_signal"), "knock takes the piston"),
    (("valve_timing", "noise", "rattle"), "what knocks or rattles wears on"),
    (("driveline",), "it wears on with every kilometre"),
    (("loom_damage",), "a bare wire takes along what it touches"),
    (("raw_fuel", "catalyst"), "fuel that does not burn in the cylinder burns in the catalyst"),
)
PAPERS = "car_papers"
UNBURNT = "fuel that does not burn in the cylinder burns in the catalyst"
OF_PARTS: Reasons = (
    (
        ("throttle", "throttle_sensor", "throttle_wire", "pedal_sensor", "pedal_switch", "servo_hose"),
        "throttle or brake may not do what the foot asks",
    ),
    (("gauge_sensor", "instrument", "oil_pressure_switch", "wheel_speed_sensor"), "what would warn does not"),
)
WAITS: Reasons = (
    (
        (
            "start",
            "stall",
            "crank_speed",
            "turns",
            "permission",
            "start_release",
            "crank_signal",
            "ecu_feed",
            "ecu_life",
            "main_feed",
            "pump_feed",
            "fuel_pressure",
            "rail_pressure",
            "relay_state",
            "engine_ground",
            "coil_order",
            "coil_output",
            "injector_order",
            "starter_noise",
            "battery",
            "charge",
            "drain",
            "belt_drive",
            "heat_sick",
            "network",
            "loose_wire",
        ),
        "it may leave the car standing",
    ),
    (
        (
            "mixture",
            "oxygen_signal",
            "oxygen_heater",
            "air_signal",
            "pressure_signal",
            "coolant_value",
            "air_temp_value",
            "unmetered_air",
            "fuel_quality",
            "exhaust_path",
            "power",
        ),
        "it costs fuel on every drive",
    ),
    (
        ("lamp", "vapour_tight", "emission_fitted", "secondary_air_flow", "rear_oxygen", "exhaust_leak"),
        "an inspection asks for it",
    ),
)


def urgency_of(library: Library, fault: Fault) -> tuple[str, str]:
    """How long a fault may wait, and why in a few words; no words for comfort."""
    acts = {act.on for act in fault.acts}
    if fault.stop:
        return DANGER, "a stop item"
    if {act.on for act in fault.acts if act.when != ("cranking",)} & _ways_to_burn(library):
        return HARM, UNBURNT
    for ladders, why in HARMS:
        if acts & set(ladders):
            return HARM, why
    for parts, why in OF_PARTS:
        if fault.part in parts:
            return HARM, why
    if fault.leads_to:
        next_one = library.faults[fault.leads_to[0]]
        grows = urgency_of(library, next_one)[0] in (DANGER, HARM)  # what brings about harm is no saving
        return HARM if grows else COST, f"in time {next_one.name}"
    for ladders, why in WAITS:
        if acts & set(ladders):
            return COST, why
    return (COST, "it cannot be registered") if fault.part == PAPERS else (COMFORT, "")


def _ways_to_burn(library: Library) -> Set[str]:
    """Ladders of one cylinder through which a fault keeps it from burning."""
    own = {ladder.id: ladder for ladder in library.ladders.values() if ladder.place == "cylinder"}
    found, waiting = {BURN}, [BURN]
    while waiting:
        for source in own[waiting.pop()].inputs:
            if source in own and source not in found:
                found.add(source)
                waiting.append(source)
    return found
