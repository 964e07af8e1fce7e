"""The library of the reference cars: invented, frozen, nothing but faults that are there or not.

Sixteen kinds of fault a cylinder, ten a bank, forty for the engine: 188 faults on eight cylinders in two banks. A
cylinder's chain runs from spark, fuel, mixture, sealing and breathing to burning; banks have a mixture that is a signed
sum; the engine has ladders of its own. Counts and confusions are drawn once from a fixed seed.
"""

from __future__ import annotations

import numpy as np

from knowngood.library.records import Act, Chance, Cure, Fault, Ladder, Library, Part, ReadingKind

SEED = 20260101
CYLINDER, BANK, ENGINE = "cylinder", "bank", "engine"

LEVELS: dict[str, tuple[str, tuple[str, ...], dict[str, dict[str, str | int]]]] = {
    "spark": (CYLINDER, ("good", "weak", "none"), {}),
    "fuel": (CYLINDER, ("delivered", "flooded", "none"), {"fuel_pressure": {"none": "none"}}),
    "seal": (CYLINDER, ("tight", "leaking", "none"), {}),
    "breathing": (CYLINDER, ("full", "poor", "none"), {}),
    "burn": (
        CYLINDER,
        ("steady", "poor", "dead"),
        {
            "spark": {"weak": "poor", "none": "dead"},
            "fuel": {"flooded": "poor", "none": "dead"},
            "seal": {"leaking": "poor", "none": "dead"},
            "breathing": {"poor": "poor", "none": "dead"},
            "mixture": {"-3..-3": "dead", "-2..-2": "poor", "3..3": "poor"},
            "cam_phase": {"far off": "poor"},
        },
    ),
    "exhaust_path": (BANK, ("free", "tight", "blocked"), {}),
    "cam_phase": (BANK, ("right", "off", "far off"), {}),
    "fuel_pressure": (ENGINE, ("right", "low", "none"), {}),
    "battery": (ENGINE, ("good", "weak", "flat"), {"charge": {"low": "weak", "none": "flat"}}),
    "charge": (ENGINE, ("right", "low", "none"), {}),
    "crank_speed": (ENGINE, ("normal", "slow", "none"), {"battery": {"weak": "slow", "flat": "none"}}),
    "crank_signal": (ENGINE, ("good", "drops out", "none"), {}),
    "permission": (ENGINE, ("given", "withheld"), {}),
    "heat": (ENGINE, ("normal", "warm", "hot"), {}),
    "oil_pressure": (ENGINE, ("good", "low", "none"), {}),
    "start": (
        ENGINE,
        ("starts", "hard", "cranks dead", "no crank"),
        {
            "fuel_pressure": {"low": "hard", "none": "cranks dead"},
            "crank_speed": {"slow": "hard", "none": "no crank"},
            "crank_signal": {"drops out": "hard", "none": "cranks dead"},
            "permission": {"withheld": "no crank"},
        },
    ),
    "power": (
        ENGINE,
        ("full", "down", "very low"),
        {"exhaust_path": {"tight": "down", "blocked": "very low"}, "fuel_pressure": {"low": "down"}},
    ),
    "rough": (ENGINE, ("smooth", "uneven", "shaking"), {"burn": {"poor": "uneven", "dead": "shaking"}}),
}
SUMS: dict[str, tuple[str, int, int, dict[str, dict[str, str | int]]]] = {
    "air": (ENGINE, -2, 2, {}),
    "bank_mixture": (
        BANK,
        -3,
        3,
        {"air": {"-2..-2": -2, "-1..-1": -1, "1..1": 1, "2..2": 2}, "fuel_pressure": {"low": -1}},
    ),
    "mixture": (
        CYLINDER,
        -3,
        3,
        {"bank_mixture": {"-3..-3": -3, "-2..-2": -2, "-1..-1": -1, "1..1": 1, "2..2": 2, "3..3": 3}},
    ),
    "missing": (ENGINE, 0, 3, {"burn": {"poor": 1, "dead": 1}}),
}
# place, ladder, then level (or shift) of each fault; one with "+" acts on a second ladder too
FAULTS: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    (CYLINDER, "spark", ("weak", "none", "none", "weak", "weak")),
    (CYLINDER, "fuel", ("none", "flooded + mixture 2", "none")),
    (CYLINDER, "mixture", ("-1", "1")),
    (CYLINDER, "seal", ("leaking", "leaking", "none", "none + breathing none")),
    (CYLINDER, "breathing", ("poor", "poor + mixture -1")),
    (BANK, "bank_mixture", ("-2", "-1", "1", "2")),
    (BANK, "exhaust_path", ("tight", "blocked", "tight")),
    (BANK, "cam_phase", ("off", "far off", "off")),
    (ENGINE, "fuel_pressure", ("low", "low", "none", "low", "none", "none")),
    (ENGINE, "air", ("-1", "-2", "1", "2", "-1", "1")),
    (ENGINE, "battery", ("weak", "flat", "weak", "weak")),
    (ENGINE, "charge", ("low", "none", "low", "none")),
    (ENGINE, "crank_speed", ("slow", "none", "slow", "none")),
    (ENGINE, "crank_signal", ("drops out", "none", "drops out", "none")),
    (ENGINE, "permission", ("withheld", "withheld", "withheld")),
    (ENGINE, "heat", ("warm", "hot", "warm", "hot", "hot")),
    (ENGINE, "oil_pressure", ("low", "none", "low", "low")),
)
# how many kinds of reading stand on each ladder; besides, each kind of fault below has a look at the part itself
READ = {
    "spark": 2, "fuel": 2, "seal": 2, "breathing": 1, "burn": 2, "mixture": 1, "bank_mixture": 1, "exhaust_path": 2,
    "cam_phase": 2, "fuel_pressure": 2, "battery": 2, "charge": 2, "crank_speed": 2, "crank_signal": 1,
    "permission": 1, "heat": 2, "oil_pressure": 2, "start": 1, "power": 1, "rough": 1, "missing": 1, "air": 1,
}  # fmt: skip
LOOKED_AT = {"spark": 4, "fuel": 3, "seal": 2, "bank_mixture": 2, "fuel_pressure": 1}


