"""A small library of our own making: every reading lines speak of by name, a few parts, faults, tools, areas, steps."""

from __future__ import annotations

from typing import Any

from knowngood.library.records import (
    AccessStep,
    Area,
    Chance,
    Code,
    Fault,
    Ladder,
    Library,
    Part,
    ReadingKind,
    Spread,
    Tool,
)

SOURCE = "memory"
NUMBERS = {
    "compression": ("cylinder", "compression"),
    "compression_wet": ("cylinder", "compression"),
    "leakdown": ("cylinder", "share"),
    "lead_resistance": ("cylinder", "lead_resistance"),
    "coil_primary": ("cylinder", "coil_primary"),
    "coil_secondary": ("cylinder", "coil_secondary"),
    "injector_resistance": ("cylinder", "injector_resistance"),
    "plug_gap": ("cylinder", "gap"),
    "fuel_pressure": ("engine", "fuel_pressure"),
    "vacuum": ("engine", "vacuum"),
    "back_pressure": ("bank", "exhaust_pressure"),
    "header_temperature": ("cylinder", "exhaust_temperature"),
    "long_trim": ("bank", "trim"),
    "short_trim": ("bank", "trim"),
    "idle_speed": ("engine", "engine_speed"),
    "battery_rested": ("engine", "battery_voltage"),
    "battery_cranking": ("engine", "battery_voltage"),
    "charging_volts": ("engine", "battery_voltage"),
    "drop_ground_cranking": ("engine", "drop"),
    "drop_ground": ("engine", "drop"),
    "drop_feed": ("engine", "drop"),
    "reference_volts": ("engine", "sensor_voltage"),
    "coolant_sensor_resistance": ("engine", "sensor_resistance"),
    "coolant_reading": ("engine", "coolant_temperature"),
    "air_flow": ("engine", "air_flow"),
    "map_reading": ("engine", "manifold_pressure"),
    "oxygen_volts": ("bank", "sensor_voltage"),
    "thermostat_housing": ("engine", "temperature"),
    "cooling_pressure": ("engine", "cap_pressure"),
    "oil_pressure": ("engine", "oil_pressure"),
    "drain_current": ("engine", "draw"),
    "crank_rpm": ("engine", "engine_speed"),
}
WORDS: dict[str, tuple[str, tuple[str, ...], tuple[str, ...], bool]] = {
    "injector_cut": ("cylinder", ("drops", "drops a little", "no change"), ("unplug injector", "cut"), False),
    "plug_look": (
        "cylinder",
        ("normal", "dry", "white", "black", "oily", "wet with fuel"),
        ("plug", "plug look"),
        False,
    ),
    "spark_test": ("cylinder", ("good", "weak", "none"), ("spark", "spark test"), False),
    "fuel_hold": ("engine", ("holds", "falls"), ("fuel hold",), False),
    "fuel_volume": ("engine", ("plenty", "little", "none"), ("fuel volume",), False),
    "smoke_test": ("engine", ("none", "some", "much"), ("smoke test",), False),
    "mist_test": ("cylinder", ("no change", "stumbles"), ("mist",), False),
    "injector_pulse": ("cylinder", ("seen", "none"), ("injector pulse",), False),
    "coil_trigger": ("cylinder", ("seen", "none"), ("coil trigger",), False),
    "fan_bridged": ("engine", ("runs", "does not run"), (), False),
    "fan_runs": ("engine", ("runs when it should", "does not run"), ("radiator fan",), False),
    "coolant_bubbles": ("engine", ("none", "some"), ("bubbles in the tank",), False),
    "gas_test": ("engine", ("blue", "yellow"), ("gas test",), False),
    "heater": ("engine", ("hot", "cold"), ("heater",), False),
    "gauge_heat": ("engine", ("in the middle", "low", "in the red"), (), False),
    "overheats": ("engine", ("no", "yes"), (), True),
    "lamp_check": ("engine", ("good", "bad"), ("lamp check",), False),
    "miss": ("cylinder", ("no", "yes"), ("misfire",), True),
    "shakes": ("engine", ("smooth", "uneven", "shakes"), ("rough",), True),
    "tail_smoke": (
        "engine",
        ("none", "white", "blue", "black"),
        ("smoke", "white smoke", "blue smoke", "black smoke"),
        True,
    ),
    "raw_fuel_smell": ("engine", ("none", "smells"), ("fuel smell", "smells of fuel"), True),
    "starting": (
        "engine",
        ("starts", "hard", "fires and dies", "cranks dead", "no crank"),
        (),
        True,
    ),
    "cranking_strength": ("engine", ("strong", "slow", "none"), (), False),
    "air_meter_unplugged": ("engine", ("better", "same", "worse"), (), False),
}


LADDERS = {
    "starting": ("start", ("starts", "hard", "fires and dies", "cranks dead", "no crank")),
    "cranking_strength": ("crank_speed", ("normal", "slow", "none")),
    "shakes": ("rough", ("smooth", "uneven", "shaking")),
    "raw_fuel_smell": ("raw_fuel", ("none", "smell")),
    "overheats": ("heat", ("normal", "stays cold", "hot in traffic", "hot on the move")),
}


