"""The worlds simulated cars come from: the library's own numbers, disturbed ones, and one built otherwise.

A score on the library's own cars tells whether the computation is right; a score on cars of other numbers tells what
it is worth where the numbers are only roughly right, which is always.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass

import msgspec
import numpy as np

from knowngood.belief.elimination import Array
from knowngood.library.records import Act, Chance, Code, Cure, Fault, Library, ReadingKind, Spread

HIDDEN = "hidden_"
MOST = 0.9  # chance of a fault in a neglected area
COMMON_CAUSE_SHARE, COMMON_CAUSE_TIMES = 0.3, 2.5  # of all areas, and how much likelier their faults are then


@dataclass(frozen=True)
class World:
    """Where cars come from.

    Parameters
    ----------
    name : str
        Suffix of the figures; empty for the library's own numbers.
    sigma : float
        Standard deviation of what is added to every log odds of the library, prior and likelihood.
    structure : bool
        Two faults and a common cause that the library does not know.
    """

    name: str
    sigma: float = 0.0
    structure: bool = False


OWN = World("")
DISTURBED_HALF = World("disturbed_05", sigma=0.5)
DISTURBED_ONE = World("disturbed_10", sigma=1.0)
STRUCTURE = World("structure", structure=True)


def dice(seed: int, *names: object) -> np.random.Generator:
    """Dice of their own for everything that has a name: drawing one thing more changes nothing else."""
    return np.random.default_rng([seed, *(zlib.crc32(str(name).encode()) for name in names)])


def library_of(world: World, ours: Library, seed: int) -> Library:
    """The library a car of this world is drawn from; another one for every seed where numbers are disturbed."""
    if world.sigma > 0.0:
        return disturbed(ours, world.sigma, seed)
    if world.structure:
        return with_hidden_faults(ours)
    return ours


def moved(chance: float | Array, by: float | Array) -> Array:
    """Chances (any shape) with something added to their natural log odds (same shape); 0 and 1 stay."""
    held = np.clip(chance, np.finfo(float).tiny, 1.0)
    result: Array = 1.0 / (1.0 + (1.0 - held) / held * np.exp(-np.asarray(by)))
    return np.where(np.asarray(chance) > 0.0, result, 0.0)


def disturbed(ours: Library, sigma: float, seed: int) -> Library:
    """The library with a bell-shaped error in every log odds.

    Chances of several words are moved in log and brought back to a sum of 1, so that the log odds between any two
    have the error asked for. The middle of a bell moves by half its own width times the same error, the ends of a
    span by a tenth in log.
    """
    rng = dice(seed, "disturbed", sigma)
    faults = {name: _disturbed_fault(fault, rng.normal(0.0, sigma)) for name, fault in ours.faults.items()}
    readings = {name: _disturbed_reading(kind, sigma, rng) for name, kind in ours.readings.items()}
    codes = {name: _disturbed_code(code, sigma, rng) for name, code in ours.codes.items()}
    return msgspec.structs.replace(ours, faults=faults, readings=readings, codes=codes)


def _disturbed_fault(fault: Fault, by: float) -> Fault:
    per_1000 = 1000.0 * float(moved(fault.chance.per_1000 / 1000.0, by))
    return msgspec.structs.replace(fault, chance=msgspec.structs.replace(fault.chance, per_1000=per_1000))


def _disturbed_reading(kind: ReadingKind, sigma: float, rng: np.random.Generator) -> ReadingKind:
    chance = {level: _disturbed_words(words, sigma, rng) for level, words in kind.chance.items()}
    spread = {level: _disturbed_spread(one, sigma, rng) for level, one in kind.spread.items()}
    offset = kind.offset + 0.5 * kind.noise * float(rng.normal(0.0, sigma))
    return msgspec.structs.replace(kind, chance=chance, spread=spread, offset=offset)


def _disturbed_words(words: dict[str, float], sigma: float, rng: np.random.Generator) -> dict[str, float]:
    noise = rng.normal(0.0, sigma / np.sqrt(2.0), len(words))
    raw: Array = np.array(list(words.values())) * np.exp(noise)
    return {word: float(each) for word, each in zip(words, raw / raw.sum(), strict=True)}


def _disturbed_spread(spread: Spread, sigma: float, rng: np.random.Generator) -> Spread:
    middle, first, second = rng.normal(0.0, sigma, 3)
    at = spread.at if spread.at is None else spread.at + 0.5 * (spread.spread or 0.0) * float(middle)
    low, high = spread.low, spread.high
    if low is not None and high is not None:
        wide = high - low
        low = low * float(np.exp(0.1 * first)) if low > 0.0 else low
        high = max(high * float(np.exp(0.1 * second)), low + 0.2 * wide) if high > 0.0 else high
    return msgspec.structs.replace(spread, at=at, low=low, high=high)


def _disturbed_code(code: Code, sigma: float, rng: np.random.Generator) -> Code:
    return msgspec.structs.replace(
        code, set={level: float(moved(chance, rng.normal(0.0, sigma))) for level, chance in code.set.items()}
    )


def with_hidden_faults(ours: Library) -> Library:
    """The library with two faults that ours does not have: one of single cylinders, one of the whole engine."""
    hidden = (
        _hidden("cylinder", 12.0, (Act(on="burn", level="poor", when=("hot idle", "cold idle")),)),
        _hidden("engine", 40.0, (Act(on="fuel_pressure", level="falls under load"), Act(on="idle", level="hunting"))),
    )
    return msgspec.structs.replace(ours, faults={**ours.faults, **{fault.id: fault for fault in hidden}})


def _hidden(place: str, per_1000: float, acts: tuple[Act, ...]) -> Fault:
    name = f"{HIDDEN}{place}"
    return Fault(
        id=name,
        name=name.replace("_", " "),
        part=name,
        place=place,
        chance=Chance(per_1000=per_1000, low=per_1000 / 2.0, high=2.0 * per_1000, source="memory"),
        acts=acts,
        cures=(Cure(do="repaired", minutes=60.0, source="memory", works=1.0),),
    )


def with_common_causes(library: Library, priors: Array, faults: list[Fault], rng: np.random.Generator) -> Array:
    """Chances of a car some areas of which were neglected together; over many cars each fault keeps its chance.

    But for those over ``MOST`` / ``COMMON_CAUSE_TIMES`` (36 in 100) before: they cannot be made so much likelier, and
    come less often than they should.

    Parameters
    ----------
    library : Library
        Tells the areas of parts.
    priors : array (fault,)
    faults : list of Fault
        In the same order.
    rng : Generator
    """
    areas = sorted({part.area for part in library.parts.values() if part.area})
    bad = set(rng.permutation(areas)[rng.random(len(areas)) < COMMON_CAUSE_SHARE])
    elsewhere = (1.0 - COMMON_CAUSE_SHARE * COMMON_CAUSE_TIMES) / (1.0 - COMMON_CAUSE_SHARE)
    part_area = {part.id: part.area for part in library.parts.values()}
    times = np.array(
        [
            1.0 if not part_area.get(fault.part) else COMMON_CAUSE_TIMES if part_area[fault.part] in bad else elsewhere
            for fault in faults
        ]
    )
    return np.minimum(priors * times, MOST)