def _ladders() -> dict[str, Ladder]:
    found = {
        name: Ladder(id=name, name=name, place=place, levels=levels, inputs=inputs)
        for name, (place, levels, inputs) in LEVELS.items()
    }
    for name, (place, low, high, inputs) in SUMS.items():
        found[name] = Ladder(id=name, name=name, place=place, combine="sum", low=low, high=high, inputs=inputs)
    return found


def _act(text: str, on: str) -> Act:
    return Act(on=on, shift=int(text)) if text.lstrip("-").isdigit() else Act(on=on, level=text)


def _acts(ladder: str, text: str) -> tuple[Act, ...]:
    first, _, second = text.partition(" + ")
    if not second:
        return (_act(first, ladder),)
    on, _, how = second.partition(" ")
    return (_act(first, ladder), _act(how, on))


def _faults(rng: np.random.Generator, times: float) -> dict[str, Fault]:
    found = {}
    for place, ladder, effects in FAULTS:
        for number, effect in enumerate(effects, start=1):
            name = f"{ladder}_{number}"
            chance = times * float(np.round(np.exp(rng.uniform(np.log(8.0), np.log(60.0))), 1))
            found[name] = Fault(
                id=name,
                name=name,
                part=f"part_{name}",
                place=place,
                chance=Chance(per_1000=chance, low=chance / 3, high=chance * 3, source="memory"),
                acts=_acts(ladder, effect),
                cures=(Cure(do="repaired", part=f"part_{name}", minutes=10.0, source="memory", works=0.9),),
            )
    return found


def _confusion(rng: np.random.Generator, states: tuple[str, ...]) -> dict[str, dict[str, float]]:
    """One word a state; the right word in 80 to 95 of 100, the nearest words the commoner mistakes."""
    table = {}
    for row, state in enumerate(states):
        wrong = np.array([np.exp(-abs(row - column)) * (row != column) for column in range(len(states))])
        share = float(rng.uniform(0.05, 0.20))
        chances = np.round(share * wrong / wrong.sum(), 4)
        chances[row] = 1.0 - chances.sum()
        table[state] = dict(zip(states, map(float, chances), strict=True))
    return table


def _readings(rng: np.random.Generator, ladders: dict[str, Ladder]) -> dict[str, ReadingKind]:
    found = {}
    for name, count in READ.items():
        ladder = ladders[name]
        for number in range(1, count + 1):
            kind = f"read_{name}_{number}"
            if ladder.combine == "sum":
                found[kind] = ReadingKind(
                    id=kind, name=kind, place=ladder.place, source="memory", on=name, quantity="count",
                    per_step=1.0, noise=float(np.round(rng.uniform(0.5, 0.9), 2)),
                )  # fmt: skip
            else:
                found[kind] = ReadingKind(
                    id=kind, name=kind, place=ladder.place, source="memory", on=name, words=ladder.levels,
                    chance=_confusion(rng, ladder.levels),
                )  # fmt: skip
    for name, count in LOOKED_AT.items():
        for number in range(1, count + 1):
            kind = f"look_{name}_{number}"
            found[kind] = ReadingKind(
                id=kind, name=kind, place=ladders[name].place, source="memory", levels=("good", "bad"),
                direct={f"{name}_{number}": "bad"}, words=("good", "bad"), chance=_confusion(rng, ("good", "bad")),
            )  # fmt: skip
    return found


def reference_library(times: float = 1.0) -> Library:
    """Ladders, 66 kinds of fault, 46 kinds of reading; the same on every call, counts of faults multiplied."""
    rng = np.random.default_rng(SEED)
    ladders, faults = _ladders(), _faults(rng, times)
    parts = {
        fault.part: Part(id=fault.part, name=fault.part, price=20.0, source="memory", place=fault.place, swaps=True)
        for fault in faults.values()
    }
    return Library(
        hash="reference", sources={}, ladders=ladders, faults=faults, readings=_readings(rng, ladders), checks={},
        parts=parts, access={}, codes={}, cautions={}, gates={}, tools={}, areas={}, fitted={},
    )  # fmt: skip
