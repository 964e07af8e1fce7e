"""Plain words of the trade, and the patterns by which they stand in an entry.

An entry is searched as its text (JSON, small letters): ``"kind":"compression"``. A number's sense is ``value about``.
"""

from __future__ import annotations


def _kind(*names: str) -> tuple[str, ...]:
    return tuple(f'"kind":"{name}"' for name in names)


def _part(*names: str) -> tuple[str, ...]:
    """A part as the part of an entry, at the head of a kind, unplugged as a condition, or in words kept of a find."""
    ids = "|".join(names)
    return (rf'"part":"(?:{ids})"', rf'"kind":"(?:{ids})_', rf'"conditions":\[[^\]]*(?:{ids})')


_TELLS = r'"type":"(?:finding|undone|car)".*'
"""Entries whose own content is words."""

PARTS: dict[str, tuple[str, ...]] = {
    "air box": (_TELLS + "air ?box",),
    "air filter": (_TELLS + "filter", '"part":"air_filter"', '"part":"air_cleaner'),
    "air meter": (*_part("air_meter"), *_kind("air_flow")),
    "battery": _part("battery"),
    "body": ('"kind":"drop_ground_cranking"',),
    "coil": (*_part("coil", "pair_coil", "main_coil"), _TELLS + "coil"),
    "coolant sensor": _part("coolant_sensor"),
    "crank sensor": _part("crank_sensor"),
    "engine": ('"kind":"drop_ground_cranking"',),
    "exhaust manifold": (*_part("exhaust_manifold"), *_kind("header_temperature")),
    "fuse": ("fuse",),
    "gauge": ('"instrument":"gauge"',),
    "hose": (_TELLS + "hose",),
    "injector": (*_part("injector"), _TELLS + "inj"),
    "lead": _part("lead"),
    "leak-down tester": ('"name":"leakdown_tester"',),
    "manifold pressure sensor": _part("pressure_sensor", "map sensor"),
    "oil": _part("oil", "burnt_oil", "blue"),
    "oil filler": ('"word":"at the filler"', "oil_filler", "oil filler"),
    "oxygen sensor": _part("oxygen", "oxygen_sensor"),
    "plug": _part("plug"),
    "pressure regulator": _part("regulator", "pressure_regulator"),
    "tail pipe": ('"word":"at the exhaust"', "tail_pipe", "tail pipe"),
    "thermostat housing": _kind("thermostat_housing"),
    "throttle": (_TELLS + "thr",),
    "timing belt": (_TELLS + "timing belt",),
    "vacuum hose": ("vacuum hose", "vacuum_hose", '"hose off"'),
}


def _condition(*names: str) -> tuple[str, ...]:
    return tuple(rf'"conditions":\[[^\]]*"{name}"' for name in names)


CONDITIONS: dict[str, tuple[str, ...]] = {
    "20 C": _condition("at 20 ?c"),
    "2500": _condition("2500 rpm"),
    "AC on": _condition("electrical load"),
    "a week": ("a week",),
    "after 1 min": _condition("after 1 min"),
    "after 20 min": _condition("after 20 min"),
    "after 3 min": _condition("after 3 min"),
    "cold": (
        *_condition("cold", "cold idle", "cold start"),
        '"kind":"[a-z_]*_cold"',
        *_kind("no_start_hot", "starts_again_cool"),
    ),
    "cold start": _condition("cold start"),
    "cranking": _condition("cranking"),
    "dry": _kind("compression"),
    "hot": (*_condition("hot", "hot idle", "hot restart"), '"kind":"[a-z_]*_hot"'),
    "idle": (*_condition("hot idle", "cold idle"), *_kind("shakes")),
    "key off": (*_condition("at rest"), *_kind("drain_current")),
    "key on": _condition("key on"),
    "low tank": _condition("low tank"),
    "overrun": _condition("overrun"),
    "pending": ('"state":"pending"',),
    "plugs out": _condition("plugs out"),
    "rest": (*_condition("at rest"), *_kind("battery_rested")),
    "running": (*_condition("hot idle"), *_kind("charging_volts")),
    "stored": ('"state":"stored"',),
    "throttle open": _condition("throttle open"),
    "till friday": ('"back":"friday"',),
    "uphill": _condition("pull"),
    "vacuum hose off": _condition("hose off", '[^"]*vac[a-z]* hose off'),
    "wet": (*_condition("wet"), *_kind("compression_wet")),
}


def _effect(*names: str) -> tuple[str, ...]:
    return tuple(f'"effect":"{name}"' for name in names)


_YES = r'"word":"(?!no"|none|normal)'
"""A complaint that is answered with anything but no."""

ABOUT: dict[str, tuple[str, ...]] = {
    "air flow": _kind("air_flow"),
    "battery off": ('"do":"cleared","part":"battery"',),
    "battery voltage": _kind("battery_rested", "battery_cranking", "charging_volts"),
    "bucks": (r'"kind":"(?:hesitates|bucks|jerks)[a-z_]*".*' + _YES,),
    "came back": _effect("returned"),
    "chewed": (_TELLS + "chew",),
    "cleaned": ('"do":"cleaned"',),
    "cleared": ('"do":"cleared"',),
    "code": _kind("code"),
    "coil secondary resistance": _kind("coil_secondary", "pair_coil_secondary", "main_coil_secondary"),
    "complaint": (r'"type":"reading".*' + _YES,),
    "compression": _kind("compression", "compression_wet"),
    "cured": _effect("cured"),
    "current": _kind("drain_current"),
    "dies": (r'"kind":"(?:stalls|dies)[a-z_]*".*' + _YES,),
    "doubtful": ('"doubt":"[^"]',),
    "drops": ('"word":"drops',),
    "finding": ('"type":"finding"',),
    "fuel pressure": _kind("fuel_pressure", "fuel_hold"),
    "history": ('"field":"last_done"',),
    "injector resistance": _kind("injector_resistance"),
    "lead resistance": _kind("lead_resistance"),
    "leak-down": _kind("leakdown"),
    "lent": ('"state":"lent"',),
    "long trim": _kind("long_trim"),
    "moved": _effect("moved"),
    "nest": (_TELLS + "nest",),
    "no change": (*_effect("no change"), '"word":"no change"'),
    "no codes": ('"kind":"code".*"word":"none"',),
    "oxygen sensor voltage": _kind("oxygen_volts"),
    "plug gap": _kind("plug_gap"),
    "plug look": _kind("plug_look"),
    "previous owner": ("prev[a-z]* owner",),
    "reference voltage": _kind("reference_volts"),
    "replaced": ('"do":"replaced"',),
    "rough": ("value about",),
    "sensor resistance": _kind("coolant_sensor_resistance", "crank_sensor_resistance"),
    "short trim": _kind("short_trim"),
    "smell": ("smell", "burnt_oil"),
    "smoke": (r'"kind":"[a-z_]*smoke".*' + _YES,),
    "sound": (r'"kind":"(?:ticks|hiss|leak_heard)[a-z_]*".*' + _YES, _TELLS + "hiss"),
    "split": (_TELLS + "split",),
    "stayed": _effect("stayed"),
    "swap": ('"do":"swapped"',),
    "temperature": _kind("header_temperature", "thermostat_housing", "coolant_reading"),
    "tool missing": ('"state":"(?:missing|lent)"',),
    "undone": ('"type":"undone"',),
    "unplug": ("unplugged", '"kind":"injector_cut"'),
    "unplugged": (_TELLS + "unplugged",),
    "vacuum": _kind("vacuum"),
    "voltage drop": _kind("drop_ground_cranking", "drop_ground", "drop_feed"),
    "wet": ('"word":"wet',),
}
