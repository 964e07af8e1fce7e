"""What readings and codes show at each level: words, numbers, chances."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from knowngood.car import ON_ENGINE
from knowngood.errors import Problem
from knowngood.library.reach import good_level
from knowngood.library.records import REGIMES, UNDER, Code, Ladder, Library, ReadingKind, Spread
from knowngood.library.rules.ladders import key_mistakes
from knowngood.library.shape import Keys, did_you_mean
from knowngood.library.steps import steps_of
from knowngood.library.where import Where
from knowngood.units import kinds

MOST_DIRECT = 3
Found = Iterator[tuple[Keys, str, str]]


def readings_stand_somewhere(library: Library, where: Where) -> list[Problem]:
    """A reading stands on a ladder or on levels of its own, and shows words or a number; a complaint has words."""
    return [
        where.problem("reading", reading.id, keys, fact, fix)
        for reading in library.readings.values()
        for keys, fact, fix in _stand(reading)
    ]


def _stand(reading: ReadingKind) -> Found:
    yield from stand_mistakes(reading)
    if bool(reading.words) == bool(reading.quantity):
        yield (), "a reading shows either words or a quantity.", "Write one of `words` and `quantity`."
    if reading.words and len(set(reading.words)) < max(2, len(reading.words)):
        fact = f"{len(set(reading.words))} different words in {len(reading.words)}."
        yield ("words",), fact, "Name two or more, each once."
    if not 0 < reading.gross <= 0.5:
        yield ("gross",), f"a share of gross errors of {reading.gross:g}.", "Write a share over 0, up to 0.5."
    if reading.complaint and not reading.says:
        yield (), "a complaint has no words it is known by.", "Write says = [...]."


def looks_are_settled_by_lawful_words(library: Library, where: Where) -> list[Problem]:
    """What settles a look as bad: words of the other reading, or that its number is under what is good."""
    return [
        where.problem("reading", look.id, ("bad_by", name), f"'{name}' does not show '{word}'.", fix)
        for look in library.readings.values()
        for name, words in look.bad_by.items()
        if name in library.readings
        for word, fix in _unlawful(library.readings[name], words)
    ]


def _unlawful(kind: ReadingKind, words: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    """Words a reading cannot settle a look by, each with what to write."""
    lawful = (UNDER,) if kind.spread and not kind.relative else kind.words
    for word in words:
        if word not in lawful:
            yield word, did_you_mean(word, lawful) if lawful else "Leave it out: no level of it is good by itself."


def stand_mistakes(kind: ReadingKind | Code) -> Found:
    """What readings and codes have in common: ladder or levels of their own, place, regime, three direct faults."""
    if not kind.on and not kind.levels:
        yield (), "this stands neither on a ladder nor on levels of its own.", "Write one of `on` and `levels`."
    if kind.on and kind.levels:
        yield ("on",), "this stands on a ladder and on levels of its own.", "Drop one of `on` and `levels`."
    if kind.levels and len(set(kind.levels)) < max(2, len(kind.levels)):
        fact = f"{len(set(kind.levels))} different levels in {len(kind.levels)}."
        yield ("levels",), fact, "Name two or more, each once, good first."
    if kind.on and (kind.direct or kind.inputs):
        yield ("on",), "`direct` and `inputs` need levels of its own.", "Write `levels` in place of `on`."
    if kind.levels and not kind.direct and not kind.inputs:
        yield ("levels",), "nothing leads to these levels.", "Write `direct` or `inputs`."
    if kind.place not in ON_ENGINE:
        yield ("place",), f"nothing is read at '{kind.place}'.", did_you_mean(kind.place, ON_ENGINE)
    if kind.when != "any" and kind.when not in REGIMES:
        yield ("when",), f"'{kind.when}' is no regime.", did_you_mean(kind.when, ("any", *REGIMES), "Regimes")
    for fault, level in kind.direct.items():
        if kind.levels and level not in kind.levels:
            yield ("direct", fault), f"there is no level '{level}' here.", did_you_mean(level, kind.levels, "Levels")
    if len(kind.direct) > MOST_DIRECT:
        fact = f"{len(kind.direct)} faults are named directly, {MOST_DIRECT} at most can be."
        yield ("direct",), fact, "Let them act on a ladder that the reading stands on."


def columns_are_whole(library: Library, where: Where) -> list[Problem]:
    """A reading of words gives each word a chance at every level, each column summing to 1."""
    return [
        where.problem("reading", reading.id, keys, fact, fix)
        for reading in library.readings.values()
        if reading.words
        for keys, fact, fix in _columns(library, reading)
    ]


def _columns(library: Library, reading: ReadingKind) -> Found:
    ladder = library.ladders.get(reading.on)
    if ladder is not None and ladder.combine == "sum":
        fact = f"words on '{ladder.id}', which is a sum."
        yield ("on",), fact, "Write `levels` of its own, and `inputs` that lead to them from ranges of its steps."
        return
    yield from level_mistakes(library, reading, reading.chance, "chance")
    for level, column in reading.chance.items():
        at: Keys = ("chance", level)
        for word in column:
            if word not in reading.words:
                yield (*at, word), f"'{word}' is no word of this reading.", did_you_mean(word, reading.words, "Words")
        missing = [word for word in reading.words if word not in column]
        if missing:
            yield at, f"no chance for {_quoted(missing)}.", "Give every word one, 0 if need be."
        for word, chance in column.items():
            if not 0 <= chance <= 1:
                yield (*at, word), f"a chance of {chance:g}.", "Write a number from 0 to 1."
        total = math.fsum(column.values())
        if abs(total - 1) > 1e-6:
            yield at, f"the chances sum to {total:.6g}.", "Make them sum to 1."


def numbers_are_whole(library: Library, where: Where) -> list[Problem]:
    """A reading of a number says how it falls at every level; on a signed sum, how it moves with each step."""
    return [
        where.problem("reading", reading.id, keys, fact, fix)
        for reading in library.readings.values()
        if reading.quantity
        for keys, fact, fix in _numbers(library, reading)
    ]


def _numbers(library: Library, reading: ReadingKind) -> Found:
    kind = kinds().get(reading.quantity)
    if kind is None:
        fact = f"no kind of measurement is called '{reading.quantity}'."
        yield ("quantity",), fact, did_you_mean(reading.quantity, kinds(), "Kinds")
    ladder = library.ladders.get(reading.on)
    if ladder is not None and ladder.combine == "sum":
        if reading.spread:
            yield ("spread",), f"a spread on '{ladder.id}', which is a sum.", "Write per_step, offset and noise."
        elif not reading.per_step or not reading.noise > 0:
            fact = f"per_step {reading.per_step:g} and noise {reading.noise:g} on the sum '{ladder.id}'."
            yield (), fact, "Write per_step other than 0 and noise over 0."
    else:
        yield from level_mistakes(library, reading, reading.spread, "spread")
        if reading.per_step or reading.offset or reading.noise:
            yield (), "per_step, offset and noise belong to a signed sum.", "Drop them."
    for level, spread in reading.spread.items():
        yield from _spread(spread, ("spread", level))
    yield from _healthy(reading)
    level = str(good_level(library, reading))
    good = reading.spread.get(level)
    if kind is not None and not reading.relative and good is not None:
        low, high = kind.usual
        met = [end for end in (good.at, good.low, good.high) if end is not None and not low <= end <= high]
        if met:
            fact = f"a good reading of {met[0]:g} {kind.base} is outside the usual {low:g} to {high:g} {kind.base}."
            yield ("spread", level), fact, f"Write it in {kind.base}."


def _spread(spread: Spread, at: Keys) -> Found:
    bell = spread.at is not None or spread.spread is not None
    even = spread.low is not None or spread.high is not None
    mass = spread.zero + spread.open
    if not (0 <= spread.zero <= 1 and 0 <= spread.open <= 1 and mass <= 1):
        yield at, f"{spread.zero:g} at zero and {spread.open:g} open.", "Write chances that sum to 1 at most."
    elif bell and even:
        yield at, "both at and spread, and low and high.", "Write one of the two."
    elif bell and (spread.at is None or spread.spread is None or not spread.spread > 0):
        yield at, "a bell needs `at` and a `spread` over 0.", "Write both."
    elif even and (spread.low is None or spread.high is None or not spread.low < spread.high):
        yield at, "an even spread needs `low` under `high`.", "Write both."
    elif not bell and not even and abs(mass - 1) > 1e-6:
        fact = f"only {mass:g} of the readings have a place."
        yield at, fact, "Write at and spread, or low and high, or zero and open that sum to 1."


def _healthy(reading: ReadingKind) -> Found:
    healthy = reading.healthy
    if reading.relative and healthy is None:
        yield (), "a relative reading has no span of healthy levels.", "Write healthy = { low, high, source }."
    if healthy is None:
        return
    if not reading.relative:
        fact = "only a relative reading has a span of healthy levels."
        yield ("healthy",), fact, "Drop it, or write relative = true."
    kind = kinds().get(reading.quantity)
    if not 0 < healthy.low < healthy.high:
        fact = f"healthy levels from {healthy.low:g} to {healthy.high:g}."
        yield ("healthy",), fact, "Write low over 0 and under high."
    elif kind is not None and not kind.usual[0] <= healthy.low < healthy.high <= kind.usual[1]:
        usual = f"{kind.usual[0]:g} to {kind.usual[1]:g}"
        fact = (
            f"healthy levels from {healthy.low:g} to {healthy.high:g} {kind.base} leave the usual {usual} {kind.base}."
        )
        yield ("healthy",), fact, f"Write them in {kind.base}."


def codes_are_whole(library: Library, where: Where) -> list[Problem]:
    """A code stands on a ladder or levels, and says at every level how likely it is set."""
    problems = []
    for code in library.codes.values():
        found = [*stand_mistakes(code), *level_mistakes(library, code, code.set, "set")]
        for level, chance in code.set.items():
            if not 0 <= chance <= 1:
                found.append((("set", level), f"a chance of {chance:g}.", "Write a number from 0 to 1."))
        problems += [where.problem("code", code.id, keys, fact, fix) for keys, fact, fix in found]
    return problems


def level_mistakes(library: Library, kind: ReadingKind | Code, given: Mapping[str, object], key: str) -> Found:
    """Levels that are not there, and levels (or steps) of the ladder that nothing is said about."""
    ladder = library.ladders.get(kind.on)
    if kind.on and ladder is None:
        return
    if ladder is None:
        ladder = Ladder(id=kind.id, name="", place="", levels=kind.levels)
    yield from key_mistakes(ladder, given, (key,))
    if ladder.combine == "sum":
        said = {step for text in given for step in steps_of(text) or ()}
        missing = [str(step) for step in range(ladder.low, ladder.high + 1) if step not in said]
    else:
        missing = [level for level in ladder.levels if level not in given]
    if missing:
        yield (key,) if given else (), f"`{key}` says nothing about {_quoted(missing)}.", "Add it."


def _quoted(names: list[str]) -> str:
    return ", ".join(f"'{name}'" for name in names)