def _numbers() -> dict[str, ReadingKind]:
    return {
        name: ReadingKind(
            id=name,
            name=name.replace("_", " "),
            place=place,
            source=SOURCE,
            quantity=quantity,
            levels=("right", "wrong"),
            spread={"right": Spread(at=1.0, spread=0.1), "wrong": Spread(low=0.1, high=10.0)},
        )
        for name, (place, quantity) in NUMBERS.items()
    }


def _words() -> dict[str, ReadingKind]:
    found = {}
    for name, (place, words, says, complaint) in WORDS.items():
        on, levels = LADDERS.get(name, ("", tuple(f"level {index}" for index in range(len(words)))))
        chance = {
            level: {
                other: 0.9 if other == words[min(index, len(words) - 1)] else 0.1 / max(len(words) - 1, 1)
                for other in words
            }
            for index, level in enumerate(levels)
        }
        found[name] = ReadingKind(
            id=name,
            name=name.replace("_", " "),
            place=place,
            source=SOURCE,
            words=words,
            on=on,
            levels=() if on else levels,
            chance=chance,
            says=says,
            complaint=complaint,
        )
    return found


def _fault(name: str, part: str, place: str, *words: str) -> Fault:
    chance = Chance(per_1000=10.0, low=5.0, high=20.0, source=SOURCE)
    return Fault(id=name, name=name.replace("_", " "), part=part, place=place, chance=chance, words=words)


def _part(name: str, place: str, *words: str, **more: Any) -> Part:
    return Part(id=name, name=name.replace("_", " "), price=10.0, source=SOURCE, place=place, words=words, **more)


def _by_id(records: list[Any]) -> dict[str, Any]:
    return {record.id: record for record in records}


LIBRARY = Library(
    hash="small library of the tests of lines",
    sources={},
    ladders={name: Ladder(id=name, name=name, place="engine", levels=levels) for name, levels in LADDERS.values()},
    faults=_by_id(
        [
            _fault("plug_well_oil", "plug_well_seal", "cylinder", "oil in the plug well", "plug well full of oil"),
            _fault("lead_chewed", "lead", "cylinder", "lead chewed", "chewed lead"),
            _fault("nest_in_air_box", "air_filter", "engine", "mouse nest in air box", "nest in the air box"),
            _fault("regulator_hose_off", "regulator_hose", "engine", "hose chewed at regulator", "regulator hose off"),
            _fault("leads_crossed", "lead", "leads", "leads crossed", "crossed leads"),
            _fault("coolant_sensor_open", "coolant_sensor", "engine", "coolant sensor"),
            _fault("air_meter_dead", "air_meter", "engine", "maf dead"),
        ]
    ),
    readings={**_numbers(), **_words()},
    checks={},
    parts=_by_id(
        [
            _part(
                "coil", "cylinder", "coil", "coils", needs={"ignition": ("coil on plug", "coil and lead")}, swaps=True
            ),
            _part("pair_coil", "companions", "coil", "coil pack", needs={"ignition": ("pair coil",)}),
            _part("plug", "cylinder", "plug", "plugs", "spark plug", swaps=True),
            _part("lead", "cylinder", "lead", "leads", swaps=True),
            _part("injector", "cylinder", "injector", "inj", swaps=True),
            _part("fuel_pump", "engine", "pump", "fuel pump", wait_days=2.0),
            _part("air_meter", "engine", "maf", "air meter"),
            _part("coolant_sensor", "engine", "coolant sensor"),
        ]
    ),
    access=_by_id(
        [
            AccessStep(
                id="plenum_off",
                name="plenum",
                open_minutes=30,
                close_minutes=30,
                source=SOURCE,
                says=("plenum", "plenum off"),
            ),
            AccessStep(
                id="coil_cover", name="coil cover", open_minutes=2, close_minutes=2, source=SOURCE, says=("coil cover",)
            ),
        ]
    ),
    codes=_by_id(
        [
            Code(id="P0300", name="several cylinders miss", source=SOURCE, levels=("no", "yes")),
            Code(
                id="P0301..P0312",
                name="cylinder misses",
                source=SOURCE,
                place="cylinder",
                each="cylinder",
                levels=("no", "yes"),
            ),
            Code(id="P0171", name="too lean", source=SOURCE, place="bank", bank=1, levels=("no", "yes")),
        ]
    ),
    cautions={},
    gates={},
    tools=_by_id(
        [
            Tool(
                id="leakdown_tester",
                name="leak-down tester",
                common=False,
                price=80,
                source=SOURCE,
                words=("leakdown tester", "leak-down tester"),
            ),
            Tool(
                id="compression_gauge",
                name="compression gauge",
                common=True,
                price=30,
                source=SOURCE,
                words=("compression gauge",),
            ),
            Tool(
                id="known_good_coil",
                name="known-good coil",
                common=False,
                price=45,
                source=SOURCE,
                words=("known good coil", "spare coil"),
            ),
        ]
    ),
    areas=_by_id(
        [
            Area(id="rocker_cover", name="rocker cover gasket", words=("rocker cover", "valve cover")),
            Area(id="head", name="cylinder head", words=("head gasket",)),
        ]
    ),
    fitted={},
)
